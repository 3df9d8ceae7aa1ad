//! How many rows there are and a sum over what they hold, kept in a row of its own.
//!
//! Recovering its log, the engine takes a damaged place for the end of a segment and goes on with the next: rows that lay
//! behind it are then missing, or as they were before, and nothing says so. So every group of commits also writes the tally of all
//! rows that there are after it, and opening counts them again.

use sha2::{Digest, Sha256};
use sled::{Batch, Db, IVec};
use std::fmt;

/// The tally, in the same batch of the engine as the group.
pub(super) const TALLY_ROW: &[u8] = b"\0tally";

/// First byte of rows that are not counted: the store's own.
const OWN: u8 = 0;

/// Rows and their sum. Sums do not know the order, so that one row can be taken out and another put in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Tally {
    rows: u64,
    sum: u64,
}

impl Tally {
    /// Of all rows of the engine that there are.
    pub(super) fn of(db: &Db) -> sled::Result<Self> {
        let mut tally = Self::default();
        for row in db.iter() {
            let (key, value) = row?;
            if key.first() != Some(&OWN) {
                tally.add(&key, &value);
            }
        }
        Ok(tally)
    }

    fn add(&mut self, key: &[u8], value: &[u8]) {
        self.rows = self.rows.wrapping_add(1);
        self.sum = self.sum.wrapping_add(print_of(key, value));
    }

    fn take(&mut self, key: &[u8], value: &[u8]) {
        self.rows = self.rows.wrapping_sub(1);
        self.sum = self.sum.wrapping_sub(print_of(key, value));
    }

    /// As it is stored: rows, sum.
    pub(super) fn encode(self) -> [u8; 16] {
        (u128::from(self.rows) << 64 | u128::from(self.sum)).to_be_bytes()
    }

    /// `None`: not what [`encode`](Self::encode) writes.
    pub(super) fn parse(stored: &[u8]) -> Option<Self> {
        let (rows, sum) = stored.split_first_chunk::<8>()?;
        Some(Self {
            rows: u64::from_be_bytes(*rows),
            sum: u64::from_be_bytes(sum.try_into().ok()?),
        })
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} rows, sum {:016x}", self.rows, self.sum)
    }
}

/// What one row adds: the first bytes of its SHA-256. The length keeps the end of the key apart from the beginning of the value.
fn print_of(key: &[u8], value: &[u8]) -> u64 {
    let digest = Sha256::new()
        .chain_update((key.len() as u64).to_be_bytes())
        .chain_update(key)
        .chain_update(value)
        .finalize();
    let first = digest.iter().take(8);
    first.fold(0, |print, byte| print << 8 | u64::from(*byte))
}

/// Changes of the engine that keep count.
pub(super) struct Changes<'a> {
    db: &'a Db,
    batch: Batch,
    tally: Tally,
}

impl<'a> Changes<'a> {
    pub(super) fn new(db: &'a Db, tally: Tally) -> Self {
        Self {
            db,
            batch: Batch::default(),
            tally,
        }
    }

    /// What there is before these changes.
    pub(super) fn before(&self, key: &[u8]) -> sled::Result<Option<IVec>> {
        self.db.get(key)
    }

    /// Each key is changed once in a batch.
    pub(super) fn insert(&mut self, key: Vec<u8>, value: impl Into<IVec>) -> sled::Result<()> {
        let value = value.into();
        self.forget(&key)?;
        self.tally.add(&key, &value);
        self.batch.insert(key, value);
        Ok(())
    }

    pub(super) fn remove(&mut self, key: Vec<u8>) -> sled::Result<()> {
        self.forget(&key)?;
        self.batch.remove(key);
        Ok(())
    }

    fn forget(&mut self, key: &[u8]) -> sled::Result<()> {
        if let Some(before) = self.before(key)? {
            self.tally.take(key, &before);
        }
        Ok(())
    }

    /// The batch, its tally in it.
    pub(super) fn done(mut self) -> (Batch, Tally) {
        self.batch.insert(TALLY_ROW, &self.tally.encode());
        (self.batch, self.tally)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tally_forgets_nothing_and_knows_no_order() {
        let rows = [("a", "1"), ("b", "2"), ("ab", ""), ("c", "1")];
        let of = |rows: &[(&str, &str)]| {
            let mut tally = Tally::default();
            for (key, value) in rows {
                tally.add(key.as_bytes(), value.as_bytes());
            }
            tally
        };
        let all = of(&rows);
        let mut turned = rows;
        turned.reverse();
        assert_eq!(of(&turned), all);
        for (index, (key, value)) in rows.into_iter().enumerate() {
            let mut without = all;
            without.take(key.as_bytes(), value.as_bytes());
            let others: Vec<_> = rows
                .iter()
                .copied()
                .filter(|row| *row != rows[index])
                .collect();
            assert_eq!(without, of(&others));
            let mut other = without;
            other.add(key.as_bytes(), b"3");
            assert_ne!(other, all);
        }
        // What is at the end of a key or at the beginning of a value is not the same.
        assert_ne!(of(&[("a", "b1")]), of(&[("ab", "1")]));
        // Two rows that change values.
        assert_ne!(of(&[("a", "1"), ("b", "2")]), of(&[("a", "2"), ("b", "1")]));
    }

    #[test]
    fn what_is_stored_is_read_and_nothing_else() {
        let mut tally = Tally::default();
        tally.add(b"key", b"value");
        assert_eq!(Tally::parse(&tally.encode()), Some(tally));
        assert_eq!(Tally::parse(&tally.encode()[..15]), None);
        assert_eq!(Tally::parse(&[0; 17]), None);
    }
}

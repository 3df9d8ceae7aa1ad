//! How large a row may be.

use crate::{Batch, StoreError, Table};

/// The longest key that any store takes. The embedded engine keeps up to 257 keys in one page of
/// its index, and a page must stay below 128 KiB to be written in one piece with its log.
pub const KEY_CEILING_BYTES: usize = 400;

/// The largest value that any store takes.
pub const VALUE_CEILING_BYTES: usize = 256 << 20;

/// Bounds on a row. A commit beyond them is refused and applies nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Longest key, 1 to [`KEY_CEILING_BYTES`].
    pub max_key_bytes: usize,
    /// Largest value, 1 to [`VALUE_CEILING_BYTES`].
    pub max_value_bytes: usize,
}

impl Default for Limits {
    /// Keys to 400 bytes, values to 32 MiB (a plugin is a few).
    fn default() -> Self {
        Self {
            max_key_bytes: KEY_CEILING_BYTES,
            max_value_bytes: 32 << 20,
        }
    }
}

impl Limits {
    /// Refuses a batch with a key or value that is too large.
    pub(crate) fn check(self, batch: &Batch) -> Result<(), StoreError> {
        let expected = batch
            .expectations
            .iter()
            .map(|e| (e.table, &e.key, e.value.as_deref()));
        let written = batch
            .writes
            .iter()
            .map(|w| (w.table, &w.key, w.value.as_deref()));
        for (table, key, value) in expected.chain(written) {
            within(table, "key", key.len(), self.max_key_bytes)?;
            within(
                table,
                "value",
                value.map_or(0, <[u8]>::len),
                self.max_value_bytes,
            )?;
        }
        Ok(())
    }
}

fn within(
    table: Table,
    what: &'static str,
    bytes: usize,
    limit_bytes: usize,
) -> Result<(), StoreError> {
    if bytes <= limit_bytes {
        return Ok(());
    }
    Err(StoreError::TooLarge {
        table,
        what,
        bytes,
        limit_bytes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_at_the_limit_passes_and_one_byte_more_is_named() {
        let limits = Limits {
            max_key_bytes: 3,
            max_value_bytes: 5,
        };
        let put = |key: &[u8], value: &[u8]| Batch::new().put(Table::Duty, key, value);
        assert!(limits.check(&put(b"abc", b"12345")).is_ok());
        let error = limits.check(&put(b"abcd", b"")).map_err(|e| e.to_string());
        assert!(error.is_err_and(|text| text.contains("key in Duty has 4 bytes, the limit is 3")));
        let error = limits
            .check(&put(b"", b"123456"))
            .map_err(|e| e.to_string());
        assert!(
            error.is_err_and(|text| text.contains("value in Duty has 6 bytes, the limit is 5"))
        );
        let expectation = Batch::new().expect_absent(Table::Duty, b"abcd".to_vec());
        assert!(limits.check(&expectation).is_err());
    }
}

//! The embedded engine: one process, one folder.

mod flusher;
mod mark;
mod open;
mod rows;

pub use open::{OpenError, SledOptions};

use crate::{Batch, Limits, Row, Store, StoreError, Table, keys};
use open::Opened;
use std::sync::{RwLock, RwLockReadGuard};

/// Tables in a folder on a local disk, in one sled tree, with group commit.
///
/// A commit checks its expectations and applies its changes under one lock and in one batch of the
/// engine, then waits for the flush thread, which makes durable at once all that was applied before
/// it began. So a lone writer pays one sync of the disk for each commit, and many writers share it. Reads
/// see commits that are applied and not yet durable; commit an empty batch before acknowledging
/// what was read.
///
/// After the engine or the disk has failed once, every waiting and every later commit gets the
/// reason, and none is acknowledged until the folder is opened again. Reads go on.
///
/// Dropping it flushes, joins the flush thread and lets go of the folder.
///
/// What it cannot promise: that a disk which reports a sync and has not done it keeps anything; that
/// the engine's reuse of old parts of its log is safe on a disk that reorders writes between syncs in
/// a power cut. Such a loss is found on opening when it reaches acknowledged commits.
#[derive(Debug)]
pub struct SledStore {
    opened: Opened,
    /// Held to write by the commit that changes rows, so that readers see whole batches.
    gate: RwLock<()>,
    limits: Limits,
}

impl SledStore {
    /// Opens a folder, or makes a store in it if it is not there or empty.
    ///
    /// # Errors
    /// [`OpenError`]: options out of range, a folder that is open elsewhere, foreign, of
    /// another format, damaged, or that the system refuses.
    pub fn open(options: &SledOptions) -> Result<Self, OpenError> {
        let opened = open::open(options)?;
        Ok(Self {
            opened,
            gate: RwLock::new(()),
            limits: options.limits,
        })
    }

    /// Bytes that the folder takes on disk: the log with its free parts.
    ///
    /// # Errors
    /// [`StoreError::Engine`] when the folder cannot be read.
    pub fn size_on_disk(&self) -> Result<u64, StoreError> {
        self.opened.db.size_on_disk().map_err(rows::failed)
    }

    fn read(&self) -> Result<RwLockReadGuard<'_, ()>, StoreError> {
        self.gate.read().map_err(|_| panicked())
    }

    /// Makes a batch visible and gives its number.
    fn apply(&self, batch: &Batch) -> Result<u64, StoreError> {
        let _alone = self.gate.write().map_err(|_| panicked())?;
        self.opened.flusher.check()?;
        self.expect(batch)?;
        let changes = rows::changes(&self.opened.db, &batch.writes)?;
        // A failure half-way leaves some of the batch visible and none of it durable.
        self.opened
            .db
            .apply_batch(changes)
            .map_err(|e| self.opened.flusher.fail(&format!("write: {e}")))?;
        Ok(self.opened.flusher.applied())
    }

    fn expect(&self, batch: &Batch) -> Result<(), StoreError> {
        for expectation in &batch.expectations {
            let (table, key) = (expectation.table, &expectation.key);
            if rows::get(&self.opened.db, table, key)? != expectation.value {
                return Err(StoreError::Conflict {
                    table,
                    key: key.clone(),
                });
            }
        }
        Ok(())
    }
}

fn panicked() -> StoreError {
    StoreError::Engine("the engine panicked during a commit; open the store again".into())
}

impl Store for SledStore {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        let _whole = self.read()?;
        rows::get(&self.opened.db, table, key)
    }

    fn scan(
        &self,
        table: Table,
        prefix: &[u8],
        after: Option<&[u8]>,
        limit: usize,
    ) -> Result<Vec<Row>, StoreError> {
        let Some(range) = keys::after(table, prefix, after) else {
            return Ok(Vec::new());
        };
        let _whole = self.read()?;
        let db = &self.opened.db;
        let found = db.range(range).take(limit);
        found
            .map(|row| rows::row(db, table, &row.map_err(rows::failed)?))
            .collect()
    }

    fn last(
        &self,
        table: Table,
        prefix: &[u8],
        up_to: Option<&[u8]>,
    ) -> Result<Option<Row>, StoreError> {
        let Some(range) = keys::up_to(table, prefix, up_to) else {
            return Ok(None);
        };
        let _whole = self.read()?;
        let db = &self.opened.db;
        let found = db.range(range).next_back();
        found
            .map(|row| rows::row(db, table, &row.map_err(rows::failed)?))
            .transpose()
    }

    fn commit(&self, batch: &Batch) -> Result<(), StoreError> {
        self.limits.check(batch)?;
        let number = if batch.writes.is_empty() {
            let _whole = self.read()?;
            self.opened.flusher.check()?;
            self.expect(batch)?;
            self.opened.flusher.newest()
        } else {
            self.apply(batch)?
        };
        self.opened.flusher.wait(number)
    }
}

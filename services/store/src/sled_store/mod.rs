//! The embedded engine: one process, one folder.

mod log;
mod mark;
mod open;
mod rows;
mod tally;
mod writer;

pub use open::{OpenError, SledOptions};

use crate::{Batch, Limits, Row, Store, StoreError, Table, keys};
use open::Opened;
use std::{fmt, sync::RwLockReadGuard};

/// Tables in a folder on a local disk, in one sled tree, with group commit.
///
/// A commit waits for the writer thread, which takes all that wait, checks the expectations of each in
/// turn, applies those that hold in one batch of the engine, syncs the disk once, and then answers. So
/// a lone caller pays one sync for each commit, and many share it. Reads and scans see whole batches, and
/// may see one that is not yet durable: commit an empty batch before acknowledging what was read.
///
/// After the engine or the disk has failed once, every waiting and every later commit gets the
/// reason, and none is acknowledged until the folder is opened again. Reads go on.
///
/// Dropping it joins the writer thread and lets go of the folder.
///
/// What it cannot promise: that a disk which reports a sync and has not done it keeps anything; that
/// the engine's reuse of old parts of its log is safe on a disk that reorders writes between syncs in
/// a power cut. A log that ends before the newest acknowledged commit, or whose rows are not those that were committed, is not
/// opened: opening reads all rows.
pub struct SledStore {
    opened: Opened,
    limits: Limits,
}

impl fmt::Debug for SledStore {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SledStore")
            .field("limits", &self.limits)
            .finish_non_exhaustive()
    }
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
        let panicked = "the engine panicked during a write; open the store again";
        self.opened
            .gate
            .read()
            .map_err(|_| StoreError::Engine(panicked.into()))
    }
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
        self.opened.writer.commit(batch)
    }
}

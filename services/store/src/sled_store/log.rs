//! The writer's side of the engine.

use super::{
    mark::Mark,
    rows,
    tally::{Changes, Tally},
    writer::{Log, Writes},
};
use crate::{StoreError, Table};
use std::{
    fs::File,
    sync::{Arc, RwLock},
};

/// The number of the newest group, in the same batch of the engine as the group.
pub(super) const NEWEST_ROW: &[u8] = b"\0newest";

/// The engine, its log as a file, and the mark.
#[derive(Debug)]
pub(super) struct SledLog {
    pub(super) db: sled::Db,
    pub(super) file: File,
    pub(super) mark: Mark,
    /// The number of the newest group.
    pub(super) newest: u64,
    /// Of all rows.
    pub(super) tally: Tally,
    /// Held to write while rows change, so that readers see whole batches.
    pub(super) gate: Arc<RwLock<()>>,
}

impl Log for SledLog {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        rows::get(&self.db, table, key)
    }

    fn apply(&mut self, writes: &Writes<'_>) -> Result<(), String> {
        let mut changes = Changes::new(&self.db, self.tally);
        rows::change(&mut changes, writes).map_err(|e| format!("read: {e}"))?;
        let (mut batch, tally) = changes.done();
        self.tally = tally;
        self.newest += 1;
        batch.insert(NEWEST_ROW, &self.newest.to_be_bytes());
        let _alone = self
            .gate
            .write()
            .map_err(|_| "the engine panicked before")?;
        self.db
            .apply_batch(batch)
            .map_err(|e| format!("write: {e}"))
    }

    fn flush(&mut self) -> Result<(), String> {
        self.db.flush().map_err(|e| format!("flush: {e}"))?;
        // On Linux the engine stops at the page cache's write-back, which leaves data in the cache of
        // the disk and the file's length in memory: enough for a crash, not for a power cut.
        self.file
            .sync_data()
            .map_err(|e| format!("sync of the log: {e}"))?;
        self.mark
            .write(self.newest)
            .map_err(|e| format!("write of the mark: {e}"))
    }
}

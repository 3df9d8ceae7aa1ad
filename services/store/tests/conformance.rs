//! The engines of this crate meet the checks for every engine.

use ringland_store::{MemoryStore, SledOptions, SledStore, Store, StoreError, Table, conformance};
use std::path::Path;

#[test]
fn memory_conforms() -> Result<(), StoreError> {
    conformance::check_all(&|| Box::new(MemoryStore::new()))
}

/// A store and its folder, which goes when the store is closed.
struct Temporary {
    store: SledStore,
    folder: tempfile::TempDir,
}

impl Temporary {
    fn open() -> Self {
        let folder = tempfile::tempdir().unwrap_or_else(|e| unreachable!("no folder: {e}"));
        let options = SledOptions {
            cache_bytes: 8 << 20,
            ..SledOptions::new(folder.path())
        };
        let store = SledStore::open(&options).unwrap_or_else(|e| unreachable!("no store: {e}"));
        Self { store, folder }
    }
}

impl Drop for Temporary {
    // The engine keeps what it writes beside its log unsynced, so nothing may be large enough.
    fn drop(&mut self) {
        assert_eq!(
            files(&self.folder.path().join("blobs")),
            0,
            "pages beside the log"
        );
    }
}

fn files(folder: &Path) -> usize {
    std::fs::read_dir(folder).map_or(0, Iterator::count)
}

impl Store for Temporary {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        self.store.get(table, key)
    }

    fn scan(
        &self,
        table: Table,
        prefix: &[u8],
        after: Option<&[u8]>,
        limit: usize,
    ) -> Result<Vec<ringland_store::Row>, StoreError> {
        self.store.scan(table, prefix, after, limit)
    }

    fn last(
        &self,
        table: Table,
        prefix: &[u8],
        up_to: Option<&[u8]>,
    ) -> Result<Option<ringland_store::Row>, StoreError> {
        self.store.last(table, prefix, up_to)
    }

    fn commit(&self, batch: &ringland_store::Batch) -> Result<(), StoreError> {
        self.store.commit(batch)
    }
}

#[test]
fn sled_conforms() -> Result<(), StoreError> {
    conformance::check_all(&|| Box::new(Temporary::open()))
}

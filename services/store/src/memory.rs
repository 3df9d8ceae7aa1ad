//! Tables in memory, for tests of rules that need no disk.

use crate::{Batch, Row, Store, StoreError, Table};
use std::{
    collections::BTreeMap,
    ops::Bound,
    sync::{Mutex, MutexGuard, PoisonError},
};

type Tables = BTreeMap<(Table, Vec<u8>), Vec<u8>>;

/// A store that forgets everything when it is dropped.
#[derive(Debug, Default)]
pub struct MemoryStore {
    tables: Mutex<Tables>,
}

impl MemoryStore {
    /// An empty store.
    pub fn new() -> Self {
        Self::default()
    }

    // A panic elsewhere cannot leave the map half-changed: commits check first and then write.
    fn tables(&self) -> MutexGuard<'_, Tables> {
        self.tables.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Store for MemoryStore {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.tables().get(&(table, key.to_vec())).cloned())
    }

    fn scan(
        &self,
        table: Table,
        prefix: &[u8],
        after: Option<&[u8]>,
        limit: usize,
    ) -> Result<Vec<Row>, StoreError> {
        let start = match after {
            Some(key) if key >= prefix => Bound::Excluded((table, key.to_vec())),
            _ => Bound::Included((table, prefix.to_vec())),
        };
        let tables = self.tables();
        let rows = tables
            .range((start, Bound::Unbounded))
            .take_while(|((t, key), _)| *t == table && key.starts_with(prefix))
            .take(limit)
            .map(|((_, key), value)| (key.clone(), value.clone()));
        Ok(rows.collect())
    }

    fn last(
        &self,
        table: Table,
        prefix: &[u8],
        up_to: Option<&[u8]>,
    ) -> Result<Option<Row>, StoreError> {
        let tables = self.tables();
        let row = tables
            .range((table, prefix.to_vec())..)
            .take_while(|((t, key), _)| {
                *t == table
                    && key.starts_with(prefix)
                    && up_to.is_none_or(|limit| key.as_slice() <= limit)
            })
            .last()
            .map(|((_, key), value)| (key.clone(), value.clone()));
        Ok(row)
    }

    fn commit(&self, batch: &Batch) -> Result<(), StoreError> {
        let mut tables = self.tables();
        for expectation in &batch.expectations {
            let key = (expectation.table, expectation.key.clone());
            if tables.get(&key) != expectation.value.as_ref() {
                return Err(StoreError::Conflict { table: key.0, key: key.1 });
            }
        }
        for write in &batch.writes {
            let key = (write.table, write.key.clone());
            match &write.value {
                Some(value) => tables.insert(key, value.clone()),
                None => tables.remove(&key),
            };
        }
        Ok(())
    }
}

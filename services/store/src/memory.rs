//! Tables in memory, for tests of rules that need no disk.

use crate::{Batch, Limits, Row, Store, StoreError, Table, keys};
use std::{
    collections::BTreeMap,
    sync::{Mutex, MutexGuard, PoisonError},
};

/// Values by table and key, in one order.
type Rows = BTreeMap<Vec<u8>, Vec<u8>>;

/// A store that forgets everything when it is dropped. It has the default [`Limits`].
#[derive(Debug, Default)]
pub struct MemoryStore {
    rows: Mutex<Rows>,
}

impl MemoryStore {
    /// An empty store.
    pub fn new() -> Self {
        Self::default()
    }

    // A panic elsewhere cannot leave the map half-changed: commits check first and then write.
    fn rows(&self) -> MutexGuard<'_, Rows> {
        self.rows.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A row without its table's number.
fn row((flat, value): (&Vec<u8>, &Vec<u8>)) -> Row {
    (flat.iter().skip(1).copied().collect(), value.clone())
}

impl Store for MemoryStore {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.rows().get(&keys::flat(table, key)).cloned())
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
        Ok(self.rows().range(range).take(limit).map(row).collect())
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
        Ok(self.rows().range(range).next_back().map(row))
    }

    fn commit(&self, batch: &Batch) -> Result<(), StoreError> {
        Limits::default().check(batch)?;
        let mut rows = self.rows();
        for expectation in &batch.expectations {
            let flat = keys::flat(expectation.table, &expectation.key);
            if rows.get(&flat) != expectation.value.as_ref() {
                return Err(StoreError::Conflict {
                    table: expectation.table,
                    key: expectation.key.clone(),
                });
            }
        }
        for write in &batch.writes {
            let flat = keys::flat(write.table, &write.key);
            match &write.value {
                Some(value) => rows.insert(flat, value.clone()),
                None => rows.remove(&flat),
            };
        }
        Ok(())
    }
}

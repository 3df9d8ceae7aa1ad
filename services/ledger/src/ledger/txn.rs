//! Changes: read, decide, commit everything or nothing, try again when another writer was faster,
//! and answer a request id that was seen before as it was answered then.

use super::Ledger;
use crate::{FieldViolation, LedgerError, Reason, Resource, keys, rows};
use ringland_host::contract::Digest;
use ringland_store::{Batch, Store, StoreError, Table};
use serde::{Deserialize, Serialize, de::DeserializeOwned};

/// A change in the making.
pub(crate) struct Txn<'a> {
    store: &'a dyn Store,
    batch: Batch,
}

impl<'a> Txn<'a> {
    pub(crate) fn new(store: &'a dyn Store) -> Self {
        Self {
            store,
            batch: Batch::new(),
        }
    }

    /// A row that must still be the same when the change is committed.
    pub(crate) fn read<T: DeserializeOwned>(
        &mut self,
        table: Table,
        key: &[u8],
    ) -> Result<Option<T>, LedgerError> {
        let value = self.read_bytes(table, key)?;
        value.as_deref().map(rows::decode).transpose()
    }

    /// The bytes of a row that must still be the same when the change is committed.
    pub(crate) fn read_bytes(
        &mut self,
        table: Table,
        key: &[u8],
    ) -> Result<Option<Vec<u8>>, LedgerError> {
        let value = self.store.get(table, key)?;
        self.expect(table, key, value.clone());
        Ok(value)
    }

    /// Requires a value at commit. The first expectation of a key stays.
    pub(crate) fn expect(&mut self, table: Table, key: &[u8], value: Option<Vec<u8>>) {
        let known = self
            .batch
            .expectations
            .iter()
            .any(|e| e.table == table && e.key == key);
        if !known {
            self.batch.expectations.push(ringland_store::Expectation {
                table,
                key: key.to_vec(),
                value,
            });
        }
    }

    pub(crate) fn put<T: Serialize>(
        &mut self,
        table: Table,
        key: Vec<u8>,
        row: &T,
    ) -> Result<(), LedgerError> {
        let value = rows::encode(row)?;
        self.put_bytes(table, key, value);
        Ok(())
    }

    pub(crate) fn put_bytes(&mut self, table: Table, key: Vec<u8>, value: Vec<u8>) {
        self.write(table, key, Some(value));
    }

    pub(crate) fn delete(&mut self, table: Table, key: Vec<u8>) {
        self.write(table, key, None);
    }

    // The last write of a key counts.
    fn write(&mut self, table: Table, key: Vec<u8>, value: Option<Vec<u8>>) {
        let writes = &mut self.batch.writes;
        match writes.iter_mut().find(|w| w.table == table && w.key == key) {
            Some(write) => write.value = value,
            None => writes.push(ringland_store::Write { table, key, value }),
        }
    }

    /// What this change will have written to a key, if anything.
    pub(crate) fn written(&self, table: Table, key: &[u8]) -> Option<&[u8]> {
        let write = self
            .batch
            .writes
            .iter()
            .find(|w| w.table == table && w.key == key)?;
        write.value.as_deref()
    }

    pub(crate) fn commit(self) -> Result<(), StoreError> {
        self.store.commit(&self.batch)
    }
}

/// The answer to a request id.
#[derive(Serialize, Deserialize)]
struct Answer {
    request: Digest,
    answer: Vec<u8>,
}

/// A call that may be sent again.
pub(crate) struct Call<'a> {
    /// Name of the method: request ids of different methods are different.
    pub(crate) method: &'static str,
    /// Empty: none.
    pub(crate) request_id: &'a str,
    /// Digest of everything that the call says.
    pub(crate) content: Digest,
}

impl<'a> Call<'a> {
    /// Checks the id and takes the digest of the content.
    pub(crate) fn new<T: Serialize>(
        method: &'static str,
        request_id: &'a str,
        content: &T,
    ) -> Result<Self, LedgerError> {
        if request_id.len() > 64 || !request_id.chars().all(|c| c.is_ascii_graphic()) {
            return Err(LedgerError::invalid(FieldViolation::new(
                "request_id",
                &format!("{request_id:?}"),
                "1 to 64 visible ASCII characters",
                "choose a random one, such as a UUID",
            )));
        }
        let content = rows::digest_of(&[&rows::encode(content)?]);
        Ok(Self {
            method,
            request_id,
            content,
        })
    }

    fn key(&self) -> Option<Vec<u8>> {
        (!self.request_id.is_empty())
            .then(|| keys::with(&[self.method], self.request_id.as_bytes()))
    }
}

impl Ledger {
    /// Runs a change until it is committed; true when the answer is an earlier one.
    pub(crate) fn change<T: Serialize + DeserializeOwned>(
        &self,
        call: &Call<'_>,
        mut change: impl FnMut(&mut Txn<'_>) -> Result<T, LedgerError>,
    ) -> Result<(T, bool), LedgerError> {
        let mut attempt = 1;
        loop {
            if let Some(answer) = self.earlier_answer(call)? {
                return Ok((answer, true));
            }
            let mut txn = Txn::new(&*self.store);
            let answer = match change(&mut txn) {
                Ok(answer) => answer,
                // The same request, sent twice at once, may have been done by now.
                Err(error) => {
                    return match self.earlier_answer(call)? {
                        Some(answer) => Ok((answer, true)),
                        None => Err(error),
                    };
                }
            };
            if let Some(key) = call.key() {
                txn.expect(Table::Requests, &key, None);
                let row = Answer {
                    request: call.content,
                    answer: rows::encode(&answer)?,
                };
                txn.put(Table::Requests, key, &row)?;
            }
            match txn.commit() {
                Ok(()) => return Ok((answer, false)),
                Err(StoreError::Conflict { .. }) if attempt < self.options.attempts => attempt += 1,
                Err(error) => return Err(error.into()),
            }
        }
    }

    fn earlier_answer<T: DeserializeOwned>(
        &self,
        call: &Call<'_>,
    ) -> Result<Option<T>, LedgerError> {
        let Some(key) = call.key() else {
            return Ok(None);
        };
        let Some(bytes) = self.store.get(Table::Requests, &key)? else {
            return Ok(None);
        };
        let row: Answer = rows::decode(&bytes)?;
        if row.request != call.content {
            return Err(LedgerError::AlreadyExists {
                reason: Reason::RequestIdReused,
                resource: Resource {
                    kind: "request",
                    name: call.request_id.into(),
                },
                message: format!(
                    "request_id {:?} was used for another {} with other content; a new request needs a new id, and the same request the same content",
                    call.request_id, call.method
                ),
            });
        }
        // What was read may not be on disk yet: the first sender may still wait for that.
        self.store.commit(&Batch::new())?;
        rows::decode(&row.answer).map(Some)
    }
}

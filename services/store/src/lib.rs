//! Durable tables behind the [`Store`] trait.
//!
//! This crate knows keys, bytes and durability. It never knows what the bytes mean, who asks for them,
//! or how rows of different tables belong together; it has no clock, no network of its own and no
//! thread but the one that flushes.
//!
//! One engine is one module here. Every engine meets the checks of `conformance` (feature of that
//! name); a new one adds its module and one test that calls them.
//!
//! - [`MemoryStore`]: for tests of rules that need no disk.
//! - `SledStore` (feature `sled`, on by default): embedded, one process on one folder.

mod batch;
#[cfg(feature = "conformance")]
pub mod conformance;
mod copy;
mod error;
mod keys;
mod limits;
mod memory;
#[cfg(feature = "sled")]
mod sled_store;

pub use batch::{Batch, Expectation, Table, Write};
pub use copy::copy_rows;
pub use error::StoreError;
pub use limits::{KEY_CEILING_BYTES, Limits, VALUE_CEILING_BYTES};
pub use memory::MemoryStore;
#[cfg(feature = "sled")]
pub use sled_store::{OpenError, SledOptions, SledStore};

/// A key and its value.
pub type Row = (Vec<u8>, Vec<u8>);

/// Ordered tables of bytes with atomic, conditional, durable commits. Calls block; they may be
/// made from any number of threads.
pub trait Store: Send + Sync {
    /// The value of a key.
    ///
    /// # Errors
    /// [`StoreError::Engine`] when the engine cannot read.
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError>;

    /// Up to `limit` rows whose keys start with `prefix`, in key order, after the key `after` if given.
    ///
    /// # Errors
    /// [`StoreError::Engine`] when the engine cannot read.
    fn scan(
        &self,
        table: Table,
        prefix: &[u8],
        after: Option<&[u8]>,
        limit: usize,
    ) -> Result<Vec<Row>, StoreError>;

    /// The last row whose key starts with `prefix` and is at most `up_to` (if given).
    ///
    /// # Errors
    /// [`StoreError::Engine`] when the engine cannot read.
    fn last(
        &self,
        table: Table,
        prefix: &[u8],
        up_to: Option<&[u8]>,
    ) -> Result<Option<Row>, StoreError>;

    /// Applies all of a batch or nothing, and returns once it is on disk together with everything
    /// that was visible before. An empty batch is a barrier: what was read is durable when it returns.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] when an expectation does not hold (nothing is applied),
    /// [`StoreError::TooLarge`] when a row is beyond the limits (nothing is applied),
    /// [`StoreError::Engine`] when the engine cannot write: the batch may or may not be applied,
    /// and must not be acknowledged.
    fn commit(&self, batch: &Batch) -> Result<(), StoreError>;
}

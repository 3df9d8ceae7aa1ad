//! What can go wrong in a store.

use crate::Table;

/// Why a store could not answer.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// An expectation of a batch does not hold; nothing was applied.
    #[error(
        "the expected value of a row in {table:?} is not there: somebody else changed it; read again and retry"
    )]
    Conflict {
        /// The table.
        table: Table,
        /// The key.
        key: Vec<u8>,
    },
    /// A row is larger than the store's limits; nothing was applied, and trying again is of no use.
    #[error(
        "a {what} in {table:?} has {bytes} bytes, the limit is {limit_bytes}: nothing was applied; send less or raise max_{what}_bytes"
    )]
    TooLarge {
        /// The table.
        table: Table,
        /// `key` or `value`.
        what: &'static str,
        /// Its size.
        bytes: usize,
        /// The largest that is taken.
        limit_bytes: usize,
    },
    /// The engine failed.
    #[error("store: {0}")]
    Engine(String),
}

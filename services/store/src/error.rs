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
    /// The engine failed.
    #[error("store: {0}")]
    Engine(String),
}

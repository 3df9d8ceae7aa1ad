//! The ledger as a whole.

use crate::{ComponentName, LedgerError};

/// Counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LedgerStatus {
    /// Units.
    pub units: i64,
    /// Components.
    pub components: i64,
    /// Duty records.
    pub duty_records: i64,
    /// Stored predictions.
    pub predictions: i64,
}

/// How far a rebuild has come.
#[derive(Clone, Debug)]
pub struct RebuildProgress {
    /// The component just done.
    pub component: ComponentName,
    /// Components done.
    pub done: i64,
    /// Components to do.
    pub total: i64,
    /// Why it has no condition, if it failed.
    pub error: Option<LedgerError>,
}

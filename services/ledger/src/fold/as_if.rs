//! A component as it would be, had one duty record been another. Nothing is stored.

use super::{
    chain::{DUTY, StepKey, step_key},
    run::{Folded, Run},
};
use crate::{ComponentName, DutyRecordName, LedgerError, ledger::Ledger};
use jiff::Timestamp;
use ringland_host::contract::{Digest, DutyTable};

/// A duty record with another table than the ledger's.
pub(crate) struct Edited {
    pub(crate) record: DutyRecordName,
    pub(crate) start: Timestamp,
    pub(crate) duty: DutyTable,
}

impl Edited {
    /// Just before its place in a history.
    pub(super) fn key(&self) -> StepKey {
        step_key(self.start, DUTY, &[])
    }
}

impl Ledger {
    /// Folds a component from an edited record on, its mates with it. The chains of the ledger are read up to that
    /// record and stay as they are; the cost is that of the records since.
    pub(crate) fn fold_as_if(
        &self,
        component: &ComponentName,
        plugin: Digest,
        edited: &Edited,
    ) -> Result<Folded, LedgerError> {
        // What is stale in the ledger's own chain is mended first, so that the part before the record is good.
        self.fold(component, plugin)?;
        self.folding(component, |run| {
            run.edited = Some(edited);
            run.fold(component, plugin)
        })
    }
}

impl Run<'_> {
    /// The table of a record in this run.
    pub(super) fn table_of(
        &self,
        record: &DutyRecordName,
        start: Timestamp,
    ) -> Result<DutyTable, LedgerError> {
        match self.edited {
            Some(edited) if edited.record == *record => Ok(edited.duty.clone()),
            _ => self.ledger.duty_table(&record.parent(), start),
        }
    }
}

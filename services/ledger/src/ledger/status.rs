//! Counts, and rebuilding what is derived.

use super::{Ledger, places::UnitHead, txn::Call};
use crate::{
    Change, ComponentName, LedgerError, LedgerStatus, RebuildProgress, fold::state_prefix,
    inspect::observed_prefix, keys, predict::stored_predictions, rows,
};
use ringland_store::{Batch, Table};
use std::ops::ControlFlow;

const ROWS_AT_ONCE: usize = 500;

impl Ledger {
    /// Counts. The cost grows with the number of units and components, not with their histories.
    ///
    /// # Errors
    /// The store's.
    pub fn status(&self) -> Result<LedgerStatus, LedgerError> {
        let mut status = LedgerStatus::default();
        self.each_row(Table::Units, b"", |_, _| {
            status.units += 1;
            Ok(())
        })?;
        self.each_row(Table::Components, b"", |_, _| {
            status.components += 1;
            Ok(())
        })?;
        self.each_row(Table::Duty, &keys::prefix(&["h"]), |_, bytes| {
            status.duty_records += rows::decode::<UnitHead>(bytes)?.records.cast_signed();
            Ok(())
        })?;
        self.each_row(Table::Predictions, &keys::prefix(&["n"]), |_, bytes| {
            status.predictions += stored_predictions(bytes)?.cast_signed();
            Ok(())
        })?;
        Ok(status)
    }

    /// Drops everything derived (conditions and stored predictions) of a component or of all, and
    /// folds all duty again with the active models. Tells of each component when it is done, and
    /// stops when it is told to.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`] for the component, and the store's. What a component's own model
    /// cannot do is told as its progress and stops nobody else.
    pub fn rebuild_conditions(
        &self,
        component: Option<&ComponentName>,
        progress: &mut dyn FnMut(RebuildProgress) -> ControlFlow<()>,
    ) -> Result<(), LedgerError> {
        let mut todo = Vec::new();
        match component {
            Some(component) => todo.push(self.component_row(component)?.name),
            None => self.each_row(Table::Components, b"", |_, bytes| {
                todo.push(super::components::component_of(bytes)?.name);
                Ok(())
            })?,
        }
        // All are dropped before any is folded, so that none is made from a stale mate.
        for component in &todo {
            let _held = self.component_locks.hold([component]);
            self.drop_derived(component)?;
        }
        let total = i64::try_from(todo.len()).unwrap_or(i64::MAX);
        for (done, component) in (1..).zip(todo) {
            let error = self.fold_active(&component).err();
            match progress(RebuildProgress {
                component,
                done,
                total,
                error,
            }) {
                ControlFlow::Continue(()) => {}
                ControlFlow::Break(()) => break,
            }
        }
        (self.options.on_change)(match component {
            Some(component) => Change::Components(vec![component.clone()]),
            None => Change::Everything,
        });
        Ok(())
    }

    /// A chain without its state starts from nothing: the fold clears what rows are left of it.
    fn drop_derived(&self, component: &ComponentName) -> Result<(), LedgerError> {
        let call = Call::new("drop_derived", "", &())?;
        let limit = self.options.max_models_per_type;
        let ((), _) = self.change(&call, |txn| {
            Self::count_generation(txn, component)?;
            for (key, _) in
                self.store
                    .scan(Table::Conditions, &state_prefix(component), None, limit)?
            {
                txn.delete(Table::Conditions, key);
            }
            Ok(())
        })?;
        self.drop_rows(Table::Observations, &observed_prefix(component))?;
        self.drop_predictions(component)
    }

    /// Deletes every row below a prefix, a bounded number at a time.
    pub(crate) fn drop_rows(&self, table: Table, prefix: &[u8]) -> Result<(), LedgerError> {
        loop {
            let rows = self.store.scan(table, prefix, None, ROWS_AT_ONCE)?;
            if rows.is_empty() {
                return Ok(());
            }
            let batch = rows
                .into_iter()
                .fold(Batch::new(), |batch, (key, _)| batch.delete(table, key));
            self.store.commit(&batch)?;
        }
    }

    pub(super) fn each_row(
        &self,
        table: Table,
        prefix: &[u8],
        mut each: impl FnMut(&[u8], &[u8]) -> Result<(), LedgerError>,
    ) -> Result<(), LedgerError> {
        let mut after: Option<Vec<u8>> = None;
        loop {
            let rows = self
                .store
                .scan(table, prefix, after.as_deref(), ROWS_AT_ONCE)?;
            for (key, bytes) in &rows {
                each(key, bytes)?;
            }
            match rows.into_iter().last() {
                Some((key, _)) => after = Some(key),
                None => return Ok(()),
            }
        }
    }
}

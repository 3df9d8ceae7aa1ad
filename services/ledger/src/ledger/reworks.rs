//! Shop operations that reset part of the condition.

use super::{Ledger, components::expect_component, mask::check_text, txn::Call};
use crate::{
    ComponentName, FieldViolation, LedgerError, Page, PageRequest, Rework, ReworkName, keys, rows,
    violations::Violations,
};
use jiff::Timestamp;
use ringland_store::Table;
use std::collections::BTreeSet;

/// Below it are the reworks of a component, by time.
pub(crate) fn rework_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&[component.component()])
}

impl Ledger {
    /// Records a shop operation. It comes before duty that starts at the same time. The same
    /// operation at the same time is recorded once.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] when the model has no such operation,
    /// [`LedgerError::NotFound`], [`LedgerError::AlreadyExists`], and the store's.
    pub fn record_rework(
        &self,
        component: &ComponentName,
        operation: &str,
        rework_time: Timestamp,
        note: &str,
        request_id: &str,
    ) -> Result<Rework, LedgerError> {
        keys::check_time("rework_time", rework_time)?;
        let mut violations = Violations::default();
        check_text(&mut violations, "note", note, 1000);
        violations.into_result()?;
        let content = (component, operation, rework_time, note);
        let call = Call::new("record_rework", request_id, &content)?;
        let mut affected = BTreeSet::new();
        let (rework, replayed) = self.change(&call, |txn| {
            let row = expect_component(txn, component)?;
            self.check_operation(&row.component_type, operation)?;
            let id = format!(
                "{}-{}",
                keys::time_id(rework_time),
                operation.replace('_', "-")
            );
            let name = ReworkName::new(component.component(), &id).map_err(|_| {
                LedgerError::invalid(FieldViolation::new(
                    "operation",
                    operation,
                    "a shorter name on the model's card",
                    "ask the author of the model",
                ))
            })?;
            let mut key = rework_prefix(component);
            key.extend_from_slice(&keys::time(rework_time));
            key.extend_from_slice(operation.as_bytes());
            if txn.read_bytes(Table::Reworks, &key)?.is_some() {
                return Err(LedgerError::exists("rework", &name));
            }
            let rework = Rework {
                name,
                component: component.clone(),
                operation: operation.into(),
                rework_time,
                note: note.into(),
            };
            txn.put(Table::Reworks, key, &rework)?;
            affected = self.touch(txn, [component.clone()], rework_time)?;
            Ok(rework)
        })?;
        if !replayed {
            self.tell(affected);
        }
        Ok(rework)
    }

    /// Lists shop operations, oldest first.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_reworks(
        &self,
        component: &ComponentName,
        page: &PageRequest,
    ) -> Result<Page<Rework>, LedgerError> {
        self.component_row(component)?;
        let prefix = rework_prefix(component);
        let query = ["reworks", component.component()];
        self.page_of(page, &query, (Table::Reworks, &prefix), |_, row| {
            rows::decode(row).map(Some)
        })
    }

    fn check_operation(&self, component_type: &str, operation: &str) -> Result<(), LedgerError> {
        let plugin = self.require_active(component_type)?;
        let card = self.models.card(plugin);
        let card = card.map_err(|error| LedgerError::of_model(component_type, error))?;
        if card.operations.iter().any(|o| o.name == operation) {
            return Ok(());
        }
        let names: Vec<&str> = card.operations.iter().map(|o| o.name.as_str()).collect();
        let expected = match names.as_slice() {
            [] => format!("nothing: a {component_type} has no operations, it is replaced"),
            names => format!("one of {}", names.join(", ")),
        };
        Err(LedgerError::invalid(FieldViolation::new(
            "operation",
            &format!("{operation:?}"),
            &expected,
            "record what changes spec or surfaces as a revision",
        )))
    }
}

//! The end of a component.

use crate::{
    Component, ComponentName, Ledger, LedgerError, Reason, RetireComponent, Retirement, keys,
    ledger::{
        check_text, component_of, expect_component, installation_at,
        txn::{Call, Txn},
    },
    rows,
    violations::Violations,
};
use ringland_store::{Store, Table};
use std::collections::BTreeSet;

fn key(component: &ComponentName) -> Vec<u8> {
    component.component().as_bytes().to_vec()
}

/// The end of a component, if it has come.
pub(crate) fn retirement_of(
    store: &dyn Store,
    component: &ComponentName,
) -> Result<Option<Retirement>, LedgerError> {
    let bytes = store.get(Table::Retirements, &key(component))?;
    bytes.as_deref().map(rows::decode).transpose()
}

/// Refuses to install what has come to its end, now and at commit.
pub(crate) fn refuse_retired(
    txn: &mut Txn<'_>,
    component: &ComponentName,
) -> Result<(), LedgerError> {
    match txn.read::<Retirement>(Table::Retirements, &key(component))? {
        None => Ok(()),
        Some(retirement) => Err(retired(component, &retirement)),
    }
}

fn retired(component: &ComponentName, retirement: &Retirement) -> LedgerError {
    LedgerError::precondition(
        Reason::ComponentRetired,
        component,
        format!(
            "{component} was retired at {}; enter the part that takes its place as a component of its own",
            retirement.retire_time
        ),
    )
}

impl Ledger {
    /// Ends the life of a component: takes it out of its build, if it is in one, and keeps it from being installed again.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when it is
    /// retired already or the time is before its last installation, and the store's.
    pub fn retire_component(
        &self,
        retire: &RetireComponent,
        request_id: &str,
    ) -> Result<Component, LedgerError> {
        keys::check_time("retire_time", retire.retire_time)?;
        let mut violations = Violations::default();
        check_text(&mut violations, "note", &retire.note, 1000);
        check_text(&mut violations, "retired_by", &retire.retired_by, 255);
        let component = &retire.component;
        let kind = self.component_row(component)?.component_type;
        self.check_mechanism(&mut violations, &kind, retire)?;
        violations.into_result()?;
        let call = Call::new("retire_component", request_id, retire)?;
        let mut affected = BTreeSet::new();
        let (retired, replayed) = self.change(&call, |txn| {
            affected.clear();
            expect_component(txn, component)?;
            refuse_retired(txn, component)?;
            self.end_installation(txn, retire, &mut affected)?;
            let row = Retirement {
                retire_time: retire.retire_time,
                cause: retire.cause,
                mechanism: retire.mechanism.clone(),
                note: retire.note.clone(),
                retired_by: retire.retired_by.clone(),
                create_time: self.now(),
            };
            txn.put(Table::Retirements, key(component), &row)?;
            affected.insert(component.clone());
            let bytes = txn.read_bytes(Table::Components, component.component().as_bytes())?;
            let bytes = bytes.ok_or_else(|| LedgerError::not_found("component", component))?;
            Ok(Component {
                retirement: Some(row),
                ..component_of(&bytes)?
            })
        })?;
        if !replayed {
            self.tell(affected);
        }
        Ok(retired)
    }

    fn end_installation(
        &self,
        txn: &mut Txn<'_>,
        retire: &RetireComponent,
        affected: &mut BTreeSet<ComponentName>,
    ) -> Result<(), LedgerError> {
        let Some(last) = installation_at(&*self.store, &retire.component, None)? else {
            return Ok(());
        };
        if last.remove_time.is_none() {
            self.take_out(txn, &retire.component, retire.retire_time, affected)?;
            return Ok(());
        }
        if last
            .remove_time
            .is_some_and(|removed| retire.retire_time < removed)
        {
            let text = format!(
                "retire_time is {}, but {} was in {} until later; give a time at which it was out",
                retire.retire_time, retire.component, last.build
            );
            return Err(LedgerError::precondition(
                Reason::InstallationOverlap,
                &last.name,
                text,
            ));
        }
        Ok(())
    }

    fn check_mechanism(
        &self,
        violations: &mut Violations,
        kind: &str,
        retire: &RetireComponent,
    ) -> Result<(), LedgerError> {
        if retire.mechanism.is_empty() {
            return Ok(());
        }
        let card = self.card(self.require_active(kind)?)?;
        let names: Vec<&str> = card.mechanisms.iter().map(|m| m.name.as_str()).collect();
        if !names.contains(&retire.mechanism.as_str()) {
            let expected = format!("one of {}", names.join(", "));
            let remedy = "leave it empty when it is not known";
            violations.add("mechanism", &retire.mechanism, &expected, remedy);
        } else if !retire.cause.is_end() {
            let expected = "empty for a part that did not come to its own end";
            let remedy = "leave it empty, or say that it failed or reached its limit";
            violations.add("mechanism", &retire.mechanism, expected, remedy);
        }
        Ok(())
    }
}

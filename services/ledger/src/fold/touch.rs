//! What a change to the log makes of the chains: stale from a time on, for the component itself
//! and for those that read its condition as their mate.

use super::chain::{ChainState, generation_key, state_prefix};
use crate::{
    BuildName, ComponentName, Installation, LedgerError, keys,
    ledger::{Ledger, installation_prefix, txn::Txn},
    rows,
};
use jiff::Timestamp;
use ringland_store::Table;
use std::collections::BTreeSet;

impl Ledger {
    /// Marks the chains of components stale from a time on, and those of their readers with them.
    /// Folds in progress will find that they must start again. Returns everyone affected.
    pub(crate) fn touch(
        &self,
        txn: &mut Txn<'_>,
        components: impl IntoIterator<Item = ComponentName>,
        from: Timestamp,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut done = BTreeSet::new();
        let mut todo: Vec<ComponentName> = components.into_iter().collect();
        while let Some(component) = todo.pop() {
            if !done.insert(component.clone()) {
                continue;
            }
            Self::count_generation(txn, &component)?;
            if self.mark(txn, &component, from)? {
                todo.extend(self.readers(&component, from)?);
            }
        }
        Ok(done)
    }

    /// As [`Ledger::touch`], for a duty record: folds that have not come so far need not start
    /// again, since the unit's head guards them.
    pub(crate) fn touch_for_duty(
        &self,
        txn: &mut Txn<'_>,
        components: &BTreeSet<ComponentName>,
        from: Timestamp,
    ) -> Result<(), LedgerError> {
        let mut readers = BTreeSet::new();
        for component in components {
            txn.read_bytes(Table::Conditions, &generation_key(component))?;
            if self.mark(txn, component, from)? {
                readers.extend(self.readers(component, from)?);
            }
        }
        let elsewhere: Vec<_> = readers.difference(components).cloned().collect();
        self.touch(txn, elsewhere, from)?;
        Ok(())
    }

    /// As [`Ledger::touch`], for a component that comes into a build or leaves it: its readers there
    /// are affected even if it has no chain yet.
    pub(crate) fn touch_in_build(
        &self,
        txn: &mut Txn<'_>,
        component: &ComponentName,
        build: &BuildName,
        from: Timestamp,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut affected = self.readers_in(component, build)?;
        affected.insert(component.clone());
        self.touch(txn, affected, from)
    }

    /// Makes folds in progress start again.
    pub(crate) fn count_generation(
        txn: &mut Txn<'_>,
        component: &ComponentName,
    ) -> Result<(), LedgerError> {
        let key = generation_key(component);
        let generation: u64 = txn.read(Table::Conditions, &key)?.unwrap_or_default();
        txn.put(Table::Conditions, key, &(generation + 1))
    }

    /// True when a chain had come past that time.
    fn mark(
        &self,
        txn: &mut Txn<'_>,
        component: &ComponentName,
        from: Timestamp,
    ) -> Result<bool, LedgerError> {
        let from = keys::time(from).to_vec();
        let limit = self.options.max_models_per_type;
        let mut any = false;
        let prefix = state_prefix(component);
        for (key, bytes) in self.store.scan(Table::Conditions, &prefix, None, limit)? {
            let mut state: ChainState = rows::decode(&bytes)?;
            txn.expect(Table::Conditions, &key, Some(bytes));
            if state.folded_to <= from {
                continue;
            }
            any = true;
            if state.dirty_from.as_ref().is_none_or(|dirty| from < *dirty) {
                state.dirty_from = Some(from.clone());
                txn.put(Table::Conditions, key, &state)?;
            }
        }
        Ok(any)
    }

    /// Components that read this one's condition at some time from then on.
    fn readers(
        &self,
        component: &ComponentName,
        from: Timestamp,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut readers = BTreeSet::new();
        let mut after = None;
        let prefix = installation_prefix(component);
        loop {
            let rows = self
                .store
                .scan(Table::Installations, &prefix, after.as_deref(), 100)?;
            for (_, bytes) in &rows {
                let installation: Installation = rows::decode(bytes)?;
                if installation
                    .remove_time
                    .is_none_or(|removed| removed > from)
                {
                    readers.extend(self.readers_in(component, &installation.build)?);
                }
            }
            match rows.into_iter().last() {
                Some((key, _)) => after = Some(key),
                None => return Ok(readers),
            }
        }
    }

    /// Components in a build whose models read the condition of this one's type.
    fn readers_in(
        &self,
        component: &ComponentName,
        build: &BuildName,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let own_type = self.component_row(component)?.component_type;
        let mut readers = BTreeSet::new();
        for other in self.installations_in(build)? {
            let other_type = self.component_row(&other.component)?.component_type;
            if self.some_model_reads(&other_type, &own_type)? {
                readers.insert(other.component);
            }
        }
        Ok(readers)
    }
}

//! One fold: the chains that it reads and adds to, and the commit that holds only if nothing that
//! was read has changed.

use super::{
    as_if::Edited,
    chain::{ChainRow, ChainState, StepKey, generation_key, row_key, row_prefix, state_key},
    mates::MateValue,
    sample::Sample,
};
use crate::{
    Component, ComponentName, Installation, LedgerError, Reason, Revision, UnitName,
    ledger::{Ledger, head_key, installation_at},
    rows,
};
use ringland_host::contract::{Card, Digest};
use ringland_store::{Batch, Expectation, Table};
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

/// Rows kept before they are committed.
const ROWS_AT_ONCE: usize = 500;

pub(crate) type ChainId = (ComponentName, Digest);

/// A chain in a run.
pub(crate) struct Chain {
    pub(crate) component: Component,
    pub(crate) card: Arc<Card>,
    stored_state: Option<Vec<u8>>,
    stored_generation: Option<Vec<u8>>,
    pub(crate) state: ChainState,
    /// Rows not yet committed, in order.
    pub(crate) rows: Vec<(StepKey, ChainRow)>,
    changed: bool,
    /// Being advanced further up the stack: it is as far as it can be for who asks.
    pub(crate) busy: bool,
    /// Made with the default of a mate whose model failed: not kept, so that it mends itself.
    pub(crate) volatile: bool,
    /// The sample of the revision used last.
    pub(super) sample: Option<(Revision, Sample)>,
}

impl Chain {
    pub(crate) fn push(&mut self, key: StepKey, row: ChainRow) {
        self.state.folded_to = key.clone().max(std::mem::take(&mut self.state.folded_to));
        self.state.head = Some((key.clone(), row.clone()));
        self.rows.push((key, row));
        self.changed = true;
    }

    /// Everything before this place is in the chain.
    pub(crate) fn reached(&mut self, key: &StepKey) {
        if self.state.folded_to < *key {
            self.state.folded_to.clone_from(key);
            self.changed = true;
        }
    }
}

/// A component as it is after everything in the log.
#[derive(Clone)]
pub(crate) struct Folded {
    pub(crate) component: Component,
    pub(crate) plugin: Digest,
    pub(crate) card: Arc<Card>,
    /// Of the latest revision: what the forecast assumes.
    pub(crate) sample: Sample,
    pub(crate) revision: Revision,
    pub(crate) row: ChainRow,
    pub(crate) installation: Option<Installation>,
    pub(crate) mates: Vec<MateValue>,
}

/// One fold.
pub(crate) struct Run<'a> {
    pub(crate) ledger: &'a Ledger,
    chains: BTreeMap<ChainId, Chain>,
    heads: BTreeMap<UnitName, Option<Vec<u8>>>,
    pub(crate) builds: BTreeMap<crate::BuildName, Arc<Vec<(Installation, String)>>>,
    /// Types whose active model was asked for.
    pub(crate) active: BTreeMap<String, Option<Digest>>,
    /// A record that is taken to be another: then no chain of this run is kept.
    pub(super) edited: Option<&'a Edited>,
}

impl Ledger {
    /// Folds everything into a component's chain with the active model of its type.
    pub(crate) fn fold_active(&self, component: &ComponentName) -> Result<Folded, LedgerError> {
        let kind = self.component_row(component)?.component_type;
        self.fold(component, self.require_active(&kind)?)
    }

    /// Folds everything into a component's chain with one model.
    pub(crate) fn fold(
        &self,
        component: &ComponentName,
        plugin: Digest,
    ) -> Result<Folded, LedgerError> {
        self.folding(component, |run| run.fold(component, plugin))
    }

    /// Works in a run until what it did is committed.
    pub(super) fn folding<'a, T>(
        &'a self,
        component: &ComponentName,
        mut work: impl FnMut(&mut Run<'a>) -> Result<T, LedgerError>,
    ) -> Result<T, LedgerError> {
        let _held = self.component_locks.hold([component]);
        let mut attempt = 1;
        loop {
            let mut run = Run::new(self);
            let folded = work(&mut run);
            // What was done before a failure is right and need not be done again.
            let committed = run.flush();
            let outcome = match (folded, committed) {
                (Ok(_), Err(error)) | (Err(error), _) => Err(error),
                (Ok(folded), Ok(())) => Ok(folded),
            };
            match outcome {
                Err(error)
                    if error.reason() == Reason::ConcurrentChange
                        && attempt < self.options.attempts =>
                {
                    attempt += 1;
                }
                outcome => return outcome,
            }
        }
    }
}

impl<'a> Run<'a> {
    fn new(ledger: &'a Ledger) -> Self {
        Self {
            ledger,
            chains: BTreeMap::new(),
            heads: BTreeMap::new(),
            builds: BTreeMap::new(),
            active: BTreeMap::new(),
            edited: None,
        }
    }

    pub(super) fn fold(
        &mut self,
        component: &ComponentName,
        plugin: Digest,
    ) -> Result<Folded, LedgerError> {
        let id = (component.clone(), plugin);
        self.advance(&id, None)?;
        let installation = installation_at(&*self.ledger.store, component, None)?;
        let installation = installation.filter(|i| i.remove_time.is_none());
        let mates = self.mates_now(&id, installation.as_ref())?;
        let revision = self.ledger.revision_at(component, None)?;
        let sample = self.sample(&id, &revision)?;
        let row = match &self.chain(&id)?.state.head {
            Some((_, row)) => row.clone(),
            None => self.begin(&id, &revision)?,
        };
        let chain = self.chain(&id)?;
        Ok(Folded {
            component: chain.component.clone(),
            plugin,
            card: chain.card.clone(),
            sample,
            revision,
            row,
            installation,
            mates,
        })
    }

    pub(crate) fn active(&mut self, component_type: &str) -> Result<Option<Digest>, LedgerError> {
        if let Some(known) = self.active.get(component_type) {
            return Ok(*known);
        }
        let active = self.ledger.active(component_type)?;
        self.active.insert(component_type.into(), active);
        Ok(active)
    }

    /// A chain of this run, read from the store the first time.
    pub(crate) fn chain(&mut self, id: &ChainId) -> Result<&mut Chain, LedgerError> {
        if !self.chains.contains_key(id) {
            let chain = self.load(id)?;
            self.chains.insert(id.clone(), chain);
        }
        self.chains
            .get_mut(id)
            .ok_or_else(|| LedgerError::not_found("component", &id.0))
    }

    fn load(&mut self, id: &ChainId) -> Result<Chain, LedgerError> {
        let (component, plugin) = id;
        let ledger = self.ledger;
        let stored_generation = ledger
            .store
            .get(Table::Conditions, &generation_key(component))?;
        let stored_state = ledger
            .store
            .get(Table::Conditions, &state_key(component, *plugin))?;
        let row = ledger.component_row(component)?;
        let card = ledger.card(*plugin)?;
        if card.component_type != row.component_type {
            return Err(LedgerError::precondition(
                Reason::ModelOfOtherType,
                component,
                format!(
                    "{component} is a {}, but the model is of {}; name a model of its type",
                    row.component_type, card.component_type
                ),
            ));
        }
        let mut mate_models = BTreeMap::new();
        for mate in &card.duty.mates {
            let active = self.active(&mate.component_type)?;
            mate_models.insert(mate.component_type.clone(), active);
        }
        let known: Option<ChainState> = stored_state.as_deref().map(rows::decode).transpose()?;
        let stale_from = match &known {
            Some(state) if state.mate_models == mate_models => state.dirty_from.clone(),
            _ => Some(StepKey::new()),
        };
        let mut chain = Chain {
            component: row,
            card,
            stored_state,
            stored_generation,
            state: ChainState {
                mate_models,
                ..known.unwrap_or_default()
            },
            rows: Vec::new(),
            changed: false,
            busy: false,
            volatile: false,
            sample: None,
        };
        if let Some(from) = stale_from {
            self.go_back(id, &mut chain, &from)?;
        }
        if let Some(edited) = self.edited {
            self.branch_off(id, &mut chain, &edited.key())?;
        }
        Ok(chain)
    }

    /// Drops the rows from a place on and takes up the last one before it.
    fn go_back(
        &self,
        (component, plugin): &ChainId,
        chain: &mut Chain,
        from: &StepKey,
    ) -> Result<(), LedgerError> {
        let store = &self.ledger.store;
        let prefix = row_prefix(component, *plugin);
        let border = row_key(component, *plugin, from);
        loop {
            let stale = store.scan(Table::Conditions, &prefix, Some(&border), ROWS_AT_ONCE)?;
            if stale.is_empty() {
                break;
            }
            let mut batch = Batch::new();
            batch.expectations = expectations(component, *plugin, chain).into();
            let batch = stale.into_iter().fold(batch, |batch, (key, _)| {
                batch.delete(Table::Conditions, key)
            });
            store.commit(&batch)?;
        }
        chain.state.head = self.head_before(&prefix, &border)?;
        chain.state.folded_to = chain
            .state
            .head
            .as_ref()
            .map(|(key, _)| key.clone())
            .unwrap_or_default();
        chain.state.dirty_from = None;
        chain.changed = chain.stored_state.is_some();
        Ok(())
    }

    /// Takes up the last row before a place and keeps nothing of what follows.
    fn branch_off(
        &self,
        (component, plugin): &ChainId,
        chain: &mut Chain,
        from: &StepKey,
    ) -> Result<(), LedgerError> {
        let prefix = row_prefix(component, *plugin);
        let border = row_key(component, *plugin, from);
        chain.state.head = self.head_before(&prefix, &border)?;
        chain.volatile = true;
        Ok(())
    }

    fn head_before(
        &self,
        prefix: &[u8],
        border: &[u8],
    ) -> Result<Option<(StepKey, ChainRow)>, LedgerError> {
        let last = self
            .ledger
            .store
            .last(Table::Conditions, prefix, Some(border))?;
        last.map(|(key, bytes)| {
            let step = key.get(prefix.len()..).unwrap_or_default().to_vec();
            Ok((step, rows::decode(&bytes)?))
        })
        .transpose()
    }

    /// Requires that no duty is added to a unit before the commit.
    pub(crate) fn expect_head(&mut self, unit: &UnitName) -> Result<(), LedgerError> {
        if !self.heads.contains_key(unit) {
            let head = self.ledger.store.get(Table::Duty, &head_key(unit))?;
            self.heads.insert(unit.clone(), head);
        }
        Ok(())
    }

    /// Commits what there is when it has become much.
    pub(crate) fn flush_if_many(&mut self) -> Result<(), LedgerError> {
        let kept = self.chains.values().filter(|chain| !chain.volatile);
        if kept.map(|chain| chain.rows.len()).sum::<usize>() < ROWS_AT_ONCE {
            return Ok(());
        }
        self.flush()
    }

    /// Commits the new rows, if nothing that they were made from has changed.
    pub(crate) fn flush(&mut self) -> Result<(), LedgerError> {
        let kept = |chain: &Chain| chain.changed && !chain.volatile;
        if !self.chains.values().any(kept) {
            return Ok(());
        }
        let mut batch = Batch::new();
        for (unit, head) in &self.heads {
            let key = head_key(unit);
            batch.expectations.push(Expectation {
                table: Table::Duty,
                key,
                value: head.clone(),
            });
        }
        let mut stored = Vec::new();
        for ((component, plugin), chain) in &self.chains {
            batch
                .expectations
                .extend(expectations(component, *plugin, chain));
            if !kept(chain) {
                continue;
            }
            for (step, row) in &chain.rows {
                let key = row_key(component, *plugin, step);
                batch = batch.put(Table::Conditions, key, rows::encode(row)?);
            }
            let state = rows::encode(&chain.state)?;
            batch = batch.put(
                Table::Conditions,
                state_key(component, *plugin),
                state.clone(),
            );
            let mut generation = chain.stored_generation.clone();
            if chain.stored_state.is_none() {
                // Who looked for chains to mark stale and found none must look again.
                let count: u64 = generation
                    .as_deref()
                    .map(rows::decode)
                    .transpose()?
                    .unwrap_or_default();
                let counted = rows::encode(&(count + 1))?;
                batch = batch.put(
                    Table::Conditions,
                    generation_key(component),
                    counted.clone(),
                );
                generation = Some(counted);
            }
            stored.push(((component.clone(), *plugin), state, generation));
        }
        let _held = self
            .ledger
            .unit_locks
            .hold(self.heads.keys().collect::<BTreeSet<_>>());
        self.ledger.store.commit(&batch)?;
        for (id, state, generation) in stored {
            let chain = self.chain(&id)?;
            chain.stored_state = Some(state);
            chain.stored_generation = generation;
            chain.rows.clear();
            chain.changed = false;
        }
        Ok(())
    }
}

fn expectations(component: &ComponentName, plugin: Digest, chain: &Chain) -> [Expectation; 2] {
    let expect = |key, value: &Option<Vec<u8>>| Expectation {
        table: Table::Conditions,
        key,
        value: value.clone(),
    };
    [
        expect(generation_key(component), &chain.stored_generation),
        expect(state_key(component, plugin), &chain.stored_state),
    ]
}

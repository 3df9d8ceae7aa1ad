//! A component as it was at an earlier time, as an inspection sees it.

use super::{
    chain::{
        ChainRow, ChainState, DUTY, REWORK, StepKey, row_key, row_prefix, state_key, step_key,
    },
    run::{ChainId, Run},
    sample::Sample,
};
use crate::{
    ComponentName, LedgerError, keys,
    ledger::{DutyRow, Ledger, installation_at, record_key},
    rows,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Digest, Duty};
use ringland_store::Table;
use std::sync::Arc;

/// A component just before whatever happened at a time.
pub(crate) struct Past {
    pub(crate) plugin: Digest,
    pub(crate) card: Arc<Card>,
    /// Of the revision that held then.
    pub(crate) sample: Sample,
    pub(crate) row: ChainRow,
    /// The last duty before: what wore it.
    pub(crate) last_duty: Option<Duty>,
    /// The condition at the beginning of the installation that was the last by then, shop operations done.
    pub(crate) at_build: Vec<f64>,
}

impl Ledger {
    /// Folds a component's chain up to a time.
    pub(crate) fn fold_to(
        &self,
        component: &ComponentName,
        plugin: Digest,
        time: Timestamp,
    ) -> Result<Past, LedgerError> {
        self.folding(component, |run| run.past(component, plugin, time))
    }

    /// Digest of the last row before a time where the chain is good up to there: then nothing that
    /// was derived from it has to be derived again. The cost is that of a few reads.
    pub(crate) fn known_digest_before(
        &self,
        component: &ComponentName,
        plugin: Digest,
        time: Timestamp,
    ) -> Result<Option<Digest>, LedgerError> {
        let key = step_key(time, REWORK, &[]);
        let state = self
            .store
            .get(Table::Conditions, &state_key(component, plugin))?;
        let Some(state) = state else { return Ok(None) };
        let state: ChainState = rows::decode(&state)?;
        let clean = state.dirty_from.as_ref().is_none_or(|from| *from >= key);
        if state.folded_to < key || !clean {
            return Ok(None);
        }
        for (kind, model) in &state.mate_models {
            if self.active(kind)? != *model {
                return Ok(None);
            }
        }
        let prefix = row_prefix(component, plugin);
        let up_to = row_key(component, plugin, &key);
        let last = self.store.last(Table::Conditions, &prefix, Some(&up_to))?;
        let digest = last.map(|(_, bytes)| rows::decode::<ChainRow>(&bytes));
        Ok(Some(
            digest
                .transpose()?
                .map_or(Digest([0; 32]), |row| row.digest),
        ))
    }
}

impl Run<'_> {
    fn past(
        &mut self,
        component: &ComponentName,
        plugin: Digest,
        time: Timestamp,
    ) -> Result<Past, LedgerError> {
        let id = (component.clone(), plugin);
        let row = self.row_at(&id, time, &step_key(time, REWORK, &[]))?;
        let installation = installation_at(&*self.ledger.store, component, Some(time))?;
        let built = installation.map_or(Timestamp::MIN, |i| i.install_time);
        let at_build = self.row_at(&id, built, &step_key(built, DUTY, &[]))?;
        let last_duty = match &row.last_record {
            Some(name) => self.duty_of(&id, name)?,
            None => None,
        };
        let revision = self.ledger.revision_at(component, Some(time))?;
        let sample = self.sample(&id, &revision)?;
        Ok(Past {
            plugin,
            card: self.chain(&id)?.card.clone(),
            sample,
            row,
            last_duty,
            at_build: at_build.condition,
        })
    }

    /// The row before a step, or the condition before the first.
    fn row_at(
        &mut self,
        id: &ChainId,
        time: Timestamp,
        before: &StepKey,
    ) -> Result<ChainRow, LedgerError> {
        self.advance(id, Some(before))?;
        if let Some(row) = self.last_row(id, Some(before))? {
            return Ok(row);
        }
        let revision = self.ledger.revision_at(&id.0, Some(time))?;
        self.begin(id, &revision)
    }

    /// The last row of a chain before a step, or at all; it must have been advanced so far.
    pub(super) fn last_row(
        &mut self,
        id: &ChainId,
        before: Option<&StepKey>,
    ) -> Result<Option<ChainRow>, LedgerError> {
        let prefix = row_prefix(&id.0, id.1);
        let store = self.ledger.store.clone();
        let chain = self.chain(id)?;
        let early = |key: &StepKey| before.is_none_or(|before| key < before);
        if let Some((_, row)) = chain.state.head.as_ref().filter(|(key, _)| early(key)) {
            return Ok(Some(row.clone()));
        }
        if let Some((_, row)) = chain.rows.iter().rev().find(|(key, _)| early(key)) {
            return Ok(Some(row.clone()));
        }
        let up_to = before.map(|before| row_key(&id.0, id.1, before));
        let last = store.last(Table::Conditions, &prefix, up_to.as_deref())?;
        last.map(|(_, bytes)| rows::decode(&bytes)).transpose()
    }

    /// A duty record as the model reads it.
    fn duty_of(
        &mut self,
        id: &ChainId,
        name: &crate::DutyRecordName,
    ) -> Result<Option<Duty>, LedgerError> {
        let unit = name.parent();
        let Some(start) = keys::time_of_id(name.record()) else {
            return Ok(None);
        };
        let row = self
            .ledger
            .store
            .get(Table::Duty, &record_key(&unit, start))?;
        let Some(row) = row else { return Ok(None) };
        let row: DutyRow = rows::decode(&row)?;
        let key = step_key(start, DUTY, unit.unit().as_bytes());
        Ok(Some(self.ready(id, key, row)?.duty))
    }
}

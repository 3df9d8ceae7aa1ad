//! Conditions of the past: those of a component since it came to where it is.

use super::{
    chain::{REWORK, row_key, row_prefix, step_key},
    run::Folded,
};
use crate::{ComponentName, DutyRecordName, LedgerError, ledger::Ledger, rows};
use crate::{fold::ChainRow, ledger::opening_of};
use ringland_store::Table;

/// The conditions of a component since its installation.
pub(crate) struct History {
    /// Before the first step.
    pub(crate) before: Vec<f64>,
    /// After each duty record, oldest first.
    pub(crate) after: Vec<(DutyRecordName, Vec<f64>)>,
}

impl Ledger {
    /// The conditions of a component since it was installed where it is, at most `limit` of them; none of one that is not
    /// installed.
    pub(crate) fn history(&self, folded: &Folded, limit: usize) -> Result<History, LedgerError> {
        let component: &ComponentName = &folded.component.name;
        let Some(installation) = &folded.installation else {
            return Ok(History {
                before: folded.row.condition.clone(),
                after: Vec::new(),
            });
        };
        let prefix = row_prefix(component, folded.plugin);
        let start = step_key(installation.install_time, REWORK, &[]);
        let border = row_key(component, folded.plugin, &start);
        let before = self.store.last(Table::Conditions, &prefix, Some(&border))?;
        let before = match before {
            Some((_, bytes)) => rows::decode::<ChainRow>(&bytes)?.condition,
            None => self.condition_at_entry(folded)?,
        };
        let mut after: Vec<(DutyRecordName, Vec<f64>)> = Vec::new();
        for (_, bytes) in self
            .store
            .scan(Table::Conditions, &prefix, Some(&border), limit)?
        {
            let row: ChainRow = rows::decode(&bytes)?;
            let Some(record) = row.last_record else {
                continue;
            };
            // The row of a shop operation repeats the record before it.
            if after.last().is_none_or(|(last, _)| *last != record) {
                after.push((record, row.condition));
            }
        }
        Ok(History { before, after })
    }

    fn condition_at_entry(&self, folded: &Folded) -> Result<Vec<f64>, LedgerError> {
        let (opening, _) = opening_of(&folded.card, &folded.component.opening_condition);
        let (specimen, prepared) = (&folded.sample.specimen, &folded.sample.prepared);
        self.models
            .begin(folded.plugin, specimen, prepared, &opening)
            .map_err(|error| LedgerError::of_model(&folded.component.name, error))
    }
}

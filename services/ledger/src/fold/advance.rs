//! Adding steps to a chain.

use super::{
    chain::{ChainRow, StepKey, duty_digest, rework_digest},
    mates::MateValue,
    run::{ChainId, Run},
    sample::Sample,
    steps::Step,
};
use crate::{LedgerError, Reason, Revision, Rework, ledger::DutyRow};
use ringland_host::contract::{Duty, ModelError};

/// A duty record ready for the model.
pub(super) struct Load {
    key: StepKey,
    row: DutyRow,
    pub(super) duty: Duty,
    mates: Vec<MateValue>,
    defaulted: Vec<String>,
}

impl Run<'_> {
    /// Adds every step before a place, or all.
    pub(crate) fn advance(
        &mut self,
        id: &ChainId,
        before: Option<&StepKey>,
    ) -> Result<(), LedgerError> {
        if self.chain(id)?.busy {
            return Ok(());
        }
        self.chain(id)?.busy = true;
        let outcome = self.advance_all(id, before);
        self.chain(id)?.busy = false;
        outcome
    }

    fn advance_all(&mut self, id: &ChainId, before: Option<&StepKey>) -> Result<(), LedgerError> {
        let limit = self.ledger.options.fold_batch_records.max(1);
        loop {
            let head = self
                .chain(id)?
                .state
                .head
                .as_ref()
                .map(|(key, _)| key.clone());
            let steps = self.next_steps(&id.0, head.as_ref(), before, limit)?;
            if steps.is_empty() {
                break;
            }
            self.apply(id, steps)?;
            self.flush_if_many()?;
        }
        if let Some(before) = before {
            self.chain(id)?.reached(before);
        }
        Ok(())
    }

    fn apply(&mut self, id: &ChainId, steps: Vec<Step>) -> Result<(), LedgerError> {
        // Mates move between records, so records of a model that reads them go one by one.
        let alone = !self.chain(id)?.card.duty.mates.is_empty();
        let mut group: Vec<Load> = Vec::new();
        let mut of: Option<(Revision, Sample)> = None;
        let mut values = 0;
        for step in steps {
            let revision = self.ledger.revision_at(&id.0, Some(step.time()))?;
            let same = of
                .as_ref()
                .is_some_and(|(known, _)| known.name == revision.name);
            let full = alone
                || values >= self.ledger.options.fold_batch_values
                || matches!(step, Step::Rework { .. });
            if !same || full {
                self.add_duty(id, of.as_ref(), std::mem::take(&mut group))?;
                values = 0;
            }
            if !same {
                of = Some((revision.clone(), self.sample(id, &revision)?));
            }
            match step {
                Step::Duty { key, row } => {
                    values += row.values as usize;
                    group.push(self.ready(id, key, *row)?);
                }
                Step::Rework { key, rework } => self.add_rework(id, of.as_ref(), key, &rework)?,
            }
        }
        self.add_duty(id, of.as_ref(), group)
    }

    /// The last row, or the condition before the first step.
    fn row_before(&mut self, id: &ChainId, revision: &Revision) -> Result<ChainRow, LedgerError> {
        match &self.chain(id)?.state.head {
            Some((_, row)) => Ok(row.clone()),
            None => self.begin(id, revision),
        }
    }

    fn add_duty(
        &mut self,
        id: &ChainId,
        of: Option<&(Revision, Sample)>,
        mut group: Vec<Load>,
    ) -> Result<(), LedgerError> {
        let Some((revision, sample)) = of.filter(|_| !group.is_empty()) else {
            return Ok(());
        };
        let mut row = self.row_before(id, revision)?;
        let duties: Vec<Duty> = group
            .iter_mut()
            .map(|load| std::mem::take(&mut load.duty))
            .collect();
        let (conditions, failure) = self.conditions_after(id, sample, &row.condition, &duties);
        let failed = group
            .get(conditions.len())
            .map(|load| load.row.record.name.clone());
        let chain = self.chain(id)?;
        for (load, condition) in group.into_iter().zip(conditions) {
            row = row_after(&row, sample, &load, condition);
            chain.push(load.key, row.clone());
        }
        match (failure, failed) {
            (None, None) => Ok(()),
            (Some(error), Some(record)) => Err(LedgerError::of_model(
                format!("{} at {record}", id.0),
                error,
            )),
            (failure, _) => Err(LedgerError::precondition(
                Reason::ModelFailed,
                &id.0,
                format!(
                    "{}: the model answered another number of conditions than of records ({failure:?}); activate another version",
                    id.0
                ),
            )),
        }
    }

    /// The condition after each record; after a failure, those before it.
    fn conditions_after(
        &self,
        id: &ChainId,
        sample: &Sample,
        before: &[f64],
        duties: &[Duty],
    ) -> (Vec<Vec<f64>>, Option<ModelError>) {
        let advance = |condition: &[f64], duties: &[Duty]| {
            let (specimen, prepared) = (&sample.specimen, &sample.prepared);
            self.ledger
                .models
                .advance(id.1, specimen, prepared, condition, duties)
        };
        match advance(before, duties) {
            Ok(conditions) => return (conditions, None),
            Err(error) if duties.len() <= 1 => return (Vec::new(), Some(error)),
            Err(_) => {}
        }
        // One by one, so that the good ones count and the bad one is known.
        let mut conditions: Vec<Vec<f64>> = Vec::new();
        for duty in duties {
            let last = conditions.last().map_or(before, Vec::as_slice).to_vec();
            match advance(&last, std::slice::from_ref(duty)) {
                Ok(more) => conditions.extend(more),
                Err(error) => return (conditions, Some(error)),
            }
        }
        (conditions, None)
    }

    fn add_rework(
        &mut self,
        id: &ChainId,
        of: Option<&(Revision, Sample)>,
        key: StepKey,
        rework: &Rework,
    ) -> Result<(), LedgerError> {
        let Some((revision, sample)) = of else {
            return Ok(());
        };
        let before = self.row_before(id, revision)?;
        let models = self.ledger.models.clone();
        let chain = self.chain(id)?;
        let operation = chain
            .card
            .operations
            .iter()
            .position(|o| o.name == rework.operation);
        let operation = operation.ok_or_else(|| {
            LedgerError::precondition(
                Reason::ModelRefused,
                &rework.name,
                format!(
                    "{}: the model has no operation {:?}; activate a version that has it",
                    rework.name, rework.operation
                ),
            )
        })?;
        let (specimen, prepared) = (&sample.specimen, &sample.prepared);
        let condition = models
            .rework(
                id.1,
                specimen,
                prepared,
                &before.condition,
                operation as u32,
            )
            .map_err(|error| LedgerError::of_model(&rework.name, error))?;
        let digest = rework_digest(before.digest, sample.prepared.digest, &rework.operation);
        chain.push(
            key,
            ChainRow {
                condition,
                digest,
                ..before
            },
        );
        Ok(())
    }

    /// A record as the model reads it.
    pub(super) fn ready(
        &mut self,
        id: &ChainId,
        key: StepKey,
        row: DutyRow,
    ) -> Result<Load, LedgerError> {
        let record = &row.record;
        let table = self.table_of(&record.name, record.start_time)?;
        let card = self.chain(id)?.card.clone();
        let mut duty = table.for_card(&card).map_err(|missing| {
            LedgerError::precondition(
                Reason::ChannelMissing,
                &record.name,
                format!(
                    "{} lacks {}, which the model of {} requires; record logs with it, or activate a model that does without",
                    record.name,
                    missing.join(", "),
                    id.0
                ),
            )
        })?;
        let optional = card.duty.channels.iter().filter(|need| !need.required);
        let absent = optional.filter(|need| table.column(&need.name).is_none());
        let defaulted = absent.map(|need| need.name.clone()).collect();
        let mates = self.mates_at(id, &record.build, record.start_time)?;
        duty.mates = mates.iter().map(|mate| mate.value).collect();
        Ok(Load {
            key,
            row,
            duty,
            mates,
            defaulted,
        })
    }
}

/// The row after a record.
fn row_after(before: &ChainRow, sample: &Sample, load: &Load, condition: Vec<f64>) -> ChainRow {
    let record = &load.row.record;
    let mates: Vec<f64> = load.mates.iter().map(|mate| mate.value).collect();
    let mut tally = before.tally.clone();
    tally.duty_records += 1;
    tally.hours += record.duration_s / 3600.0;
    tally.crank_revolutions += record.crank_revolutions;
    for channel in &load.defaulted {
        *tally.defaulted_channels.entry(channel.clone()).or_default() += 1;
    }
    for mate in load.mates.iter().filter(|mate| mate.defaulted.is_some()) {
        *tally.defaulted_mates.entry(mate.what.clone()).or_default() += 1;
    }
    ChainRow {
        condition,
        digest: duty_digest(
            before.digest,
            sample.prepared.digest,
            load.row.digest,
            &mates,
        ),
        tally,
        last_record: Some(record.name.clone()),
        last_end: Some(record.end_time),
    }
}

//! What happened to a component, in order: duty of the units that it was in, and shop operations.

use super::{
    chain::{DUTY, REWORK, StepKey, step_key},
    run::Run,
};
use crate::{
    ComponentName, Installation, LedgerError, Rework, keys,
    ledger::{
        DutyRow, installation_at, installation_prefix, record_key, record_prefix, rework_prefix,
    },
    rows,
};
use jiff::{SignedDuration, Timestamp};
use ringland_store::Table;

/// One thing that happened.
pub(crate) enum Step {
    Rework { key: StepKey, rework: Rework },
    Duty { key: StepKey, row: Box<DutyRow> },
}

impl Step {
    pub(crate) fn key(&self) -> &StepKey {
        match self {
            Self::Rework { key, .. } | Self::Duty { key, .. } => key,
        }
    }

    pub(crate) fn time(&self) -> Timestamp {
        match self {
            Self::Rework { rework, .. } => rework.rework_time,
            Self::Duty { row, .. } => row.record.start_time,
        }
    }
}

/// The last step done.
struct After<'a> {
    time: Timestamp,
    kind: u8,
    key: &'a [u8],
}

impl<'a> After<'a> {
    fn of(key: &'a StepKey) -> Result<Self, LedgerError> {
        let time = keys::time_of(key);
        let kind = key.get(keys::TIME_BYTES).copied();
        time.zip(kind)
            .map(|(time, kind)| Self { time, kind, key })
            .ok_or_else(|| LedgerError::Internal {
                message: "a stored step has no time: rebuild the conditions".into(),
            })
    }
}

impl Run<'_> {
    /// The next steps of a component after one place and before another, at most `limit`.
    pub(crate) fn next_steps(
        &mut self,
        component: &ComponentName,
        after: Option<&StepKey>,
        before: Option<&StepKey>,
        limit: usize,
    ) -> Result<Vec<Step>, LedgerError> {
        let after = after.map(After::of).transpose()?;
        let mut steps = self.next_reworks(component, after.as_ref(), limit)?;
        self.next_duty(component, after.as_ref(), before, limit, &mut steps)?;
        steps.retain(|step| before.is_none_or(|before| step.key() < before));
        steps.sort_by(|a, b| a.key().cmp(b.key()));
        steps.truncate(limit);
        Ok(steps)
    }

    fn next_reworks(
        &self,
        component: &ComponentName,
        after: Option<&After<'_>>,
        limit: usize,
    ) -> Result<Vec<Step>, LedgerError> {
        let prefix = rework_prefix(component);
        let after = after.map(|after| {
            let mut key = prefix.clone();
            key.extend_from_slice(&keys::time(after.time));
            match after.kind {
                REWORK => {
                    key.extend_from_slice(
                        after.key.get(keys::TIME_BYTES + 1..).unwrap_or_default(),
                    );
                }
                // Shop operations at the time of a duty record came before it.
                _ => key.push(u8::MAX),
            }
            key
        });
        let rows = self
            .ledger
            .store
            .scan(Table::Reworks, &prefix, after.as_deref(), limit)?;
        let steps = rows.into_iter().map(|(_, bytes)| {
            let rework: Rework = rows::decode(&bytes)?;
            let key = step_key(rework.rework_time, REWORK, rework.operation.as_bytes());
            Ok(Step::Rework { key, rework })
        });
        steps.collect()
    }

    fn next_duty(
        &mut self,
        component: &ComponentName,
        after: Option<&After<'_>>,
        before: Option<&StepKey>,
        limit: usize,
        steps: &mut Vec<Step>,
    ) -> Result<(), LedgerError> {
        let store = self.ledger.store.clone();
        let wanted = steps.len() + limit;
        // Installations that were over before the last step have nothing more to tell.
        let current = match after {
            Some(after) => installation_at(&*store, component, Some(after.time))?,
            None => None,
        };
        let prefix = installation_prefix(component);
        let mut seen = current.as_ref().map(|i| {
            let mut key = prefix.clone();
            key.extend_from_slice(&keys::time(i.install_time));
            key
        });
        let mut installations: Vec<Installation> = current.into_iter().collect();
        loop {
            for installation in &installations {
                self.duty_in(installation, after, limit, steps)?;
                let far_enough = steps.len() >= wanted
                    || before.is_some_and(|before| {
                        step_key(installation.install_time, REWORK, &[]) >= *before
                    });
                if far_enough {
                    return Ok(());
                }
            }
            let rows = store.scan(Table::Installations, &prefix, seen.as_deref(), 100)?;
            let Some((last, _)) = rows.last() else {
                return Ok(());
            };
            seen = Some(last.clone());
            let decoded = rows.iter().map(|(_, bytes)| rows::decode(bytes));
            installations = decoded.collect::<Result<_, _>>()?;
        }
    }

    /// The duty of a unit while the component was in it.
    fn duty_in(
        &mut self,
        installation: &Installation,
        after: Option<&After<'_>>,
        limit: usize,
        steps: &mut Vec<Step>,
    ) -> Result<(), LedgerError> {
        let unit = installation.build.parent();
        self.expect_head(&unit)?;
        let just_before = |time: Timestamp| {
            time.checked_sub(SignedDuration::from_nanos(1))
                .unwrap_or(Timestamp::MIN)
        };
        let mut from = just_before(installation.install_time);
        if let Some(after) = after {
            let last = if after.kind == DUTY {
                after.time
            } else {
                just_before(after.time)
            };
            from = from.max(last);
        }
        let prefix = record_prefix(&unit);
        let rows =
            self.ledger
                .store
                .scan(Table::Duty, &prefix, Some(&record_key(&unit, from)), limit)?;
        for (_, bytes) in rows {
            let row: DutyRow = rows::decode(&bytes)?;
            if !installation.holds_at(row.record.start_time) {
                break;
            }
            let key = step_key(row.record.start_time, DUTY, unit.unit().as_bytes());
            steps.push(Step::Duty {
                key,
                row: Box::new(row),
            });
        }
        Ok(())
    }
}

//! What a component's model expects of its break-in.

use super::quantiles;
use crate::{
    BreakInCost, ComponentName, DutyRecordName, LedgerError, Profile, ProfileName, Quantiles,
    Reason, fold::Folded, ledger::Ledger,
};
use ringland_host::contract::{
    Card, Duty, DutyTable, Forecast, ForecastRequest, Rate, ReadingPath,
};
use ringland_mechanics::statistics::sampling;

pub(super) const SEATING: &str = "seating_fraction";
pub(super) const BLOW_BY: &str = "blow_by_m3_s";
pub(super) const LEAK_DOWN: &str = "leak_down_fraction";

/// Records since the installation that are looked through.
const MOST_RECORDS: usize = 200;
/// So many records ahead rings are seated, whatever the record.
const SEATED_AFTER: f64 = 30.0;
/// Words in a record's session that make it a part of the break-in.
const SESSIONS: [&str; 3] = ["break-in", "break in", "pull"];

/// Readings that a model predicts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Readings {
    pub(super) share: Quantiles,
    pub(super) blow_by: Option<Quantiles>,
    pub(super) leak_down: Option<Quantiles>,
}

/// What is expected of a component.
pub(super) struct Expected {
    pub(super) component: ComponentName,
    pub(super) component_type: String,
    /// Before the first record of the break-in.
    pub(super) start: Option<Readings>,
    /// After each record of the break-in, in order.
    pub(super) records: Vec<(DutyRecordName, Readings)>,
    /// When seated, and the share that is seated there.
    pub(super) end: Option<Readings>,
    /// Limit of blow-by.
    pub(super) limit_m3_s: Option<f64>,
    pub(super) cost: Option<BreakInCost>,
    pub(super) cautions: Vec<String>,
}

/// A record of the break-in with the conditions around it.
struct Record {
    name: DutyRecordName,
    duration_s: f64,
    duty: Duty,
    after: Vec<f64>,
}

impl Ledger {
    /// What the active model of a component expects. `named` are records that the call names; without any, those of the
    /// build are taken whose session is a break-in or a pull.
    pub(super) fn expected(
        &self,
        component: &ComponentName,
        profile: Option<&ProfileName>,
        named: &[DutyRecordName],
        needed: &[&str],
    ) -> Result<Expected, LedgerError> {
        self.require_readings(component, needed)?;
        let folded = self.fold_active(component)?;
        let history = self.history(&folded, MOST_RECORDS)?;
        let mut before = history.before.clone();
        let mut records = Vec::new();
        for (name, after) in history.after {
            let row = self.get_duty_record(&name)?;
            let session = row.session.to_lowercase();
            let wanted = if named.is_empty() {
                SESSIONS.iter().any(|word| session.contains(word))
            } else {
                named.contains(&name)
            };
            if wanted {
                let duty = duty_for(&folded, row.duty.unwrap_or_default(), &name)?;
                records.push(Record {
                    name,
                    duration_s: row.duration_s,
                    duty,
                    after,
                });
            } else if records.is_empty() {
                before = after;
            }
        }
        if let Some(missing) = named.iter().find(|n| records.iter().all(|r| r.name != **n)) {
            return Err(LedgerError::precondition(
                Reason::NotInstalled,
                missing,
                format!(
                    "{missing} is not among the first {MOST_RECORDS} duty records that {component} has seen where it is \
                     installed; name records of this break-in"
                ),
            ));
        }
        self.expected_of(&folded, profile, &before, &records)
    }

    fn expected_of(
        &self,
        folded: &Folded,
        profile: Option<&ProfileName>,
        before: &[f64],
        records: &[Record],
    ) -> Result<Expected, LedgerError> {
        let card = &folded.card;
        let event = self.event_to_come(folded, profile)?;
        let mut expected = Expected {
            component: folded.component.name.clone(),
            component_type: folded.component.component_type.clone(),
            start: None,
            records: Vec::new(),
            end: None,
            limit_m3_s: None,
            cost: None,
            cautions: card.cautions.clone(),
        };
        if let Some(first) = records.first() {
            let forecast = self.ahead_of(folded, before, &first.duty, &[0.0])?;
            expected.start = readings_at(card, &forecast, 0);
        }
        for record in records {
            let forecast = self.ahead_of(folded, &record.after, &record.duty, &[0.0])?;
            if let Some(readings) = readings_at(card, &forecast, 0) {
                expected.records.push((record.name.clone(), readings));
            }
        }
        // Many more pulls like the last, or the wear of one event, which takes seating to its end as well.
        let seated = match (records.last(), &event) {
            (Some(last), _) => {
                Some(self.ahead_of(folded, &last.after, &last.duty, &[0.0, SEATED_AFTER])?)
            }
            (None, Some((_, duty))) => {
                Some(self.ahead_of(folded, &folded.row.condition, duty, &[0.0, 1.0])?)
            }
            (None, None) => None,
        };
        if let Some(forecast) = &seated {
            expected.end = readings_at(card, forecast, 1);
            expected.limit_m3_s = path(card, forecast, BLOW_BY).and_then(|path| path.limit);
        }
        if let (Some((profile, duty)), Some(last)) = (&event, records.last()) {
            let left = |condition: &[f64]| self.median_life(folded, condition, duty);
            let spent = left(before)? - left(&last.after)?;
            let seconds: f64 = records.iter().map(|record| record.duration_s).sum();
            expected.cost = Some(BreakInCost {
                duty_records: records.len(),
                events_by_time: seconds / profile.duration_s,
                life_events: spent,
                // Shared among the pulls when their number is known.
                life_events_per_pull: spent,
            });
        }
        Ok(expected)
    }

    /// Refuses a component whose model does not predict what is needed.
    fn require_readings(
        &self,
        component: &ComponentName,
        needed: &[&str],
    ) -> Result<(), LedgerError> {
        let kind = self.component_row(component)?.component_type;
        let card = self.card(self.require_active(&kind)?)?;
        let has = |name: &&&str| card.readings.iter().any(|reading| reading.name == ***name);
        let missing: Vec<&str> = needed.iter().filter(|name| !has(name)).copied().collect();
        if missing.is_empty() {
            return Ok(());
        }
        Err(LedgerError::precondition(
            Reason::ReadingMissing,
            component,
            format!(
                "{component} is a {kind}, whose model does not predict {}; seating needs a model with the readings {} (a ring \
                 pack): name such a component, or none to go by the readings alone",
                missing.join(" and "),
                needed.join(" and "),
            ),
        ))
    }

    /// The event asked for, or the unit's if it has one.
    fn event_to_come(
        &self,
        folded: &Folded,
        profile: Option<&ProfileName>,
    ) -> Result<Option<(Profile, Duty)>, LedgerError> {
        let name = match (profile, &folded.installation) {
            (Some(name), _) => Some(name.clone()),
            (None, Some(installation)) => {
                self.get_unit(&installation.build.parent())?.event_profile
            }
            (None, None) => None,
        };
        let Some(name) = name else { return Ok(None) };
        let mut profile = self.get_profile(&name)?;
        let table = profile.duty.take().unwrap_or_default();
        let duty = duty_for(folded, table, &name)?;
        Ok(Some((profile, duty)))
    }

    /// A forecast with the model's own spread of rates.
    fn ahead_of(
        &self,
        folded: &Folded,
        condition: &[f64],
        event: &Duty,
        ahead: &[f64],
    ) -> Result<Forecast, LedgerError> {
        let rate = |ln_sd: f64| Rate {
            ln_mean: 0.0,
            ln_sd,
        };
        let request = ForecastRequest {
            condition: condition.to_vec(),
            event: event.clone(),
            rates: folded
                .card
                .mechanisms
                .iter()
                .map(|m| rate(m.rate_ln_sd))
                .collect(),
            samples: self.options.samples,
            seed: 1,
            horizon_events: self.options.horizon_events,
            ahead_events: ahead.to_vec(),
        };
        let (specimen, prepared) = (&folded.sample.specimen, &folded.sample.prepared);
        self.models
            .forecast(folded.plugin, specimen, prepared, &request)
            .map_err(|error| LedgerError::of_model(&folded.component.name, error))
    }

    /// Median of the lives by whichever mechanism comes first, in events.
    fn median_life(
        &self,
        folded: &Folded,
        condition: &[f64],
        event: &Duty,
    ) -> Result<f64, LedgerError> {
        let forecast = self.ahead_of(folded, condition, event, &[0.0])?;
        let lives = (0..self.options.samples as usize).map(|draw| {
            let of_draw = forecast
                .mechanisms
                .iter()
                .filter_map(|m| m.lives_events.get(draw));
            of_draw.copied().fold(self.options.horizon_events, f64::min)
        });
        let lives: Vec<f64> = lives.collect();
        Ok(sampling::quantiles(&lives, &[0.5])
            .first()
            .copied()
            .unwrap_or_default())
    }
}

fn duty_for(
    folded: &Folded,
    table: DutyTable,
    of: impl std::fmt::Display,
) -> Result<Duty, LedgerError> {
    let mut duty = table.for_card(&folded.card).map_err(|missing| {
        let text = format!(
            "{of} lacks {}, which the model of {} requires; name another",
            missing.join(", "),
            folded.component.name
        );
        LedgerError::precondition(Reason::ChannelMissing, &of, text)
    })?;
    duty.mates = folded.mates.iter().map(|mate| mate.value).collect();
    Ok(duty)
}

fn path<'a>(card: &Card, forecast: &'a Forecast, reading: &str) -> Option<&'a ReadingPath> {
    let index = card
        .readings
        .iter()
        .position(|field| field.name == reading)?;
    forecast.readings.get(index)
}

fn readings_at(card: &Card, forecast: &Forecast, index: usize) -> Option<Readings> {
    let at = |reading: &str| {
        let path = path(card, forecast, reading)?;
        let (low, middle, high) = (
            path.low.get(index)?,
            path.median.get(index)?,
            path.high.get(index)?,
        );
        Some(quantiles(|p| {
            if p < 0.5 {
                *low
            } else if p > 0.5 {
                *high
            } else {
                *middle
            }
        }))
    };
    Some(Readings {
        share: at(SEATING)?,
        blow_by: at(BLOW_BY),
        leak_down: at(LEAK_DOWN),
    })
}

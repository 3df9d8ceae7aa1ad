//! What to look at before the next event: what a look saves on average, for each minute of it.
//!
//! A look tells a share of what is open of the logarithm of the life: `s = ln life + noise` with the noise that makes it so.
//! What is done without it is the better of running on and replacing at the next teardown; with it, the better of the
//! two for what was seen. The saving is the mean over the drawn parts (preposterior analysis: Raiffa and Schlaifer, Applied
//! Statistical Decision Theory, 1961, from memory).

use super::{
    ahead::Ahead,
    arcs::stops_of,
    draws::Planned,
    make::{Chosen, part_words},
    words::{amount, percent},
};
use crate::{CalendarCheck, PlannedCheck, Quantiles};
use ringland_host::contract::LimitSide;
use ringland_mechanics::statistics::sampling::latin_hypercube_normal;

/// The 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_2;
/// Minutes of a measurement that the calendar does not list: common practice, no source.
const USUAL_MIN: f64 = 30.0;
/// Longest list.
const MOST: usize = 30;
/// Seed of the noise of looks.
const SEED: u64 = 0x5EED_100C;

/// Looks at a unit.
pub(super) struct Looks<'a> {
    ahead: &'a Ahead,
    planned: &'a [Planned<'a>],
    chosen: &'a Chosen,
}

/// What a look is asked for.
struct Look<'a> {
    check: String,
    instrument: String,
    minutes: f64,
    assumed_min: bool,
    /// The mechanism that it tells of; `None`: of all.
    mechanism: Option<usize>,
    tells: f64,
    part: &'a Planned<'a>,
}

/// What a look is worth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Worth {
    value: f64,
    changes_action: f64,
    runs_without: bool,
}

impl<'a> Looks<'a> {
    pub(super) fn new(ahead: &'a Ahead, planned: &'a [Planned<'a>], chosen: &'a Chosen) -> Self {
        Self {
            ahead,
            planned,
            chosen,
        }
    }

    /// By value for each minute; what saves nothing is left out.
    pub(super) fn all(&self) -> Vec<PlannedCheck> {
        let mut checks: Vec<PlannedCheck> = Vec::new();
        for (index, planned) in self.planned.iter().enumerate() {
            checks.extend(
                self.looks_at(planned)
                    .iter()
                    .filter_map(|look| self.answer(index, look)),
            );
        }
        checks.sort_by(|one, other| {
            let by_value = other.value_per_min.total_cmp(&one.value_per_min);
            by_value
                .then_with(|| (&one.component, &one.check).cmp(&(&other.component, &other.check)))
        });
        checks.truncate(MOST);
        checks
    }

    /// What the calendar lists for a type, and the readings of its card that it does not.
    fn looks_at(&self, part: &'a Planned<'a>) -> Vec<Look<'a>> {
        let kind = &part.place.component_type;
        let listed = self
            .ahead
            .calendar
            .content
            .checks
            .iter()
            .filter(|check| check.component_type == *kind);
        let listed: Vec<&CalendarCheck> = listed.collect();
        let readings = part.drawn.card.readings.iter().enumerate();
        let unlisted = readings.filter(|(_, reading)| {
            reading.limit_side != LimitSide::Unlimited
                && !listed.iter().any(|check| check.check == reading.name)
        });
        let unlisted = unlisted.map(|(index, reading)| {
            let (mechanism, tells) = told_by(part, index);
            Look {
                check: reading.label.clone(),
                instrument: reading.instrument.clone(),
                minutes: USUAL_MIN,
                assumed_min: true,
                mechanism,
                tells,
                part,
            }
        });
        let given = listed.iter().map(|check| {
            let mut readings = part.drawn.card.readings.iter();
            let reading = readings.position(|reading| reading.name == check.check);
            let (mechanism, by_card) = reading.map_or((None, 0.0), |index| told_by(part, index));
            let on_card = reading.and_then(|index| part.drawn.card.readings.get(index));
            let instrument = on_card.filter(|_| check.instrument.is_empty());
            Look {
                check: on_card.map_or_else(|| check.check.clone(), |reading| reading.label.clone()),
                instrument: instrument.map_or_else(
                    || check.instrument.clone(),
                    |reading| reading.instrument.clone(),
                ),
                minutes: check.minutes,
                assumed_min: false,
                mechanism,
                tells: check.tells.unwrap_or(by_card),
                part,
            }
        });
        given.chain(unlisted).collect()
    }

    fn answer(&self, index: usize, look: &Look<'_>) -> Option<PlannedCheck> {
        let worth = self.worth(index, look)?;
        if worth.value <= 0.0 {
            return None;
        }
        let without = if worth.runs_without {
            "run on"
        } else {
            "replace it"
        };
        let minutes = if look.assumed_min {
            " (minutes: common practice, no source)"
        } else {
            ""
        };
        let text = format!(
            "Without it the better bet for {} is to {without}; it changes that with {} and saves {} on average{minutes}.",
            part_words(look.part),
            percent(worth.changes_action),
            amount(worth.value),
        );
        Some(PlannedCheck {
            component: look.part.place.component.clone(),
            component_type: look.part.place.component_type.clone(),
            check: look.check.clone(),
            instrument: look.instrument.clone(),
            minutes: look.minutes,
            value: worth.value,
            value_per_min: worth.value / look.minutes,
            changes_action: worth.changes_action,
            text,
        })
    }

    /// `None` where nothing could be done about what it shows.
    fn worth(&self, index: usize, look: &Look<'_>) -> Option<Worth> {
        let program = &self.chosen.program;
        let part = program.parts.get(index)?;
        let price = part.renewal.as_ref()?.cost();
        let stops = stops_of(program, part);
        let begin = program.stops.get(*stops.first()?)?.before_event;
        let next = stops.get(1).and_then(|stop| program.stops.get(*stop));
        let end = next.map_or(program.events, |stop| stop.before_event);
        let uses = look.part.uses.get(..end)?;
        let all = look.part.drawn.present.outcomes(uses, begin, None);
        let of_new = look.part.drawn.new.outcomes(uses.get(begin..)?, 0, None);
        let mean = |outcomes: &[(f64, f64)]| {
            outcomes.iter().map(|(_, cost)| cost).sum::<f64>() / outcomes.len().max(1) as f64
        };
        let told = match look.mechanism {
            Some(_) => look
                .part
                .drawn
                .present
                .outcomes(uses, begin, look.mechanism),
            None => all.clone(),
        };
        // What the look does not tell of stays as it is.
        let rest = (mean(&all) - mean(&told)).max(0.0);
        let teardown = self.teardown_cost(*stops.first()?, index);
        let renew = price + teardown + mean(&of_new) - rest;
        Some(worth(&told, renew, look.tells))
    }

    /// The cheapest teardown that serves a part at a stop, unless the plan opens one there anyhow.
    fn teardown_cost(&self, stop: usize, index: usize) -> f64 {
        let program = &self.chosen.program;
        let needs = program
            .parts
            .get(index)
            .and_then(|part| part.renewal.as_ref());
        let Some(levels) = needs.and_then(|renewal| renewal.levels.as_ref()) else {
            return 0.0;
        };
        let open = self.chosen.found.choice.open.get(stop);
        if open.is_some_and(|open| open.iter().any(|level| levels.contains(level))) {
            return 0.0;
        }
        let possible = program
            .stops
            .get(stop)
            .map(|stop| stop.levels.as_slice())
            .unwrap_or_default();
        let serving = levels.iter().filter(|level| possible.contains(level));
        let costs = serving
            .filter_map(|level| program.levels.get(*level))
            .map(|level| level.cost);
        costs.reduce(f64::min).unwrap_or(0.0)
    }
}

/// The mechanism that a reading tells of, and the share of what is open of its life: as much of the spread of the reading
/// as its instrument resolves, and as much of the spread of the life as is that of the rate.
fn told_by(part: &Planned<'_>, reading: usize) -> (Option<usize>, f64) {
    let drawn = part.drawn;
    let Some(field) = drawn.card.readings.get(reading) else {
        return (None, 0.0);
    };
    let mut mechanisms = drawn.card.mechanisms.iter();
    let Some(mechanism) = mechanisms.position(|m| m.reading.as_ref() == Some(&field.name)) else {
        return (None, 0.0);
    };
    let Quantiles { p05, p95, .. } = drawn.readings.get(reading).copied().unwrap_or_default();
    let spread = (p95 - p05) / (2.0 * Z95);
    let error = drawn
        .instrument_sd
        .get(reading)
        .copied()
        .unwrap_or_default();
    let resolved = if spread > 0.0 {
        spread * spread / (spread * spread + error * error)
    } else {
        0.0
    };
    let lives = drawn
        .present
        .by_duty
        .first()
        .and_then(|duty| duty.get(mechanism));
    let logs = lives.map(|life| {
        life.lives_events
            .iter()
            .filter(|l| **l > 0.0)
            .map(|l| libm::log(*l))
    });
    let logs: Vec<f64> = logs.into_iter().flatten().collect();
    let variance = variance_of(&logs);
    let rate = drawn.rate_ln_sd.get(mechanism).copied().unwrap_or_default();
    let of_rate = if variance > 0.0 {
        (rate * rate / variance).min(1.0)
    } else {
        0.0
    };
    (Some(mechanism), resolved * of_rate)
}

fn variance_of(values: &[f64]) -> f64 {
    if values.len() < 2 {
        return 0.0;
    }
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    values
        .iter()
        .map(|value| (value - mean) * (value - mean))
        .sum::<f64>()
        / (count - 1.0)
}

/// What a look is worth: `outcomes` are the logarithm of the share of life used and the cost of running on, `renew` the cost
/// of replacing, `tells` the share of the spread of the first that the look resolves.
fn worth(outcomes: &[(f64, f64)], renew: f64, tells: f64) -> Worth {
    let count = outcomes.len().max(1) as f64;
    let run = outcomes.iter().map(|(_, cost)| cost).sum::<f64>() / count;
    let runs_without = run <= renew;
    let shares: Vec<f64> = outcomes.iter().map(|(share, _)| *share).collect();
    let variance = variance_of(&shares);
    let mut worth = Worth {
        runs_without,
        ..Worth::default()
    };
    if tells <= 0.0 || variance <= 0.0 {
        return worth;
    }
    let noise_sd = (variance * (1.0 - tells) / tells).max(0.0).sqrt();
    let noise = latin_hypercube_normal(outcomes.len(), 1, SEED);
    let noise = noise.first().map(Vec::as_slice).unwrap_or_default();
    for ((share, cost), noise) in outcomes.iter().zip(noise) {
        let expected = if noise_sd > 1e-6 {
            expected_after(outcomes, share + noise_sd * noise, noise_sd)
        } else {
            *cost
        };
        let other = (expected <= renew) != runs_without;
        let saved = if runs_without {
            expected - renew
        } else {
            renew - expected
        };
        worth.value += saved.max(0.0) / count;
        worth.changes_action += if other { 1.0 / count } else { 0.0 };
    }
    worth
}

/// Expected cost of running on for a part of which the look shows `seen`.
fn expected_after(outcomes: &[(f64, f64)], seen: f64, noise_sd: f64) -> f64 {
    let (mut weights, mut sum) = (0.0, 0.0);
    for (share, cost) in outcomes {
        let z = (seen - share) / noise_sd;
        let weight = libm::exp(-0.5 * z * z);
        weights += weight;
        sum += weight * cost;
    }
    if weights > 0.0 { sum / weights } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half the parts end at a cost of 100, half run on; replacing costs 30. Knowing which is which saves, by hand,
    /// 30 - 0.5 * 30 = 15; knowing nothing saves nothing.
    #[test]
    fn perfect_knowledge_is_worth_what_it_is_by_hand() {
        let outcomes: Vec<(f64, f64)> = (0..100)
            .map(|i| if i < 50 { (0.5, 100.0) } else { (-0.5, 0.0) })
            .collect();
        let perfect = worth(&outcomes, 30.0, 1.0);
        assert!((perfect.value - 15.0).abs() < 1e-9 && !perfect.runs_without);
        assert!((perfect.changes_action - 0.5).abs() < 1e-9);
        assert_eq!(
            worth(&outcomes, 30.0, 0.0).value.to_bits(),
            0.0_f64.to_bits()
        );
    }

    /// Two normal states and a normal signal: the value of a look that tells a share grows with the share and stays below that
    /// of perfect knowledge.
    #[test]
    fn a_look_that_tells_more_is_worth_more() {
        let outcomes: Vec<(f64, f64)> = (0..400)
            .map(|i| {
                let share = (f64::from(i) - 200.0) / 200.0;
                (share, if share > 0.6 { 100.0 } else { 0.0 })
            })
            .collect();
        let values: Vec<f64> = [0.2, 0.5, 0.8, 0.95, 1.0]
            .map(|tells| worth(&outcomes, 40.0, tells).value)
            .to_vec();
        assert!(
            values.windows(2).all(|pair| pair[0] < pair[1] + 0.2),
            "{values:?}"
        );
        assert!(values[0] < 0.8 * values[4], "{values:?}");
        assert!(values[4] > 10.0 && values[4] < 13.0, "{values:?}"); // by hand 0.2 * (100 - 40) = 12
    }
}

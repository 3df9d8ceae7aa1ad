//! What do more revolutions cost?

use super::{
    asked::{check_event, check_prices, price_of},
    outlook::{Outlook, State, earliest_of, earliest_told},
    overriding::limit_passed,
    shock_cost::later,
    speed_shift::{ASSUMPTIONS, shifted},
    words,
};
use crate::{
    AskSpeedChange, Basis, Bounds, LedgerError, PartAtSpeed, RenewalPrice, SpeedAlternative,
    SpeedChange, SpeedFigures,
    compare::{Earliest, Priced, Range, alone, odds, quantiles_of},
    ledger::Ledger,
    predict::Event,
    violations::Violations,
};
use ringland_host::contract::Card;

const MOST_CHANGES: usize = 8;
/// Beyond it a duty is another one.
const LARGEST_RAD_S: f64 = 300.0;
const RPM: f64 = std::f64::consts::TAU / 60.0;

impl Ledger {
    /// Shifts the engine speed of an event and forecasts every part of a unit with the same draws. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when there is
    /// no profile or nothing is installed, and the store's. A part that fails, fails alone.
    pub fn ask_speed_change(&self, ask: &AskSpeedChange) -> Result<SpeedChange, LedgerError> {
        check(ask)?;
        let event = self.event_in_unit(&ask.event, &ask.unit)?;
        let mut parts = self.outlooks(&ask.unit, &event)?;
        if ask.basis == Basis::New {
            for part in &mut parts {
                if let Ok(state) = &part.state {
                    part.state = alone(self.new_like(state, &event))?;
                }
            }
        }
        let states: Vec<_> = parts.iter().map(Outlook::state).collect();
        let now = self.first_of(&states);
        let mut alternatives = Vec::with_capacity(ask.changes_rad_s.len());
        for change in &ask.changes_rad_s {
            alternatives.push(self.at_speed(ask, &parts, &now, &event, *change)?);
        }
        let cards: Vec<&Card> = states.iter().flatten().map(|s| &*s.folded.card).collect();
        let mut notes = vec![words::independent()];
        notes.extend(parts.iter().filter_map(|part| {
            let error = part.state.as_ref().err()?;
            Some(words::has_none(&part.component, error))
        }));
        Ok(SpeedChange {
            unit: ask.unit.clone(),
            profile: event.profile.name.clone(),
            basis: ask.basis,
            earliest: earliest_told(&now, &states, &event),
            alternatives,
            assumptions: ASSUMPTIONS.map(Into::into).into(),
            notes,
            cautions: words::cautions(cards.into_iter()),
        })
    }

    fn first_of(&self, states: &[Option<&State>]) -> Earliest {
        earliest_of(states, self.options.samples, self.options.horizon_events)
    }

    fn at_speed(
        &self,
        ask: &AskSpeedChange,
        parts: &[Outlook],
        now: &Earliest,
        event: &Event,
        change_rad_s: f64,
    ) -> Result<SpeedAlternative, LedgerError> {
        let faster = event.with_duty(shifted(&event.duty, change_rad_s))?;
        let mut states = Vec::with_capacity(parts.len());
        for part in parts {
            let shifted = match &part.state {
                Ok(state) => {
                    let (folded, inspected) = (state.folded.clone(), state.inspected.clone());
                    alone(self.state_as(folded, inspected, &faster))?
                }
                Err(error) => Err(error.clone()),
            };
            states.push(shifted);
        }
        let told: Vec<_> = states.iter().map(|state| state.as_ref().ok()).collect();
        let then = self.first_of(&told);
        let mut figures: Vec<PartAtSpeed> = parts
            .iter()
            .zip(&states)
            .map(|(part, state)| part_at_speed(ask, part, state))
            .collect();
        figures.sort_by(|a, b| ratio(a).total_cmp(&ratio(b)));
        let earliest = earliest_told(&then, &told, &faster);
        let later = if change_rad_s.abs() <= 0.0 {
            vec![Range::known(0.0); then.events.len()]
        } else {
            later(now, &then)
        };
        let later_events = quantiles_of(&later);
        Ok(SpeedAlternative {
            change_rad_s,
            verdict: verdict(change_rad_s, &figures, &later_events, &earliest),
            cost_change: cost_change(&figures),
            parts: figures,
            earliest,
            later_events,
        })
    }
}

fn check(ask: &AskSpeedChange) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    check_event(&mut violations, &ask.event);
    check_prices(&mut violations, "replace_costs", &ask.replace_costs);
    let count = ask.changes_rad_s.len();
    if !(1..=MOST_CHANGES).contains(&count) {
        let remedy = "say by how much, such as 20.94 rad/s (200 rpm)";
        violations.add("changes_rad_s", count, "1 to 8 changes of speed", remedy);
    }
    for (index, change) in ask.changes_rad_s.iter().take(MOST_CHANGES).enumerate() {
        if !(-LARGEST_RAD_S..=LARGEST_RAD_S).contains(change) {
            let field = format!("changes_rad_s[{index}]");
            let remedy = "make a profile of that duty instead";
            violations.add(field, change, "-300 to 300 rad/s", remedy);
        }
    }
    violations.into_result()
}

fn part_at_speed(
    ask: &AskSpeedChange,
    part: &Outlook,
    state: &Result<State, LedgerError>,
) -> PartAtSpeed {
    let price = price_of(&ask.replace_costs, &part.component, &part.component_type);
    let figures = match (&part.state, state) {
        (Err(error), _) | (_, Err(error)) => Err(error.clone()),
        (Ok(before), Ok(after)) => Ok(figures(before, after, price)),
    };
    PartAtSpeed {
        component: part.component.clone(),
        component_type: part.component_type.clone(),
        figures,
    }
}

fn figures(before: &State, after: &State, price: Option<f64>) -> SpeedFigures {
    let (one, other) = (before.lives(), after.lives());
    let same = before.made.drawn.forecast == after.made.drawn.forecast;
    let ratios: Vec<Range> = other
        .iter()
        .zip(&one)
        .map(|(other, one)| {
            if same {
                Range::known(1.0)
            } else {
                other.over(*one)
            }
        })
        .collect();
    let cost = |lives: &[Range]| {
        let price = RenewalPrice {
            part: price?,
            labour: 0.0,
        };
        Some(Priced::new(price, 0.0, lives).cost())
    };
    let passed_before = passed(before);
    let mut limits_passed = passed(after);
    limits_passed.retain(|(reading, _)| passed_before.iter().all(|(other, _)| other != reading));
    SpeedFigures {
        life: after.made.prediction.life,
        life_ratio: quantiles_of(&ratios),
        longer: odds(&one, &other, same),
        risk: after.made.prediction.risk_next_event,
        risk_before: before.made.prediction.risk_next_event,
        limits_passed: limits_passed.into_iter().map(|(_, text)| text).collect(),
        cost: cost(&other),
        cost_before: cost(&one),
    }
}

/// Readings past their limits by the end of the first event, in words.
fn passed(state: &State) -> Vec<(String, String)> {
    let readings = state.made.prediction.readings.iter();
    readings
        .filter_map(|reading| {
            let when = limit_passed(reading)?;
            Some((reading.reading.clone(), format!("{} {when}", reading.label)))
        })
        .collect()
}

/// The least that is known of the median ratio: what the parts are put in order by.
fn ratio(part: &PartAtSpeed) -> f64 {
    let Ok(figures) = &part.figures else {
        return f64::INFINITY;
    };
    let Bounds { at_least, at_most } = figures.life_ratio.p50;
    at_most.or(at_least).unwrap_or(f64::MAX)
}

fn cost_change(parts: &[PartAtSpeed]) -> Option<Bounds> {
    let range = |bounds: Bounds| Range {
        low: bounds.at_least.unwrap_or(f64::NEG_INFINITY),
        high: bounds.at_most.unwrap_or(f64::INFINITY),
    };
    let changes = parts.iter().filter_map(|part| {
        let figures = part.figures.as_ref().ok()?;
        Some(range(figures.cost?.mean) - range(figures.cost_before?.mean))
    });
    let sum = changes.reduce(|a, b| Range {
        low: a.low + b.low,
        high: a.high + b.high,
    });
    sum.map(Range::bounds)
}

fn verdict(
    change_rad_s: f64,
    parts: &[PartAtSpeed],
    later: &crate::BoundedQuantiles,
    earliest: &crate::EarliestLimit,
) -> String {
    let rpm = libm::round(change_rad_s / RPM);
    let sign = if rpm > 0.0 { "+" } else { "" };
    let ratio_of = |part: &PartAtSpeed| {
        let figures = part.figures.as_ref().ok()?;
        Some(format!(
            "{} x{}",
            part.component.component(),
            words::spread(&figures.life_ratio)
        ))
    };
    let worst: Vec<String> = parts.iter().filter_map(ratio_of).take(3).collect();
    let passed: Vec<&str> = parts
        .iter()
        .filter_map(|part| part.figures.as_ref().ok())
        .flat_map(|figures| &figures.limits_passed)
        .map(String::as_str)
        .collect();
    let mut text = String::new();
    if let Some(first) = passed.first() {
        text = format!("Do not: at {sign}{rpm} rpm {first}. ");
    }
    text + &format!(
        "{sign}{rpm} rpm moves the unit's earliest limit by {} events, to {}. Lives that it shortens most: {}.",
        words::spread(later),
        words::limit(earliest),
        if worst.is_empty() {
            "none is known".into()
        } else {
            worst.join("; ")
        }
    )
}

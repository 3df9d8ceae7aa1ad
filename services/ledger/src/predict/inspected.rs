//! What inspections make of a prediction: rates that were learnt, conditions that were found other than
//! predicted, risks that clean looks for cracks lower, findings that overrule everything.

use super::{
    belief::beliefs,
    drawn::{Case, Drawing, Drawn, duty_of},
    lives::combine,
    notes::warning,
    request::{Event, case_of},
};
use crate::{
    Action, Advice, LedgerError, OverrulingFinding, Prediction, Quantiles, RateBelief,
    RemainingLife,
    fold::Folded,
    inspect::{Probe, Shift, Standing, reweigh},
    ledger::Ledger,
    rows,
};
use ringland_host::contract::{Card, Consequence, Digest, Duty, Finding, Forecast, Rate};

/// A condition is moved along by at most so many events.
const MOST_EVENTS: usize = 60;
/// Halvings of an event: the last is a thousandth of it.
const HALVINGS: u32 = 10;

/// What inspections say of a component.
pub(crate) struct Inspected {
    pub(crate) beliefs: Vec<(Rate, RateBelief)>,
    pub(crate) standing: Standing,
}

impl Inspected {
    /// What they say of a new part like it: rates that were learnt, no finding.
    pub(crate) fn of_new_part(&self) -> Self {
        Self {
            beliefs: self.beliefs.clone(),
            standing: Standing::default(),
        }
    }

    /// Covers everything that a prediction takes from it.
    pub(crate) fn digest(&self) -> Result<Digest, LedgerError> {
        let beliefs: Vec<_> = self
            .beliefs
            .iter()
            .map(|(rate, b)| (rate.ln_mean, b))
            .collect();
        let standing = format!("{:?}", self.standing);
        Ok(rows::digest_of(&[
            &rows::encode(&beliefs)?,
            standing.as_bytes(),
        ]))
    }
}

impl Ledger {
    /// What all inspections say of a component and its like, by the model that it was folded with.
    pub(crate) fn inspected(&self, folded: &Folded) -> Result<Inspected, LedgerError> {
        let evidence = self.evidence(&folded.component, folded.plugin)?;
        let mut standing = self.standing(folded, &evidence)?;
        let of_batch = self.batch_words(&folded.component, folded.plugin, &folded.card)?;
        standing.notes.extend(of_batch);
        Ok(Inspected {
            beliefs: beliefs(&folded.card, &evidence)?,
            standing,
        })
    }

    /// Brings drawn lives in line with what inspections have found. Returns what the reader should know.
    pub(crate) fn apply_inspections(
        &self,
        standing: &Standing,
        (folded, event): (&Folded, &Event),
        drawing: &Drawing,
        drawn: &mut Drawn,
    ) -> Result<Vec<Finding>, LedgerError> {
        let mut notes = standing.notes.clone();
        for shift in &standing.shifts {
            notes.push(self.move_along(shift, (folded, event), drawing, drawn)?);
        }
        let hours = folded.row.tally.hours;
        let mechanisms = &mut drawn.forecast.mechanisms;
        reweigh(
            mechanisms,
            &standing.checks,
            hours,
            event.profile.duration_s / 3600.0,
        );
        for finding in &standing.overruled {
            let model = (folded.plugin, &*folded.card);
            notes.extend(self.unlikely_word(&folded.component.name, model, finding)?);
            let ended = folded.card.mechanisms.iter().zip(mechanisms.iter_mut());
            for (on_card, life) in ended {
                if finding.mechanisms.contains(&on_card.name) {
                    life.lives_events.fill(0.0);
                    life.risk_next_event = 1.0;
                }
            }
        }
        drawn.combined = combine(mechanisms, drawing.horizon_events);
        if !standing.checks.is_empty() {
            notes.push(warning(
                "crack_checks".into(),
                format!("{} clean", standing.checks.len()),
                "a crack of the assumed length is found as often as assumed for the method",
                "they lower the risk by what they would have found; they reset no damage, and duty since makes \
                 them fade"
                    .into(),
            ));
        }
        Ok(notes)
    }

    /// A mechanism whose reading was told to be no wear goes on from where the reading is: its condition is moved
    /// along the duty until the model reads what was measured.
    fn move_along(
        &self,
        shift: &Shift,
        (folded, event): (&Folded, &Event),
        drawing: &Drawing,
        drawn: &mut Drawn,
    ) -> Result<Finding, LedgerError> {
        let component = &folded.component.name;
        let past = self.fold_to(component, folded.plugin, shift.time)?;
        let case = case_of(folded, drawn.beliefs.clone());
        let duty = duty_of(&case, event)?;
        let ln_rate = case
            .beliefs
            .get(shift.mechanism)
            .map_or(0.0, |(rate, _)| rate.ln_mean);
        let reads = |condition: &[f64]| -> Result<f64, LedgerError> {
            let probe = Probe::new(self, &past, &duty, condition);
            Ok(probe
                .read(shift.reading, Some(shift.mechanism), ln_rate)?
                .value)
        };
        let advanced = |from: &[f64], events: f64| -> Result<Vec<f64>, LedgerError> {
            let duties = repeated(&duty, events);
            if duties.is_empty() {
                return Ok(from.to_vec());
            }
            let (specimen, prepared) = (&folded.sample.specimen, &folded.sample.prepared);
            let rows = self
                .models
                .advance(folded.plugin, specimen, prepared, from, &duties)
                .map_err(|error| LedgerError::of_model(component, error))?;
            Ok(rows.into_iter().last().unwrap_or_else(|| from.to_vec()))
        };
        let now = reads(&past.row.condition)?;
        let farthest = reads(&advanced(&past.row.condition, MOST_EVENTS as f64)?)?;
        let worse = (farthest - now).signum();
        let field = format!(
            "{}/{}",
            shift.inspection, folded.card.readings[shift.reading].name
        );
        let said = |events: f64, remedy: &str| {
            let value = format!("{}, moved by {events} events of the profile", shift.why);
            warning(
                field.clone(),
                value,
                "as the model predicted",
                remedy.into(),
            )
        };
        if (shift.measured - now) * worse <= 0.0 {
            return Ok(said(0.0, "it is no worse than predicted: nothing is moved"));
        }
        let (mut low, mut high) = (0.0, MOST_EVENTS as f64);
        let reached = (farthest - shift.measured) * worse >= 0.0;
        let halvings = if reached { HALVINGS + 6 } else { 0 };
        for _ in 0..halvings {
            let middle = 0.5 * (low + high);
            let there = reads(&advanced(&past.row.condition, middle)?)?;
            if (there - shift.measured) * worse < 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        let moved = Case {
            condition: advanced(&folded.row.condition, high)?,
            ..case
        };
        let other = self.draw_lives(moved, event, drawing)?;
        take_over(&folded.card, shift, other.forecast, &mut drawn.forecast);
        let high = libm::round(high * 1000.0) / 1000.0;
        Ok(if reached {
            said(
                high,
                "the part is as it was measured and goes on at the normal rate",
            )
        } else {
            said(
                high,
                "the model does not reach what was measured even then: judge it by the reading",
            )
        })
    }
}

/// So many events: whole ones, and a part of one without its shocks, which cannot be divided.
fn repeated(duty: &Duty, events: f64) -> Vec<Duty> {
    let whole = libm::floor(events);
    let part = events - whole;
    let mut duties = vec![duty.clone(); whole as usize];
    if part > 0.0 {
        let mut rest = duty.clone();
        rest.duration_s *= part;
        rest.time_s.iter_mut().for_each(|time| *time *= part);
        for cycles in &mut rest.cycles {
            cycles.counts.iter_mut().for_each(|count| *count *= part);
        }
        for column in rest.shocks.iter_mut().flat_map(|table| &mut table.columns) {
            column.clear();
        }
        duties.push(rest);
    }
    duties
}

/// The mechanism and its readings from the other forecast.
fn take_over(card: &Card, shift: &Shift, other: Forecast, forecast: &mut Forecast) {
    let on_card = &card.mechanisms[shift.mechanism];
    let pairs = forecast.mechanisms.iter_mut().zip(other.mechanisms);
    for (index, (mine, moved)) in pairs.enumerate() {
        if index == shift.mechanism {
            *mine = moved;
        }
    }
    let pairs = forecast.readings.iter_mut().zip(other.readings);
    for (field, (mine, moved)) in card.readings.iter().zip(pairs) {
        let its_own = field.informs.as_ref() == Some(&on_card.name);
        if its_own || on_card.reading.as_ref() == Some(&field.name) {
            *mine = moved;
        }
    }
}

/// Findings at the part come before whatever was computed: no life is left, and the advice is theirs.
pub(crate) fn overrule(card: &Card, prediction: &mut Prediction) {
    if prediction.overruled_by.is_empty() {
        return;
    }
    let none = Quantiles::default();
    prediction.life = RemainingLife {
        events: none,
        hours: none,
        crank_revolutions: prediction.life.crank_revolutions.map(|_| none),
        horizon_events: prediction.life.horizon_events,
    };
    prediction.risk_next_event = 1.0;
    let strictest = prediction
        .overruled_by
        .iter()
        .map(|finding| (advised(card, finding), finding))
        .reduce(|a, b| if b.0 > a.0 { b } else { a });
    if let Some((action, finding)) = strictest {
        let what = match action {
            Action::Stop => "do not run",
            _ => "replace it",
        };
        prediction.advice = Advice {
            action,
            within_events: 0.0,
            reading: finding.reading.clone(),
            text: format!("{}: {what}, whatever was computed.", capital(&finding.text)),
        };
    }
}

fn advised(card: &Card, finding: &OverrulingFinding) -> Action {
    let of_finding = |m: &&ringland_host::contract::Mechanism| finding.mechanisms.contains(&m.name);
    let ends = card.mechanisms.iter().filter(of_finding);
    let worst = ends.map(|m| m.consequence).max();
    let crack = finding.reading.is_empty();
    match worst {
        _ if crack => Action::Stop,
        Some(Consequence::Hazard | Consequence::UnitLoss) => Action::Stop,
        _ => Action::Replace,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

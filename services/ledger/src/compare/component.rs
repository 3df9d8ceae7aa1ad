//! Alternatives of one component side by side.

use super::{
    alternatives::{Variant, check, check_price, label_of, within},
    cost::{Priced, payback},
    paired::{Range, mean, odds, quantiles_of},
    seating::{seating, with_grid},
    subject::Subject,
    verdict,
};
use crate::{
    Alternative, AlternativeForecast, Basis, CompareRequest, Comparison, Difference, LedgerError,
    PowerChange, PredictRequest, ReadingPrediction, RenewalPrice,
    ledger::Ledger,
    predict::{Drawing, Drawn, Event, ahead_of, combined_risk, readings, remaining_life, warning},
    violations::Violations,
};
use ringland_host::contract::{Card, Finding};

const FEWEST: usize = 2;
const MOST: usize = 8;

/// An alternative and what was drawn of it.
struct Entry {
    label: String,
    variant: Variant,
    drawn: Drawn,
    lives: Vec<Range>,
    /// Of a renewal without its treatments, where prices are given.
    price: Option<RenewalPrice>,
    treated: bool,
}

impl Ledger {
    /// Compares alternatives of one component on the same duty. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything wrong with any alternative, [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when there is no profile or no model, or the model cannot answer, and the
    /// store's.
    pub fn compare(&self, request: &CompareRequest) -> Result<Comparison, LedgerError> {
        let asked = ahead_of(&request.ahead_events)?;
        let drawing = self.check_comparison(request, asked.clone())?;
        let subject = self.subject(&request.component, request.draws.basis)?;
        let event = self.event_of_profile(&self.profile_for(&PredictRequest {
            profile: request.profile.clone(),
            ..PredictRequest::of(request.component.clone())
        })?)?;
        let ahead = with_grid(&subject.card, &asked, drawing.horizon_events);
        let drawing = Drawing { ahead, ..drawing };
        let variants = self.variants(&subject, &request.alternatives)?;
        let labels = labels_of(&request.alternatives);
        let mut entries = Vec::with_capacity(variants.len());
        for ((variant, alternative), label) in
            variants.into_iter().zip(&request.alternatives).zip(labels)
        {
            let drawn = self.draw_variant(&subject, &variant, &event, &drawing)?;
            let lives = drawn.combined.lives.iter();
            let lives = lives.map(|life| Range::life(*life, drawing.horizon_events));
            entries.push(Entry {
                label,
                lives: lives.collect(),
                price: alternative.price.or(request.price),
                treated: !alternative.treatments.is_empty(),
                variant,
                drawn,
            });
        }
        let card = &subject.card;
        let forecasts: Vec<AlternativeForecast> = entries
            .iter()
            .map(|entry| entry.forecast(card, &event, &drawing, &asked))
            .collect();
        let mut differences = Vec::new();
        if let (Some((first, others)), Some((forecast, of_others))) =
            (entries.split_first(), forecasts.split_first())
        {
            for (other, of_other) in others.iter().zip(of_others) {
                differences.push(difference((first, forecast), (other, of_other)));
            }
        }
        Ok(Comparison {
            component: request.component.clone(),
            component_type: subject.component.component_type.clone(),
            profile: event.profile.name.clone(),
            basis: request.draws.basis,
            horizon_events: drawing.horizon_events,
            samples: drawing.samples,
            model_digest: subject.plugin,
            model_version: card.version.clone(),
            alternatives: forecasts,
            differences,
            notes: notes(&subject, request.draws.basis, &event),
            cautions: card.cautions.clone(),
            leaves_out: card.leaves_out.clone(),
        })
    }

    /// What is wrong with the call itself, all at once.
    fn check_comparison(
        &self,
        request: &CompareRequest,
        ahead: Vec<f64>,
    ) -> Result<Drawing, LedgerError> {
        let mut violations = Violations::default();
        let drawing = self.drawing(&request.draws, ahead, &mut violations);
        let count = request.alternatives.len();
        if !(FEWEST..=MOST).contains(&count) {
            let remedy =
                "give what is to be compared; the first may be empty: the component as it is";
            violations.add("alternatives", count, "2 to 8", remedy);
        }
        for (index, alternative) in request.alternatives.iter().take(MOST).enumerate() {
            check(
                &mut violations,
                &format!("alternatives[{index}]."),
                alternative,
            );
        }
        check_price(&mut violations, "price", request.price);
        violations.into_result()?;
        Ok(drawing)
    }

    /// Every alternative, or everything that is wrong with any of them.
    fn variants(
        &self,
        subject: &Subject,
        alternatives: &[Alternative],
    ) -> Result<Vec<Variant>, LedgerError> {
        let mut variants = Vec::with_capacity(alternatives.len());
        let mut violations = Violations::default();
        let mut refused = None;
        for (index, alternative) in alternatives.iter().enumerate() {
            match self.variant(subject, &[alternative]) {
                Ok(variant) => variants.push(variant),
                Err(error) => match within(&format!("alternatives[{index}]."), error) {
                    LedgerError::InvalidArgument {
                        reason,
                        violations: more,
                    } => {
                        refused.get_or_insert(reason);
                        for each in more {
                            violations.push(each);
                        }
                    }
                    error => return Err(error),
                },
            }
        }
        match (refused, violations.into_result()) {
            (Some(reason), Err(LedgerError::InvalidArgument { violations, .. })) => {
                Err(LedgerError::InvalidArgument { reason, violations })
            }
            (_, Err(error)) => Err(error),
            (_, Ok(())) => Ok(variants),
        }
    }
}

impl Entry {
    fn priced(&self) -> Option<Priced<'_>> {
        let treatments = self.variant.treatments_price?;
        Some(Priced::new(self.price?, treatments, &self.lives))
    }

    fn forecast(
        &self,
        card: &Card,
        event: &Event,
        drawing: &Drawing,
        asked: &[f64],
    ) -> AlternativeForecast {
        let (drawn, horizon) = (&self.drawn, drawing.horizon_events);
        let limiting = drawn.limiting();
        let paths = &drawn.forecast.readings;
        let mut readings = readings(card, paths, &drawing.ahead);
        for reading in &mut readings {
            let wanted = |at: f64| asked.iter().any(|events| events.total_cmp(&at).is_eq());
            reading.ahead.retain(|ahead| wanted(ahead.events));
        }
        let beyond = self.lives.iter().filter(|life| life.high.is_infinite());
        AlternativeForecast {
            label: self.label.clone(),
            life: remaining_life(&drawn.combined.lives, &event.profile, horizon),
            mean_life_events: mean(&self.lives).bounds(),
            limiting_mechanism: limiting
                .and_then(|(index, _)| card.mechanisms.get(index))
                .map(|mechanism| mechanism.name.clone())
                .unwrap_or_default(),
            limiting_probability: limiting.map_or(0.0, |(_, probability)| probability),
            beyond_horizon_probability: beyond.count() as f64 / self.lives.len().max(1) as f64,
            risk_next_event: combined_risk(&drawn.forecast.mechanisms),
            mechanisms: drawn.mechanisms(card, event, horizon),
            readings,
            seating: seating(card, paths, &drawing.ahead),
            cost: self.priced().map(|priced| priced.cost()),
            model_prior_only: drawn.is_prior(card),
            evidence: self.variant.evidence.clone(),
            notes: self.notes(horizon),
        }
    }

    fn notes(&self, horizon: f64) -> Vec<Finding> {
        let mut notes = self.variant.notes.clone();
        notes.extend(self.drawn.forecast.notes.iter().cloned());
        if self.price.is_some() && self.variant.treatments_price.is_none() {
            notes.push(warning(
                "treatments.price".into(),
                "not known".into(),
                "a price of each treatment",
                "give it in the call or in the catalogue; without it no cost is told".into(),
            ));
        }
        let beyond = self
            .lives
            .iter()
            .filter(|life| life.high.is_infinite())
            .count();
        if beyond > 0 {
            notes.push(warning(
                "life.events".into(),
                format!("{beyond} of {} drawn lives reach the horizon", self.lives.len()),
                "lives within the horizon",
                format!(
                    "read what is open as \"at least\" or \"at most\", or ask for a horizon of more than {horizon} events"
                ),
            ));
        }
        notes
    }
}

/// Names of the alternatives; the second of two equal ones says so.
fn labels_of(alternatives: &[Alternative]) -> Vec<String> {
    let mut labels: Vec<String> = Vec::with_capacity(alternatives.len());
    for alternative in alternatives {
        let label = label_of(alternative);
        let number = 1 + labels.iter().filter(|other| **other == label).count();
        labels.push(if number == 1 {
            label
        } else {
            format!("{label} ({number})")
        });
    }
    labels
}

/// One alternative against the first.
fn difference(
    (first, of_first): (&Entry, &AlternativeForecast),
    (other, of_other): (&Entry, &AlternativeForecast),
) -> Difference {
    let same = other.variant.is_as(&first.variant);
    let pairs = other.lives.iter().zip(&first.lives);
    let ratios: Vec<Range> = pairs
        .map(|(life, of_first)| {
            if same {
                Range::known(1.0)
            } else {
                life.over(*of_first)
            }
        })
        .collect();
    let mean_ratio = if same {
        Range::known(1.0)
    } else {
        mean(&other.lives).over(mean(&first.lives))
    };
    let prices = first.priced().zip(other.priced());
    let mut difference = Difference {
        label: other.label.clone(),
        against: first.label.clone(),
        life_ratio: quantiles_of(&ratios),
        mean_life_ratio: mean_ratio.bounds(),
        longer: odds(&first.lives, &other.lives, same),
        payback: prices.map(|(of_first, of_other)| payback(&of_first, &of_other, &ratios)),
        power_changes: power_changes(&of_first.readings, &of_other.readings),
        verdict: String::new(),
    };
    difference.verdict = verdict::of_component(&difference, of_first, of_other, other.treated);
    difference
}

/// Every reading of friction power, now and ahead.
fn power_changes(first: &[ReadingPrediction], other: &[ReadingPrediction]) -> Vec<PowerChange> {
    let is_power = |reading: &&ReadingPrediction| {
        reading.unit == "W" && reading.reading.contains("friction_power")
    };
    let pairs = first
        .iter()
        .filter(is_power)
        .zip(other.iter().filter(is_power));
    pairs
        .flat_map(|(one, other)| {
            let change = |events: f64, first_w: f64, alternative_w: f64| PowerChange {
                reading: one.reading.clone(),
                label: one.label.clone(),
                events,
                first_w,
                alternative_w,
            };
            let now = change(0.0, one.now.p50, other.now.p50);
            let ahead = one.ahead.iter().zip(&other.ahead);
            let ahead = ahead.map(move |(a, b)| change(a.events, a.value.p50, b.value.p50));
            std::iter::once(now).chain(ahead)
        })
        .collect()
}

fn notes(subject: &Subject, basis: Basis, event: &Event) -> Vec<Finding> {
    let mut notes = Vec::new();
    if basis == Basis::Present {
        notes.push(warning(
            "basis".into(),
            "as it is now".into(),
            "a crack check before a used part is treated",
            "what is done to a used part acts from now on: wear and damage stay, and a crack that is there is not mended"
                .into(),
        ));
    }
    notes.extend(channel_notes(&subject.card, event));
    notes
}

/// Channels that the profile lacks.
pub(super) fn channel_notes(card: &Card, event: &Event) -> Vec<Finding> {
    let profile = &event.profile.name;
    let optional = card.duty.channels.iter().filter(|need| !need.required);
    optional
        .filter(|need| event.duty.column(&need.name).is_none())
        .map(|need| {
            warning(
                format!("{profile}.{}", need.name),
                "absent".into(),
                "the channel",
                format!("make a profile with it; {} is assumed", need.default_value),
            )
        })
        .collect()
}

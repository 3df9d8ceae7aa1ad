//! The drawn lives of one component: whatever its spec, surfaces and condition are, as they are in
//! the ledger or as they might be.

use super::{
    belief::beliefs,
    drivers::drivers,
    lives::{Combined, combine, remaining_life},
    request::Event,
};
use crate::{
    ComponentName, LedgerError, MechanismPrediction, RateBelief, Reason, ledger::Ledger, rows,
};
use ringland_host::contract::{
    Card, Digest, Duty, Forecast, ForecastRequest, Prepared, Rate, Specimen,
};

/// A component in a condition.
pub(crate) struct Case<'a> {
    pub(crate) component: &'a ComponentName,
    pub(crate) plugin: Digest,
    pub(crate) card: &'a Card,
    pub(crate) specimen: &'a Specimen,
    pub(crate) prepared: &'a Prepared,
    pub(crate) condition: Vec<f64>,
    /// A value for each mate need of the card.
    pub(crate) mates: Vec<f64>,
}

/// How lives are drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawing {
    pub(crate) samples: u32,
    pub(crate) horizon_events: f64,
    /// When readings are wanted; rises from 0.
    pub(crate) ahead: Vec<f64>,
}

/// What came of it.
pub(crate) struct Drawn {
    pub(crate) seed: u64,
    pub(crate) beliefs: Vec<(Rate, RateBelief)>,
    pub(crate) forecast: Forecast,
    pub(crate) combined: Combined,
}

impl Ledger {
    /// Forecasts a case over an event, with the beliefs of its component.
    pub(crate) fn draw_lives(
        &self,
        case: Case<'_>,
        event: &Event,
        drawing: &Drawing,
    ) -> Result<Drawn, LedgerError> {
        let beliefs = beliefs(case.card, case.component);
        let seed = seed_of(case.component);
        let request = ForecastRequest {
            event: duty_of(&case, event)?,
            condition: case.condition,
            rates: beliefs.iter().map(|(rate, _)| *rate).collect(),
            samples: drawing.samples,
            seed,
            horizon_events: drawing.horizon_events,
            ahead_events: drawing.ahead.clone(),
        };
        let forecast = self
            .models
            .forecast(case.plugin, case.specimen, case.prepared, &request)
            .map_err(|error| LedgerError::of_model(case.component, error))?;
        Ok(Drawn {
            seed,
            beliefs,
            combined: combine(&forecast.mechanisms, drawing.horizon_events),
            forecast,
        })
    }
}

impl Drawn {
    /// The mechanisms in card order.
    pub(crate) fn mechanisms(
        &self,
        card: &Card,
        event: &Event,
        horizon_events: f64,
    ) -> Vec<MechanismPrediction> {
        card.mechanisms
            .iter()
            .zip(&self.forecast.mechanisms)
            .zip(&self.beliefs)
            .zip(&self.combined.first)
            .map(
                |(((on_card, life), (_, rate)), first)| MechanismPrediction {
                    mechanism: on_card.name.clone(),
                    label: on_card.label.clone(),
                    consequence: on_card.consequence,
                    life_ends_when: on_card.life_ends_when.clone(),
                    life: remaining_life(&life.lives_events, &event.profile, horizon_events),
                    risk_next_event: life.risk_next_event,
                    first_probability: *first,
                    drivers: drivers(card, &event.duty, life),
                    rate: rate.clone(),
                },
            )
            .collect()
    }

    /// Whether every belief is the card's own: nothing that was measured has moved one.
    pub(crate) fn is_prior(&self, card: &Card) -> bool {
        let pairs = self.beliefs.iter().zip(&card.mechanisms);
        let mut same = pairs.map(|((rate, _), mechanism)| {
            let widths = [rate.ln_sd, mechanism.rate_ln_sd];
            rate.ln_mean.abs() <= 0.0 && widths[0].total_cmp(&widths[1]).is_eq()
        });
        same.all(|same| same)
    }

    /// The mechanism that is first most often and how often that is; none when none is ever first.
    pub(crate) fn limiting(&self) -> Option<(usize, f64)> {
        let first = &self.combined.first;
        let most = first.iter().copied().fold(0.0, f64::max);
        let index = first
            .iter()
            .position(|share| most > 0.0 && *share >= most)?;
        Some((index, most))
    }
}

/// The event as the model reads it, its mates as the case has them.
fn duty_of(case: &Case<'_>, event: &Event) -> Result<Duty, LedgerError> {
    let name = &event.profile.name;
    let mut duty = event.duty.for_card(case.card).map_err(|missing| {
        LedgerError::precondition(
            Reason::ChannelMissing,
            name,
            format!(
                "{name} lacks {}, which the model of {} requires; name a profile that has it",
                missing.join(", "),
                case.component
            ),
        )
    })?;
    duty.mates.clone_from(&case.mates);
    Ok(duty)
}

/// One seed for all forecasts of a component: the same draws before and after use, for this event and for that, treated and not, so
/// that what differs between two forecasts is the component and not the sampling.
fn seed_of(component: &ComponentName) -> u64 {
    let digest = rows::digest_of(&[b"seed", component.component().as_bytes()]);
    u64::from_be_bytes(std::array::from_fn(|i| digest.0[i]))
}

//! The layers as effects of a linear model.

use super::{
    Belief, Correction, INSTRUMENT_BIAS_SD, InstrumentBias, Layer, LayerBelief, Observation,
    Shares, StatisticsError, Subject, unit,
};
use ringland_mechanics::statistics::layers::{LinearObservation, Posterior, condition};
use std::collections::{BTreeMap, BTreeSet};

/// An unknown that observations may share.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Effect {
    Layer(Layer, Key),
    /// What an untreated part has in place of the treatment layer.
    UntreatedPart(String),
    Bias(String),
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Shared(String),
    /// Unit or position not known: of this part alone.
    UnknownOf(String),
}

impl Key {
    fn new(key: &str, component: &str) -> Self {
        if key.is_empty() {
            Self::UnknownOf(component.into())
        } else {
            Self::Shared(key.into())
        }
    }
}

impl Observation {
    fn subject(&self) -> Subject {
        Subject {
            component: self.component.clone(),
            unit: self.unit.clone(),
            position: self.position.clone(),
            treatments: self.treatments.clone(),
        }
    }
}

/// The effects that make up each layer of a part, in order of the layers.
fn layers_of(part: &Subject) -> Vec<(Layer, Vec<Effect>)> {
    let shared = |layer, key: &str| vec![Effect::Layer(layer, Key::Shared(key.into()))];
    let known = |layer, key| vec![Effect::Layer(layer, Key::new(key, &part.component))];
    let mut own = shared(Layer::Component, &part.component);
    let mut layers = vec![(Layer::Shop, shared(Layer::Shop, ""))];
    if part.treatments.is_empty() {
        own.push(Effect::UntreatedPart(part.component.clone()));
    } else {
        let treatment = shared(Layer::Treatment, &part.treatments);
        layers.push((Layer::Treatment, treatment));
    }
    layers.push((Layer::Unit, known(Layer::Unit, &part.unit)));
    layers.push((Layer::Position, known(Layer::Position, &part.position)));
    layers.push((Layer::Component, own));
    layers
}

fn prior_sd(effect: &Effect, prior_ln_sd: f64, shares: Shares) -> f64 {
    let share = match effect {
        Effect::Bias(_) => return INSTRUMENT_BIAS_SD,
        Effect::Layer(Layer::Shop, _) => shares.shop,
        Effect::Layer(Layer::Treatment, _) | Effect::UntreatedPart(_) => shares.treatment,
        Effect::Layer(Layer::Unit, _) => shares.unit,
        Effect::Layer(Layer::Position, _) => shares.position,
        Effect::Layer(Layer::Component, _) => shares.component,
    };
    prior_ln_sd * share.sqrt()
}

/// What is believed of every effect.
pub(super) struct Effects {
    index: BTreeMap<Effect, usize>,
    prior_sds: Vec<f64>,
    believed: Posterior,
}

impl Effects {
    pub(super) fn of(
        prior_ln_sd: f64,
        shares: Shares,
        observations: &[Observation],
        subject: &Subject,
    ) -> Result<Self, StatisticsError> {
        let mut index = BTreeMap::new();
        let seen = observations.iter().map(Observation::subject);
        for part in seen.chain([subject.clone()]) {
            let effects = layers_of(&part)
                .into_iter()
                .flat_map(|(_, effects)| effects);
            index.extend(effects.map(|effect| (effect, 0)));
        }
        let named = observations
            .iter()
            .filter(|seen| !seen.instrument.is_empty());
        index.extend(named.map(|seen| (Effect::Bias(seen.instrument.clone()), 0)));
        // Numbered in their own order, not in that of the observations.
        for (number, place) in index.values_mut().enumerate() {
            *place = number;
        }
        let prior_sds: Vec<f64> = index
            .keys()
            .map(|effect| prior_sd(effect, prior_ln_sd, shares))
            .collect();
        let rows = observations.iter().map(|seen| LinearObservation {
            value: seen.ln_rate,
            sd: noise(seen),
            loads: loads(&index, seen),
        });
        let rows: Vec<LinearObservation> = rows.collect();
        Ok(Self {
            believed: condition(&prior_sds, &rows)?,
            index,
            prior_sds,
        })
    }

    /// Total, layers and biases.
    pub(super) fn correction(
        &self,
        observations: &[Observation],
        subject: &Subject,
    ) -> Result<Correction, StatisticsError> {
        let layers = layers_of(subject);
        let all: Vec<Effect> = layers
            .iter()
            .flat_map(|(_, effects)| effects.clone())
            .collect();
        let belief = |(layer, effects): &(Layer, Vec<Effect>)| {
            let shares = |seen: &&Observation| {
                let theirs = layers_of(&seen.subject());
                theirs
                    .iter()
                    .any(|(l, e)| l == layer && e.first() == effects.first())
            };
            let Belief { mean, sd } = self.sum(effects)?;
            let prior_variance: f64 = effects.iter().map(|e| self.prior_sd(e).powi(2)).sum();
            Ok(LayerBelief {
                layer: *layer,
                key: key(*layer, subject),
                mean,
                sd,
                prior_sd: prior_variance.sqrt(),
                observations: observations.iter().filter(shares).count(),
                units: observations
                    .iter()
                    .filter(shares)
                    .map(unit)
                    .collect::<BTreeSet<_>>()
                    .len(),
            })
        };
        let biases = self.index.keys().filter_map(|effect| match effect {
            Effect::Bias(instrument) => Some((instrument, effect)),
            _ => None,
        });
        let biases = biases.map(|(instrument, effect)| {
            let Belief { mean, sd } = self.sum(std::slice::from_ref(effect))?;
            Ok(InstrumentBias {
                instrument: instrument.clone(),
                mean,
                sd,
            })
        });
        Ok(Correction {
            total: self.sum(&all)?,
            layers: layers.iter().map(belief).collect::<Result<_, _>>()?,
            biases: biases.collect::<Result<_, _>>()?,
            unproven: None,
        })
    }

    /// What is believed of the layer of the subject's treatment; `None` when it is untreated.
    pub(super) fn treatment(&self, subject: &Subject) -> Result<Option<Belief>, StatisticsError> {
        let layers = layers_of(subject);
        let effects = layers.iter().find(|(layer, _)| *layer == Layer::Treatment);
        effects.map(|(_, effects)| self.sum(effects)).transpose()
    }

    fn sum(&self, effects: &[Effect]) -> Result<Belief, StatisticsError> {
        let loads = effects
            .iter()
            .filter_map(|e| Some((*self.index.get(e)?, 1.0)));
        self.believed.belief(&loads.collect::<Vec<_>>())
    }

    fn prior_sd(&self, effect: &Effect) -> f64 {
        let number = self.index.get(effect);
        number
            .and_then(|i| self.prior_sds.get(*i))
            .copied()
            .unwrap_or(0.0)
    }
}

/// Standardised difference of an observation from what the others let expect.
pub(super) fn residual(
    prior_ln_sd: f64,
    shares: Shares,
    others: &[Observation],
    seen: &Observation,
) -> Result<f64, StatisticsError> {
    let effects = Effects::of(prior_ln_sd, shares, others, &seen.subject())?;
    let expected = effects.believed.belief(&loads(&effects.index, seen))?;
    let heard = effects
        .index
        .contains_key(&Effect::Bias(seen.instrument.clone()));
    let bias_sd = if heard || seen.instrument.is_empty() {
        0.0
    } else {
        seen.bias_slope * INSTRUMENT_BIAS_SD
    };
    let error = libm::hypot(noise(seen), bias_sd);
    Ok((seen.ln_rate - expected.mean) / libm::hypot(expected.sd, error))
}

fn loads(index: &BTreeMap<Effect, usize>, seen: &Observation) -> Vec<(usize, f64)> {
    let layers = layers_of(&seen.subject());
    let effects = layers.into_iter().flat_map(|(_, effects)| effects);
    let mut loads: Vec<(usize, f64)> = effects
        .filter_map(|effect| Some((*index.get(&effect)?, 1.0)))
        .collect();
    let bias = index.get(&Effect::Bias(seen.instrument.clone()));
    loads.extend(bias.map(|number| (*number, seen.bias_slope)));
    loads
}

/// An instrument that was not told has a bias nobody else shares: part of the reading's error.
fn noise(seen: &Observation) -> f64 {
    if seen.instrument.is_empty() {
        libm::hypot(seen.ln_sd, seen.bias_slope * INSTRUMENT_BIAS_SD)
    } else {
        seen.ln_sd
    }
}

fn key(layer: Layer, subject: &Subject) -> String {
    match layer {
        Layer::Shop => String::new(),
        Layer::Treatment => subject.treatments.clone(),
        Layer::Unit => subject.unit.clone(),
        Layer::Position => subject.position.clone(),
        Layer::Component => subject.component.clone(),
    }
}

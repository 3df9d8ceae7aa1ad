//! What is believed of the rates of a component's mechanisms.

use crate::{
    Component, InstrumentBias, LedgerError, RateBelief, RateLayer,
    inspect::{Evidence, Learnt},
    ledger::Ledger,
};
use ringland_host::contract::{Card, Digest, Rate};

impl Ledger {
    /// The beliefs of a component's mechanisms as if it had had these treatments.
    pub(crate) fn beliefs_as(
        &self,
        component: &Component,
        (plugin, card): (Digest, &Card),
        treatments: String,
    ) -> Result<Vec<(Rate, RateBelief)>, LedgerError> {
        let mut evidence = self.evidence(component, plugin)?;
        evidence.subject.treatments = treatments;
        beliefs(card, &evidence)
    }
}

/// The belief of each mechanism of a card, in card order: the prior of the model, moved by measured readings of
/// the component and its like.
pub(crate) fn beliefs(
    card: &Card,
    evidence: &Evidence,
) -> Result<Vec<(Rate, RateBelief)>, LedgerError> {
    let mechanisms = card.mechanisms.iter().enumerate();
    mechanisms
        .map(|(index, mechanism)| {
            let learnt = evidence.correction(card, index)?;
            Ok(if learnt.readings == 0 {
                prior(mechanism.rate_ln_sd)
            } else {
                corrected(learnt)
            })
        })
        .collect()
}

fn prior(ln_sd: f64) -> (Rate, RateBelief) {
    let rate = Rate {
        ln_mean: 0.0,
        ln_sd,
    };
    let belief = RateBelief {
        median: 1.0,
        ln_sd,
        evidence: "model prior; no inspection of this shop yet".into(),
        layers: Vec::new(),
        instrument_biases: Vec::new(),
        unproven: String::new(),
    };
    (rate, belief)
}

fn corrected(learnt: Learnt) -> (Rate, RateBelief) {
    let evidence = format!(
        "{} of {} of this shop, {} of this part",
        counted(learnt.readings, "reading"),
        counted(learnt.units, "unit"),
        learnt.own,
    );
    let correction = learnt.correction;
    let rate = Rate {
        ln_mean: correction.total.mean,
        ln_sd: correction.total.sd,
    };
    let count = |n: usize| i32::try_from(n).unwrap_or(i32::MAX);
    let layers = correction.layers.into_iter().map(|layer| RateLayer {
        layer: layer.layer.as_str().into(),
        key: layer.key,
        median: libm::exp(layer.mean),
        ln_sd: layer.sd,
        prior_ln_sd: layer.prior_sd,
        observations: count(layer.observations),
        units: count(layer.units),
    });
    let biases = correction.biases.into_iter().map(|bias| InstrumentBias {
        instrument_id: bias.instrument,
        mean: bias.mean,
        sd: bias.sd,
    });
    let belief = RateBelief {
        median: libm::exp(rate.ln_mean),
        ln_sd: rate.ln_sd,
        evidence,
        layers: layers.collect(),
        instrument_biases: biases.collect(),
        unproven: correction.unproven.unwrap_or_default(),
    };
    (rate, belief)
}

fn counted(n: usize, word: &str) -> String {
    format!("{n} {word}{}", if n == 1 { "" } else { "s" })
}

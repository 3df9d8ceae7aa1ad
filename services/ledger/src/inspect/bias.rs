//! Readings that were told to be the bias of their instrument: they move that, and what else the instrument read,
//! and no rate.

use super::evidence::Evidence;
use crate::{
    Explanation, LedgerError,
    correct::{INSTRUMENT_BIAS_SD, InstrumentBias, Observation, Subject, posterior},
};
use ringland_mechanics::statistics::correction::Belief;
use std::collections::BTreeMap;

/// Takes the biases that were told out of what the same instruments have read of a mechanism. Each such reading is
/// compared with what all others say of its part.
pub(super) fn take_out(
    evidence: &Evidence,
    mechanism: &str,
    prior_ln_sd: f64,
    observations: &mut [Observation],
) -> Result<BTreeMap<String, Belief>, LedgerError> {
    let mut biases: BTreeMap<String, Belief> = BTreeMap::new();
    for (component, observed) in &evidence.observed {
        for told in &observed.compared {
            let is_bias = told.explanation == Explanation::InstrumentBias;
            let of_this = told.mechanism.as_deref() == Some(mechanism);
            let Some((ln_rate, ln_sd)) = told.ln_rate.zip(told.ln_sd) else {
                continue;
            };
            if !is_bias
                || !of_this
                || told.instrument_id.is_empty()
                || libm::fabs(told.bias_slope) <= 0.0
            {
                continue;
            }
            let part = Subject {
                component: component.component().into(),
                unit: observed.unit.clone(),
                position: observed.position.clone(),
                treatments: observed.treatments.clone(),
            };
            let rate = posterior(prior_ln_sd, observations, &part)?.total;
            let seen = Belief {
                mean: (ln_rate - rate.mean) / told.bias_slope,
                sd: libm::hypot(ln_sd, rate.sd) / libm::fabs(told.bias_slope),
            };
            let usual = Belief {
                mean: 0.0,
                sd: INSTRUMENT_BIAS_SD,
            };
            let known = biases.get(&told.instrument_id).copied().unwrap_or(usual);
            biases.insert(told.instrument_id.clone(), known.after(seen));
        }
    }
    for observation in observations {
        if let Some(bias) = biases.get(&observation.instrument) {
            observation.ln_rate -= observation.bias_slope * bias.mean;
        }
    }
    Ok(biases)
}

/// Biases that were told beside those that follow from what was learnt.
pub(super) fn together(learnt: &mut Vec<InstrumentBias>, told: BTreeMap<String, Belief>) {
    for (instrument, bias) in told {
        match learnt
            .iter_mut()
            .find(|known| known.instrument == instrument)
        {
            // What was told was taken out before the rest was learnt.
            Some(known) => {
                known.mean += bias.mean;
                known.sd = known.sd.min(bias.sd);
            }
            None => learnt.push(InstrumentBias {
                instrument,
                mean: bias.mean,
                sd: bias.sd,
            }),
        }
    }
}

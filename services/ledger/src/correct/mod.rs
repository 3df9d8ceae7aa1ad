//! What measured wear teaches of the rate of a mechanism, in layers: how this shop's parts differ from the model,
//! what a treatment does, what a unit does, what a position in a unit does, and what is left to the single part.
//!
//! ln b of a part is the sum of its layers, each with an independent normal prior of mean 0; a reading is one
//! observation of ln b with an error of its own and the bias of its instrument. All of it is one
//! Gaussian, conditioned exactly (`ringland_mechanics::statistics::layers`).
//!
//! The layers share the variance of the model's prior as in [`SHARES`] (assumed: nobody has published such a split). An
//! untreated part has no treatment layer; the share of that layer is then left to the part itself, where it
//! teaches no other part. So every part starts from the spread on the model's card, treated or not.
//!
//! What is not wear (casting shift, abuse, an assembly error) must not come in here: it is explained before.

#[cfg(test)]
mod coverage;
mod effects;
#[cfg(test)]
mod laws;
#[cfg(test)]
mod tests;
mod unproven;

use crate::LedgerError;
use effects::Effects;
use ringland_mechanics::statistics::StatisticsError;
use ringland_mechanics::statistics::correction::Belief;

/// Share of each layer in the variance of ln rate. Assumed.
pub(crate) const SHARES: Shares = Shares {
    shop: 0.35,
    treatment: 0.20,
    unit: 0.15,
    position: 0.10,
    component: 0.20,
};

/// Prior standard deviation of the relative bias of an instrument: two testers are commonly 2 to 3 % apart.
/// Common practice, no source.
pub(crate) const INSTRUMENT_BIAS_SD: f64 = 0.02;

/// The most observations of one mechanism.
pub(crate) const MAX_OBSERVATIONS: usize = 5000;

/// Shares of the layers in the variance of ln rate; they add up to 1.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shares {
    pub shop: f64,
    pub treatment: f64,
    pub unit: f64,
    pub position: f64,
    pub component: f64,
}

/// One reading that informs one mechanism of one component type.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Observation {
    pub component: String,
    /// Empty: not known, and then shared with no other part.
    pub unit: String,
    /// Where in the unit. The same position of other units shares the layer. Empty: not known.
    pub position: String,
    /// Joined ids, in order of application; empty: untreated. Another list is another treatment.
    pub treatments: String,
    /// Identity of the tester. Empty: not told, and then its bias is taken as its own for each reading.
    pub instrument: String,
    /// ln(measured / predicted at rate 1) of what has worn.
    pub ln_rate: f64,
    /// Error of the reading and form of the model, as standard deviation of `ln_rate`; above 0.
    pub ln_sd: f64,
    /// Change of `ln_rate` per unit of the instrument's relative bias.
    pub bias_slope: f64,
}

/// The part that is asked about.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Subject {
    pub component: String,
    pub unit: String,
    pub position: String,
    pub treatments: String,
}

/// What is believed of the rate of a part after the observations.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Correction {
    /// Of ln rate.
    pub total: Belief,
    /// Its layers; their means add up to that of the total, their spreads do not (they are correlated).
    pub layers: Vec<LayerBelief>,
    /// Every instrument that was named, in order of its identity.
    pub biases: Vec<InstrumentBias>,
    /// Set where the effect of the subject's treatment rests on too little, with what would tell.
    pub unproven: Option<String>,
}

/// A layer of ln rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Layer {
    Shop,
    Treatment,
    Unit,
    Position,
    Component,
}

impl Layer {
    /// Name for people and rows.
    pub(crate) fn as_str(self) -> &'static str {
        match self {
            Self::Shop => "shop",
            Self::Treatment => "treatment",
            Self::Unit => "unit",
            Self::Position => "position",
            Self::Component => "component",
        }
    }
}

/// What is believed of one layer of the subject.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LayerBelief {
    pub layer: Layer,
    /// Which treatment, unit, position or component; empty for the shop.
    pub key: String,
    pub mean: f64,
    pub sd: f64,
    pub prior_sd: f64,
    /// Observations of parts that share the layer.
    pub observations: usize,
    /// Units that these come from.
    pub units: usize,
}

/// What is believed of an instrument: its readings over true ones, less 1.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct InstrumentBias {
    pub instrument: String,
    pub mean: f64,
    pub sd: f64,
}

/// What the observations teach of the subject's ln rate, whose prior is normal with mean 0 and `prior_ln_sd`. The answer has
/// the same bits in whatever order they come.
///
/// # Errors
/// More than [`MAX_OBSERVATIONS`]; a number out of its range.
pub(crate) fn posterior(
    prior_ln_sd: f64,
    observations: &[Observation],
    subject: &Subject,
) -> Result<Correction, LedgerError> {
    check_count(observations.len())?;
    let believed = Effects::of(prior_ln_sd, SHARES, observations, subject)
        .and_then(|effects| effects.correction(observations, subject))
        .map_err(not_computed)?;
    let treatment = believed.layers.iter().find(|l| l.layer == Layer::Treatment);
    let unproven = treatment.map_or(Ok(None), |layer| {
        unproven::sentence(prior_ln_sd, observations, subject, layer)
    });
    Ok(Correction {
        unproven: unproven.map_err(not_computed)?,
        ..believed
    })
}

/// How far an observation lies from what all the others let expect, in standard deviations of that
/// expectation and its own error. Beyond 3 either way it is not learnt from until it is explained.
///
/// # Errors
/// No observation of that index; as [`posterior`].
pub(crate) fn surprise(
    prior_ln_sd: f64,
    observations: &[Observation],
    index: usize,
) -> Result<f64, LedgerError> {
    check_count(observations.len())?;
    let Some(seen) = observations.get(index) else {
        return Err(LedgerError::Internal {
            message: format!(
                "observation {index} of {} does not exist",
                observations.len()
            ),
        });
    };
    let mut others = observations.to_vec();
    others.remove(index);
    effects::residual(prior_ln_sd, SHARES, &others, seen).map_err(not_computed)
}

fn check_count(count: usize) -> Result<(), LedgerError> {
    if count <= MAX_OBSERVATIONS {
        return Ok(());
    }
    Err(LedgerError::ResourceExhausted {
        what: "readings that inform one mechanism".into(),
        value: count as u64,
        limit: MAX_OBSERVATIONS as u64,
        remedy: "leave out the oldest".into(),
    })
}

fn not_computed(error: StatisticsError) -> LedgerError {
    LedgerError::Internal {
        message: format!("the correction by readings could not be computed: {error}"),
    }
}

/// Identity of the unit; a part whose unit is not known counts as one of its own.
fn unit(seen: &Observation) -> (&str, &str) {
    match seen.unit.as_str() {
        "" => ("", &seen.component),
        known => (known, ""),
    }
}

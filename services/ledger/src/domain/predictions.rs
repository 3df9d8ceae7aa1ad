//! How much life is left, what ends it, how sure that is.

use crate::{
    BuildName, ComponentName, DutyRecordName, InspectionName, PredictionName, ProfileName, UnitName,
};
use jiff::Timestamp;
use ringland_host::contract::{Consequence, Digest, Finding, LimitSide};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a prediction is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct PredictRequest {
    /// Which component.
    pub component: ComponentName,
    /// `None`: the event profile of the unit that it is installed in.
    pub profile: Option<ProfileName>,
    /// `None`: the active model of its type.
    pub model_digest: Option<Digest>,
    /// Readings at these numbers of events ahead, besides now; at most 64. Empty: 1, 2, 4, 8, 16.
    pub ahead_events: Vec<f64>,
}

impl PredictRequest {
    /// With the defaults.
    pub fn of(component: ComponentName) -> Self {
        Self {
            component,
            profile: None,
            model_digest: None,
            ahead_events: Vec::new(),
        }
    }
}

/// Remaining life of a component.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prediction {
    /// `components/{component}/predictions/{prediction}`
    pub name: PredictionName,
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where it is installed, if it is.
    pub unit: Option<UnitName>,
    /// Where it is installed, if it is.
    pub build: Option<BuildName>,
    /// End of the last duty in it.
    pub as_of_time: Option<Timestamp>,
    /// The duty assumed for each event to come.
    pub profile: ProfileName,
    /// Whichever mechanism comes first.
    pub life: RemainingLife,
    /// The mechanism most likely to come first; empty when none does within the horizon.
    pub limiting_mechanism: String,
    /// How likely that is.
    pub limiting_probability: f64,
    /// Probability that any mechanism ends the life within the next event.
    pub risk_next_event: f64,
    /// In card order.
    pub mechanisms: Vec<MechanismPrediction>,
    /// In card order.
    pub readings: Vec<ReadingPrediction>,
    /// What to do next.
    pub advice: Advice,
    /// Use so far.
    #[serde(rename = "use")]
    pub usage: Use,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub leaves_out: Vec<String>,
    /// What it was made from.
    pub provenance: Provenance,
    /// When it was first made.
    pub create_time: Timestamp,
    /// Findings at the part that overrule what was computed.
    #[serde(default)]
    pub overruled_by: Vec<OverrulingFinding>,
}

/// A finding at the part that overrules any prediction: a limit measured past, a crack found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OverrulingFinding {
    /// Which inspection found it.
    pub inspection: InspectionName,
    /// The reading past its limit; empty for a crack.
    pub reading: String,
    /// The mechanisms whose life it ends; empty: the component's.
    pub mechanisms: Vec<String>,
    /// Probability that the reading is past its limit, by the instrument's error; 1 for a crack.
    pub probability: f64,
    /// In words.
    pub text: String,
}

/// 5 %, 50 % and 95 % quantiles.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Quantiles {
    /// 5 %.
    pub p05: f64,
    /// Median.
    pub p50: f64,
    /// 95 %.
    pub p95: f64,
}

/// Remaining life in three measures of use.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct RemainingLife {
    /// In events of the profile.
    pub events: Quantiles,
    /// In hours of it.
    pub hours: Quantiles,
    /// `None` for a profile without engine speed.
    pub crank_revolutions: Option<Quantiles>,
    /// Quantiles at the horizon mean "at least".
    pub horizon_events: f64,
}

/// Remaining life by one mechanism.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MechanismPrediction {
    /// As on the model's card.
    pub mechanism: String,
    /// Name for people.
    pub label: String,
    /// What happens when it runs out.
    pub consequence: Consequence,
    /// What "life ends" means.
    pub life_ends_when: String,
    /// Remaining life.
    pub life: RemainingLife,
    /// Probability of the end within the next event.
    pub risk_next_event: f64,
    /// Probability that this mechanism comes first.
    pub first_probability: f64,
    /// What the next event's wear or damage is due to, largest first; at most ten.
    pub drivers: Vec<Driver>,
    /// What is believed of the rate.
    pub rate: RateBelief,
}

/// A share of the wear or damage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Driver {
    /// In words.
    pub label: String,
    /// Share of the wear or damage.
    pub share: f64,
    /// Share of the event's time; `None` for shocks.
    pub time_share: Option<f64>,
}

/// What is believed of a rate multiplier.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RateBelief {
    /// Median.
    pub median: f64,
    /// Standard deviation of the natural logarithm.
    pub ln_sd: f64,
    /// On what evidence.
    pub evidence: String,
    /// What it is made of.
    #[serde(default)]
    pub layers: Vec<RateLayer>,
    /// Bias of the instruments whose readings are in it.
    #[serde(default)]
    pub instrument_biases: Vec<InstrumentBias>,
    /// What this evidence does not prove, and what would.
    #[serde(default)]
    pub unproven: String,
}

/// One layer of a rate multiplier. Medians of the layers multiply.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RateLayer {
    /// `shop`, `treatment`, `unit`, `position`, `component`
    pub layer: String,
    /// Which.
    pub key: String,
    /// Median.
    pub median: f64,
    /// Standard deviation of the natural logarithm.
    pub ln_sd: f64,
    /// The same before any inspection.
    pub prior_ln_sd: f64,
    /// Readings that tell of it.
    pub observations: i32,
    /// Units that they are of.
    pub units: i32,
}

/// The relative bias of an instrument.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct InstrumentBias {
    /// Which, as its readings name it.
    pub instrument_id: String,
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
}

/// A measurable quantity, predicted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadingPrediction {
    /// As on the model's card.
    pub reading: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// Now.
    pub now: Quantiles,
    /// Reject value.
    pub limit: Option<f64>,
    /// Which side of it is rejected.
    pub limit_side: LimitSide,
    /// Who sets it.
    pub limit_source: String,
    /// Probability that it is past its limit now.
    pub probability_past_limit: Option<f64>,
    /// What measures it.
    pub instrument: String,
    /// Instrument error at the predicted value, one standard deviation.
    pub instrument_sd: f64,
    /// Over the events to come.
    pub ahead: Vec<ReadingAhead>,
}

/// A reading some events from now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadingAhead {
    /// How many.
    pub events: f64,
    /// The reading then.
    pub value: Quantiles,
}

/// What to do next.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Advice {
    /// Kind of advice.
    pub action: Action,
    /// Within how many events.
    pub within_events: f64,
    /// The reading that tells most; empty when none does.
    pub reading: String,
    /// One sentence with the reason.
    pub text: String,
}

/// Kinds of advice, from mild to strict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Action {
    /// Run on.
    Run,
    /// Measure before running on.
    Measure,
    /// Replace at the next opportunity.
    Replace,
    /// Do not run before it has been looked at.
    Stop,
}

/// Use of a component.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Use {
    /// Records folded in.
    pub duty_records: i64,
    /// Hours.
    pub hours: f64,
    /// Turns of the crank.
    pub crank_revolutions: f64,
    /// In events of the profile, by duration.
    pub events: f64,
}

/// What a prediction was made from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Provenance {
    /// SHA-256 of the plugin.
    pub model_digest: Digest,
    /// Version of the model.
    pub model_version: String,
    /// SHA-256 over plugin, spec and surfaces.
    pub specimen_digest: Digest,
    /// SHA-256 over everything folded in, in order.
    pub duty_digest: Digest,
    /// SHA-256 of the profile's duty.
    pub profile_digest: Digest,
    /// The last duty record in it.
    pub last_duty_record: Option<DutyRecordName>,
    /// Seed of the draw.
    pub seed: u64,
    /// How many lives were drawn.
    pub samples: u32,
    /// Slots of the condition by name, SI.
    pub condition: BTreeMap<String, f64>,
}

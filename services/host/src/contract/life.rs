//! What crosses between host and plugin while a component lives. Mirrors `interface life` of
//! `sdk/wit/model.wit`; lists that stand for card entries are in card order.

use serde::{Deserialize, Serialize};
#[cfg(feature = "wasm")]
use wasmtime::component::{ComponentType, Lift, Lower};

/// Equal-length columns.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Vec<f64>>,
}

/// State of one working surface.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Surface {
    /// Value of each property.
    pub values: Vec<f64>,
    /// Spread of each property: standard deviation of its natural logarithm.
    #[cfg_attr(feature = "wasm", component(name = "ln-sd"))]
    pub ln_sd: Vec<f64>,
    /// Depths of the residual-stress profile.
    #[cfg_attr(feature = "wasm", component(name = "depth-m"))]
    pub depth_m: Vec<f64>,
    /// Residual stress at those depths, tension positive.
    #[cfg_attr(feature = "wasm", component(name = "residual-stress-pa"))]
    pub residual_stress_pa: Vec<f64>,
}

/// One component: its spec and the state of its surfaces.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Specimen {
    /// Numbers of the spec.
    pub numbers: Vec<f64>,
    /// Index of each chosen option.
    pub choices: Vec<u32>,
    /// Tables of the spec.
    pub tables: Vec<Table>,
    /// Surfaces.
    pub surfaces: Vec<Surface>,
}

/// Rainflow-counted cycles of one channel.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct LoadCycles {
    /// Ranges.
    pub ranges: Vec<f64>,
    /// Means.
    pub means: Vec<f64>,
    /// Counts; halves occur.
    pub counts: Vec<f64>,
}

/// Use, reduced to the channels, cycles and shocks that a card asks for.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Duty {
    /// Total time.
    #[cfg_attr(feature = "wasm", component(name = "duration-s"))]
    pub duration_s: f64,
    /// Time at each operating point.
    #[cfg_attr(feature = "wasm", component(name = "time-s"))]
    pub time_s: Vec<f64>,
    /// One column for each channel.
    pub points: Vec<Vec<f64>>,
    /// Cycles for each counted channel.
    pub cycles: Vec<LoadCycles>,
    /// A table for each kind of shock.
    pub shocks: Vec<Table>,
    /// A value for each mate need.
    pub mates: Vec<f64>,
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "wasm", derive(ComponentType, Lift, Lower), component(enum))]
#[repr(u8)]
pub enum Severity {
    /// The input is refused.
    #[cfg_attr(feature = "wasm", component(name = "error"))]
    Error,
    /// The input is used, and the reader told.
    #[cfg_attr(feature = "wasm", component(name = "warning"))]
    Warning,
}

/// Something wrong with an input.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Finding {
    /// Refused, or used with a warning.
    pub severity: Severity,
    /// Which field.
    pub field: String,
    /// What it was.
    pub value: String,
    /// What was expected.
    pub expected: String,
    /// What to do.
    pub remedy: String,
}

/// What is believed of a mechanism's rate multiplier: normal in its logarithm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Rate {
    /// Mean of the logarithm.
    #[cfg_attr(feature = "wasm", component(name = "ln-mean"))]
    pub ln_mean: f64,
    /// Standard deviation of the logarithm.
    #[cfg_attr(feature = "wasm", component(name = "ln-sd"))]
    pub ln_sd: f64,
}

/// What a forecast is asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ForecastRequest {
    /// Condition as accumulated with rate multipliers of 1.
    pub condition: Vec<f64>,
    /// One event of the use to come.
    pub event: Duty,
    /// One for each mechanism.
    pub rates: Vec<Rate>,
    /// Lives to draw for each mechanism.
    pub samples: u32,
    /// Seed of the draw.
    pub seed: u64,
    /// Longest life of interest.
    #[cfg_attr(feature = "wasm", component(name = "horizon-events"))]
    pub horizon_events: f64,
    /// When readings are wanted, in events from now; starts with 0.
    #[cfg_attr(feature = "wasm", component(name = "ahead-events"))]
    pub ahead_events: Vec<f64>,
}

/// A reading at each of the times asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ReadingPath {
    /// 5 % quantiles.
    pub low: Vec<f64>,
    /// Medians.
    pub median: Vec<f64>,
    /// 95 % quantiles.
    pub high: Vec<f64>,
    /// Reject value for this specimen.
    pub limit: Option<f64>,
}

/// Remaining life by one mechanism.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct MechanismLife {
    /// Drawn remaining lives; the same index is the same drawn component in every mechanism.
    #[cfg_attr(feature = "wasm", component(name = "lives-events"))]
    pub lives_events: Vec<f64>,
    /// Probability of the end by the end of the next event.
    #[cfg_attr(feature = "wasm", component(name = "risk-next-event"))]
    pub risk_next_event: f64,
    /// Share of the next event's wear or damage by operating point.
    #[cfg_attr(feature = "wasm", component(name = "point-shares"))]
    pub point_shares: Vec<f64>,
    /// Share by kind of shock.
    #[cfg_attr(feature = "wasm", component(name = "shock-shares"))]
    pub shock_shares: Vec<f64>,
}

/// What a forecast answers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Forecast {
    /// One for each reading of the card.
    pub readings: Vec<ReadingPath>,
    /// One for each mechanism of the card.
    pub mechanisms: Vec<MechanismLife>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
}

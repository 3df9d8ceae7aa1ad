//! Seating of rings over a break-in, and power fade.

use crate::{
    BuildName, ComponentName, Driver, DutyRecordName, ProfileName, Quantiles, ReadingAhead,
    UnitName,
};
use jiff::Timestamp;
use ringland_host::contract::Finding;

/// What seating is asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AssessSeating {
    /// `None`: from the readings alone.
    pub component: Option<ComponentName>,
    /// `None`: the event profile of the unit that it is installed in, if there is one.
    pub profile: Option<ProfileName>,
    /// In the order of the day, 1 to 60.
    pub pulls: Vec<BreakInPull>,
    /// What measures blow-by.
    pub blow_by_meter: BlowByMeter,
    /// Error of the leak-down tester from reading to reading.
    pub leak_down_sd: Option<f64>,
    /// Blow-by when seated, where it is known better than by the model.
    pub expected_end_m3_s: Option<f64>,
    /// Seated blow-by beyond which the rings are not accepted.
    pub limit_m3_s: Option<f64>,
}

/// What was read at the end of a full-load pull.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BreakInPull {
    /// Full-load pulls done by then; `None`: one more than the reading before, from 0.
    pub number: Option<f64>,
    /// The record that ends with this reading.
    pub duty_record: Option<DutyRecordName>,
    /// Blow-by of the engine, as the meter reads it.
    pub blow_by_m3_s: Option<f64>,
    /// Absolute pressure in the meter.
    pub blow_by_pressure_pa: Option<f64>,
    /// Temperature in the meter.
    pub blow_by_temp_k: Option<f64>,
    /// Where it was read.
    pub engine_speed_rad_s: Option<f64>,
    /// Where it was read.
    pub engine_torque_n_m: Option<f64>,
    /// Mean of the cylinders.
    pub leak_down_fraction: Option<f64>,
    /// Hot or cold; `None` when not told.
    pub leak_down_hot: Option<bool>,
    /// Diameter of the tester's orifice.
    pub leak_down_orifice_m: Option<f64>,
}

/// Errors of a blow-by meter.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BlowByMeter {
    /// From reading to reading, of every reading alike.
    pub sd_m3_s: Option<f64>,
    /// From reading to reading, as a share.
    pub sd_relative: Option<f64>,
    /// Shared by all readings, as a share.
    pub common_sd_relative: Option<f64>,
}

/// How far the rings are seated.
#[derive(Clone, Debug, PartialEq)]
pub struct SeatingAssessment {
    /// Of which component, if one was named.
    pub component: Option<ComponentName>,
    /// Its type; empty without a component.
    pub component_type: String,
    /// What to do.
    pub decision: SeatingDecision,
    /// One sentence with the reason.
    pub reason: String,
    /// After the last reading.
    pub seated_share: Quantiles,
    /// Probability that at least 95 % is seated.
    pub seated_probability: f64,
    /// When fully seated, as the meter reads it.
    pub end_blow_by_m3_s: Option<Quantiles>,
    /// When fully seated.
    pub end_leak_down_fraction: Option<Quantiles>,
    /// What the next pull is expected to take off.
    pub next_fall: Quantiles,
    /// Error of the difference of two readings.
    pub resolution: f64,
    /// `m3/s`, or `1` for leak-down.
    pub fall_unit: String,
    /// More pulls until 95 % is seated.
    pub pulls_to_seated: Quantiles,
    /// Pulls over which what is not seated falls to 1/e.
    pub scale_pulls: Quantiles,
    /// Reading by reading.
    pub pulls: Vec<SeatingPull>,
    /// Without any prior.
    pub least_squares: Option<SeatingLeastSquares>,
    /// By the model.
    pub predicted_end_blow_by_m3_s: Option<Quantiles>,
    /// Life used.
    pub cost: Option<BreakInCost>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// What to do after the last reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeatingDecision {
    /// Seated as far as the meter can tell.
    Stop,
    /// Not yet seated, or not yet sure.
    OneMorePull,
    /// More pulls will not help.
    NotSeating,
}

/// One reading of the break-in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SeatingPull {
    /// Pulls done by then.
    pub number: f64,
    /// The record that it was matched with.
    pub duty_record: Option<DutyRecordName>,
    /// At 1 bar and 300 K.
    pub blow_by_m3_s: Option<f64>,
    /// Its error from reading to reading.
    pub blow_by_sd_m3_s: Option<f64>,
    /// By the fit.
    pub fitted_blow_by_m3_s: Option<Quantiles>,
    /// By the model.
    pub predicted_blow_by_m3_s: Option<Quantiles>,
    /// As used.
    pub leak_down_fraction: Option<f64>,
    /// By the fit.
    pub fitted_leak_down_fraction: Option<Quantiles>,
    /// By the model.
    pub predicted_leak_down_fraction: Option<Quantiles>,
    /// By the fit.
    pub seated_share: Quantiles,
    /// By the model.
    pub predicted_seated_share: Option<Quantiles>,
}

/// A fall by least squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatingLeastSquares {
    /// Seated level.
    pub end_m3_s: f64,
    /// Its standard error.
    pub end_se_m3_s: f64,
    /// At pull 0.
    pub start_m3_s: f64,
    /// Pulls over which what is left falls to 1/e.
    pub scale_pulls: f64,
    /// Standard error of its logarithm.
    pub ln_scale_se: f64,
    /// Sum of squared residuals over squared errors.
    pub chi_squared: f64,
    /// What that should be near.
    pub degrees_of_freedom: usize,
}

/// Life that the break-in has used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BreakInCost {
    /// Records that were counted.
    pub duty_records: usize,
    /// Their time over that of an event.
    pub events_by_time: f64,
    /// Fall of the median remaining life over them.
    pub life_events: f64,
    /// The same for each pull.
    pub life_events_per_pull: f64,
}

/// What power fade is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct AssessPowerFade {
    /// Which unit.
    pub unit: UnitName,
    /// `None`: the unit's.
    pub profile: Option<ProfileName>,
    /// Measured pulls of the build in use, at most 200.
    pub pulls: Vec<PowerPull>,
    /// Corrected power when seated.
    pub baseline_power_w: Option<f64>,
    /// Share of power whose loss is too much.
    pub loss_limit_fraction: Option<f64>,
    /// For pulls that give their air and no factor.
    pub correction: Option<AirCorrection>,
    /// Diesel only.
    pub engine_factor: Option<f64>,
    /// Error of a pull's power as a share.
    pub sd_relative: Option<f64>,
}

/// Law of the factor on observed power.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirCorrection {
    /// ISO 1585.
    SparkIgnition,
    /// SAE J1349 (1990).
    SparkIgnitionNetOfFriction,
    /// ISO 1585.
    CompressionIgnition,
    /// ISO 1585.
    CompressionIgnitionTurbocharged,
}

/// Peak power of a pull.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PowerPull {
    /// When; or ...
    pub time: Option<Timestamp>,
    /// ... at how many events since the build's start.
    pub events: Option<f64>,
    /// Observed, or corrected already.
    pub power_w: f64,
    /// Factor on it.
    pub correction_factor: Option<f64>,
    /// Total pressure of the air drawn.
    pub air_pressure_pa: Option<f64>,
    /// Its temperature.
    pub air_temp_k: Option<f64>,
    /// 0 to 1.
    pub relative_humidity: Option<f64>,
}

/// Power lost since the seated state.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerFadeAssessment {
    /// Which unit.
    pub unit: UnitName,
    /// The build in use.
    pub build: BuildName,
    /// The event.
    pub profile: ProfileName,
    /// Use of the build so far, by duration.
    pub age_events: f64,
    /// Share of power whose loss is too much.
    pub loss_limit_fraction: f64,
    /// One sentence.
    pub text: String,
    /// Trend of the pulls.
    pub measured: Option<MeasuredFade>,
    /// Pulls as used, by age.
    pub pulls: Vec<PowerPullUsed>,
    /// Of the parts' models.
    pub predicted: Option<PredictedFade>,
    /// Both together.
    pub comparison: Option<FadeComparison>,
    /// Installed parts that say nothing of power, and why.
    pub left_out: Vec<String>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// A straight line through measured power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredFade {
    /// When seated.
    pub baseline_power_w: Quantiles,
    /// Share of the baseline lost in an event.
    pub loss_fraction_per_event: Quantiles,
    /// Lost so far.
    pub loss_fraction_now: Quantiles,
    /// More events until the limit.
    pub events_to_limit: Quantiles,
    /// Quantiles there mean "at least".
    pub horizon_events: f64,
    /// Sum of squared residuals over squared errors.
    pub chi_squared: f64,
    /// What that should be near.
    pub degrees_of_freedom: usize,
}

/// A pull as used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerPullUsed {
    /// Age.
    pub events: f64,
    /// Factor on the power given.
    pub correction_factor: f64,
    /// After it.
    pub corrected_power_w: f64,
    /// Share of the baseline lost.
    pub loss_fraction: Option<f64>,
    /// By the trend.
    pub fitted_loss_fraction: Option<Quantiles>,
}

/// Sum over the installed parts.
#[derive(Clone, Debug, PartialEq)]
pub struct PredictedFade {
    /// Now.
    pub loss_fraction_now: Quantiles,
    /// Over the events to come.
    pub ahead: Vec<ReadingAhead>,
    /// More events until the limit.
    pub events_to_limit: Quantiles,
    /// Quantiles there mean "at least".
    pub horizon_events: f64,
    /// Largest loss first.
    pub components: Vec<ComponentPowerLoss>,
}

/// What one part is predicted to have cost.
#[derive(Clone, Debug, PartialEq)]
pub struct ComponentPowerLoss {
    /// Which.
    pub component: ComponentName,
    /// Name of the reading for people.
    pub label: String,
    /// Now.
    pub loss_fraction_now: Quantiles,
    /// An event later.
    pub loss_fraction_next: Quantiles,
    /// Its mechanism that takes power and comes first; empty when none does.
    pub mechanism: String,
    /// What that is due to.
    pub drivers: Vec<Driver>,
}

/// Measured against predicted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FadeComparison {
    /// Measured less predicted.
    pub excess_fraction: Quantiles,
    /// Probability that more is lost than predicted.
    pub more_probability: f64,
    /// From 95 %.
    pub unexplained: bool,
}

//! How lives ended, and what the shop's own lives tell.

use crate::{ComponentName, ProfileName, UnitName};
use jiff::Timestamp;
use ringland_host::contract::Finding;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How the life of a component ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum EndCause {
    /// It broke or seized.
    Failed,
    /// It was measured past a limit.
    ReachedLimit,
    /// It was replaced in good order: its life is known as "longer than this".
    ReplacedBefore,
    /// Something else broke it: likewise.
    DamagedByOther,
    /// Lost, sold or given up for another reason: likewise.
    Lost,
}

impl EndCause {
    /// Whether the part itself came to its end.
    pub fn is_end(self) -> bool {
        matches!(self, Self::Failed | Self::ReachedLimit)
    }
}

/// What a client says of the end of a component.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RetireComponent {
    /// Which.
    pub component: ComponentName,
    /// When it was taken out for good.
    pub retire_time: Timestamp,
    /// How its life ended.
    pub cause: EndCause,
    /// The mechanism of the model's card that ended it; empty: not known, or none did.
    pub mechanism: String,
    /// What was found.
    pub note: String,
    /// A role or initials.
    pub retired_by: String,
}

/// The end of a component in the ledger.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Retirement {
    /// When.
    pub retire_time: Timestamp,
    /// How.
    pub cause: EndCause,
    /// By which mechanism; empty: not known, or none.
    pub mechanism: String,
    /// What was found.
    pub note: String,
    /// A role or initials.
    pub retired_by: String,
    /// When it was recorded.
    pub create_time: Timestamp,
}

/// In what the age of a part is counted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AgeMeasure {
    /// Hours of duty.
    #[default]
    Hours,
    /// Events of a profile, by its duration.
    Events(ProfileName),
    /// Turns of the crank.
    CrankRevolutions,
}

/// Which parts of the ledger are alike.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LifeQuery {
    /// Their type.
    pub component_type: String,
    /// In what their age is counted.
    pub measure: AgeMeasure,
    /// Ends by this mechanism only; ends by others count as suspensions. Empty: any end.
    pub mechanism: String,
    /// Only of this batch; empty for all.
    pub batch: String,
    /// Only with these labels.
    pub labels: BTreeMap<String, String>,
    /// Only those that were last in this unit.
    pub unit: Option<UnitName>,
}

/// A life, seen to its end or up to now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ObservedLife {
    /// Of which part; free text where the shop's notebook says so.
    pub part: String,
    /// Age at its end, or when last seen.
    pub age: f64,
    /// Whether it ended then; otherwise it is known to be longer.
    pub ended: bool,
    /// Which group it belongs to.
    pub group: String,
    /// The unit that it was in; empty: not told, and then it counts as one of its own.
    pub unit: String,
}

/// Where lives come from.
#[derive(Clone, Debug, PartialEq)]
pub enum LifeSource {
    /// The ledger.
    Ledger(LifeQuery),
    /// The call, with the unit in which they are counted.
    Given {
        /// The lives.
        lives: Vec<ObservedLife>,
        /// `h`, `events`, `km`.
        age_unit: String,
    },
}

/// A number with its interval.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Estimate {
    /// The best guess.
    pub value: f64,
    /// Standard error; 0 where none is given.
    pub se: f64,
    /// Lower end of its interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The age by which a share of parts has ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LifeQuantile {
    /// The share.
    pub share: f64,
    /// The age.
    pub age: Estimate,
}

/// A distribution fitted to lives.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedLives {
    /// Which.
    pub law: LifeLaw,
    /// Weibull: shape, scale. Lognormal: mean and standard deviation of ln age. Exponential: mean.
    pub parameters: Vec<(String, Estimate)>,
    /// At the maximum.
    pub log_likelihood: f64,
    /// Akaike's criterion; the smaller, the better for its parameters.
    pub akaike: f64,
    /// Ages by which 1, 5, 10 and 50 % have ended.
    pub quantiles: Vec<LifeQuantile>,
    /// Why the intervals may not hold; empty when they were shown to.
    pub caution: String,
}

/// A law of lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LifeLaw {
    /// Weibull.
    Weibull,
    /// Lognormal.
    Lognormal,
    /// Exponential: no ageing.
    Exponential,
}

/// Share alive just after an age at which parts ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurvivalPoint {
    /// The age.
    pub age: f64,
    /// Parts seen alive just before.
    pub at_risk: u32,
    /// Parts that ended then.
    pub ended: u32,
    /// Kaplan-Meier share alive; its interval is pointwise.
    pub survival: Estimate,
    /// Nelson-Aalen cumulative hazard.
    pub cumulative_hazard: f64,
}

/// Counts of a set of lives.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LifeCounts {
    /// Parts.
    pub parts: u32,
    /// Of them ended.
    pub ended: u32,
    /// Units that they come from, as far as told; parts of one unit are not independent.
    pub units: u32,
    /// All ages together.
    pub total_age: f64,
}

/// What a set of lives tells.
#[derive(Clone, Debug, PartialEq)]
pub struct LifeAnalysis {
    /// In what ages are counted.
    pub age_unit: String,
    /// Counts.
    pub counts: LifeCounts,
    /// Weibull, lognormal, exponential, as far as they could be fitted.
    pub fits: Vec<FittedLives>,
    /// The mean life is at least this with 95 %, if nothing ages; 0 without any age.
    pub mean_life_at_least: f64,
    /// Kaplan-Meier.
    pub survival: Vec<SurvivalPoint>,
    /// Whether there is enough to go by.
    pub enough: bool,
    /// In words.
    pub verdict: String,
    /// The lives.
    pub lives: Vec<ObservedLife>,
    /// What was left out, and what to know.
    pub findings: Vec<Finding>,
}

/// One of two groups.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupSummary {
    /// Its name.
    pub group: String,
    /// Counts.
    pub counts: LifeCounts,
    /// Age by which half have ended (Kaplan-Meier), if that was seen.
    pub median: Option<f64>,
    /// Kaplan-Meier.
    pub survival: Vec<SurvivalPoint>,
}

/// Two groups held against each other.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupComparison {
    /// In what ages are counted.
    pub age_unit: String,
    /// The group that the other is held against.
    pub base: GroupSummary,
    /// The other.
    pub other: GroupSummary,
    /// How many times longer the other lives, 95 % (Weibull lives of one shape; Wald).
    pub life_factor: Option<Estimate>,
    /// The same by refits, which holds with few lives.
    pub life_factor_by_refits: Option<Estimate>,
    /// Shape of the Weibull lives.
    pub shape: Option<f64>,
    /// Hazard of the other over that of the base.
    pub hazard_ratio: Option<f64>,
    /// Of the regression.
    pub log_likelihood: Option<f64>,
    /// Log-rank test.
    pub log_rank_chi_squared: Option<f64>,
    /// Its probability if the groups were alike.
    pub log_rank_p: Option<f64>,
    /// Whether the difference is proven: 95 %, from two units or more on each side.
    pub proven: bool,
    /// Ends in each group that would tell `assumed_factor` with 80 %.
    pub ends_needed: u32,
    /// The factor that they would tell.
    pub assumed_factor: f64,
    /// In words.
    pub verdict: String,
    /// What was left out, and what to know.
    pub findings: Vec<Finding>,
}

/// A unit in which parts were replaced again and again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RepairedUnit {
    /// Which.
    pub unit: String,
    /// Ages of the unit at the replacements.
    pub ages: Vec<f64>,
    /// Age of the unit when last seen.
    pub end: f64,
}

/// Where replacements come from.
#[derive(Clone, Debug, PartialEq)]
pub enum ReplacementSource {
    /// Replacements of a component type in the units of the ledger, by hours of the unit.
    Ledger(String),
    /// The call, with the unit in which ages are counted.
    Given {
        /// The units.
        units: Vec<RepairedUnit>,
        /// `h`, `days`.
        age_unit: String,
    },
}

/// Mean replacements of a unit up to an age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanReplacements {
    /// The age.
    pub age: f64,
    /// Units seen at that age.
    pub at_risk: u32,
    /// Replacements then.
    pub replaced: u32,
    /// Mean up to then, 95 %.
    pub mean: Estimate,
}

/// What repeated replacements tell.
#[derive(Clone, Debug, PartialEq)]
pub struct ReplacementAnalysis {
    /// In what ages are counted.
    pub age_unit: String,
    /// The units.
    pub units: Vec<RepairedUnit>,
    /// Mean cumulative function.
    pub steps: Vec<MeanReplacements>,
    /// Power law of the intensity: above 1 replacements come ever faster; 90 %.
    pub shape: Option<Estimate>,
    /// Age by which a unit has had one replacement on average.
    pub scale: Option<f64>,
    /// In words.
    pub verdict: String,
    /// What was left out, and what to know.
    pub findings: Vec<Finding>,
}

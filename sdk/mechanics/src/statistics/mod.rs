//! Life statistics: distributions, fits to censored lives with intervals, counts of failures over age, the age at
//! which to replace, what observations teach of effects that add up, and seeded normal draws.
//!
//! Times are in any unit, the same throughout a call. Exponentials, logarithms, powers and error
//! functions come from `libm`, so that every target gives the same bits.

pub mod correction;
pub mod counts;
pub mod exponential_fall;
pub mod fit;
pub mod intervals;
pub mod layers;
pub mod line;
pub mod log_rank;
mod lognormal;
pub mod mixture;
pub mod normal;
mod pivots;
pub mod regression;
pub mod replacement;
pub mod risk;
pub mod sampling;
mod weibull;

pub use lognormal::Lognormal;
pub use weibull::Weibull;

use serde::{Deserialize, Serialize};

/// A life seen to its end, or up to a time at which it had not yet ended (right-censored).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Life {
    /// Age at failure, or when last seen alive; above 0.
    pub age: f64,
    /// True when it failed then.
    pub failed: bool,
}

/// Why a statistic could not be computed.
#[derive(Clone, Debug, PartialEq)]
pub enum StatisticsError {
    /// A number out of its range.
    OutOfRange {
        /// Which.
        field: &'static str,
        /// What it was.
        value: f64,
        /// What was expected.
        expected: &'static str,
    },
    /// Not enough to go by.
    TooFew {
        /// Of what.
        what: &'static str,
        /// How many there were.
        found: usize,
        /// How many it takes.
        needed: usize,
    },
    /// Columns of different lengths.
    LengthsDiffer {
        /// Which column.
        field: &'static str,
        /// Its length.
        found: usize,
        /// The length expected.
        expected: usize,
    },
    /// The likelihood has no finite maximum (all failures at one age, a covariate that separates
    /// failures from survivors) or it was not reached.
    NoMaximum {
        /// Iterations done.
        iterations: usize,
    },
    /// A matrix that must be positive definite is not, to double precision.
    NotPositiveDefinite {
        /// The pivot that is not above 0.
        pivot: f64,
    },
}

impl std::fmt::Display for StatisticsError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::OutOfRange {
                field,
                value,
                expected,
            } => write!(f, "{field} is {value}, expected {expected}"),
            Self::TooFew {
                what,
                found,
                needed,
            } => write!(f, "{found} {what}, at least {needed} are needed"),
            Self::LengthsDiffer {
                field,
                found,
                expected,
            } => write!(f, "{field} has {found} entries, expected {expected}"),
            Self::NoMaximum { iterations } => write!(
                f,
                "the likelihood has no finite maximum (after {iterations} iterations): add failures at \
                 different ages, or drop the covariate that separates failures from survivors"
            ),
            Self::NotPositiveDefinite { pivot } => write!(
                f,
                "the observations contradict one another beyond double precision (pivot {pivot}): \
                 give them larger errors"
            ),
        }
    }
}

impl std::error::Error for StatisticsError {}

/// A number that must be finite and above 0.
fn positive(field: &'static str, value: f64) -> Result<f64, StatisticsError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(StatisticsError::OutOfRange {
            field,
            value,
            expected: "a finite number above 0",
        })
    }
}

/// A number that must be finite.
fn finite(field: &'static str, value: f64) -> Result<f64, StatisticsError> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(StatisticsError::OutOfRange {
            field,
            value,
            expected: "a finite number",
        })
    }
}

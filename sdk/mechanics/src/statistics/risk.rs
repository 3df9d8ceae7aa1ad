//! Risk of the next increment of damage, and of sets of equal parts.

use super::{StatisticsError, positive};

/// Two-parameter Weibull reliability over a damage sum D: R(D) = exp(ln(1 - p) D^shape), where p is the
/// share of parts failed at D = 1. Serves any damage that adds up linearly: a Miner sum, a wear
/// depth over its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamageLife {
    shape: f64,
    /// -ln(1 - p).
    hazard_at_one: f64,
}

impl DamageLife {
    /// `shape` above 0, `failed_at_one` between 0 and 1, both exclusive.
    ///
    /// # Errors
    /// The parameter out of range.
    pub fn new(shape: f64, failed_at_one: f64) -> Result<Self, StatisticsError> {
        if !(failed_at_one > 0.0 && failed_at_one < 1.0) {
            return Err(StatisticsError::OutOfRange {
                field: "failed_at_one",
                value: failed_at_one,
                expected: "a probability above 0 and below 1",
            });
        }
        Ok(Self {
            shape: positive("shape", shape)?,
            hazard_at_one: -libm::log1p(-failed_at_one),
        })
    }

    /// Share alive at damage `damage` (from 0).
    pub fn survival(&self, damage: f64) -> f64 {
        libm::exp(-self.hazard_at_one * libm::pow(damage.max(0.0), self.shape))
    }

    /// Damage at which a share `p` has failed.
    pub fn quantile(&self, p: f64) -> f64 {
        libm::pow(-libm::log1p(-p) / self.hazard_at_one, 1.0 / self.shape)
    }

    /// Probability that a part alive at `damage` fails within the next `increment`:
    /// 1 - R(D + dD) / R(D), without cancellation.
    pub fn next_risk(&self, damage: f64, increment: f64) -> f64 {
        let before = libm::pow(damage.max(0.0), self.shape);
        let after = libm::pow(damage.max(0.0) + increment.max(0.0), self.shape);
        -libm::expm1(-self.hazard_at_one * (after - before))
    }
}

/// Probability that at least one of `parts` equal, independent parts fails, each with probability
/// `risk`.
pub fn any_of(parts: f64, risk: f64) -> f64 {
    -libm::expm1(parts * libm::log1p(-risk))
}

//! Lognormal distribution of lives.

use super::{StatisticsError, finite, normal, positive};
use serde::{Deserialize, Serialize};

/// ln t is normal.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lognormal {
    /// Mean of ln t; the median life is its exponential.
    pub ln_mean: f64,
    /// Standard deviation of ln t, above 0.
    pub ln_sd: f64,
}

impl Lognormal {
    /// `ln_mean` must be finite, `ln_sd` finite and above 0.
    ///
    /// # Errors
    /// The parameter that is not.
    pub fn new(ln_mean: f64, ln_sd: f64) -> Result<Self, StatisticsError> {
        Ok(Self {
            ln_mean: finite("ln_mean", ln_mean)?,
            ln_sd: positive("ln_sd", ln_sd)?,
        })
    }

    fn z(&self, t: f64) -> f64 {
        (libm::log(t.max(0.0)) - self.ln_mean) / self.ln_sd
    }

    /// Density at age `t`.
    pub fn pdf(&self, t: f64) -> f64 {
        if t <= 0.0 {
            return 0.0;
        }
        normal::pdf(self.z(t)) / (self.ln_sd * t)
    }

    /// Share failed by age `t`.
    pub fn cdf(&self, t: f64) -> f64 {
        normal::cdf(self.z(t))
    }

    /// Share alive at age `t`.
    pub fn survival(&self, t: f64) -> f64 {
        normal::survival(self.z(t))
    }

    /// Failure rate at age `t` of those alive.
    pub fn hazard(&self, t: f64) -> f64 {
        if t <= 0.0 {
            return 0.0;
        }
        normal::hazard(self.z(t)) / (self.ln_sd * t)
    }

    /// Age by which a share `p` (0 to 1) has failed.
    pub fn quantile(&self, p: f64) -> f64 {
        libm::exp(self.ln_mean + self.ln_sd * normal::quantile(p))
    }

    /// Mean life.
    pub fn mean(&self) -> f64 {
        libm::exp(self.ln_mean + 0.5 * self.ln_sd * self.ln_sd)
    }

    /// Standard deviation of life.
    pub fn standard_deviation(&self) -> f64 {
        self.mean() * libm::expm1(self.ln_sd * self.ln_sd).sqrt()
    }
}

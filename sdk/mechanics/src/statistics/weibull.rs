//! Two-parameter Weibull distribution of lives.

use super::{StatisticsError, positive};
use serde::{Deserialize, Serialize};

/// R(t) = exp(-(t / scale)^shape) for t from 0 (IEC 61649:2008).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Weibull {
    /// Shape, above 0: below 1 early failures, above 1 wear-out.
    pub shape: f64,
    /// Characteristic life, above 0: 63.2 % have failed by then.
    pub scale: f64,
}

impl Weibull {
    /// Both parameters must be finite and above 0.
    ///
    /// # Errors
    /// The parameter that is not.
    pub fn new(shape: f64, scale: f64) -> Result<Self, StatisticsError> {
        Ok(Self {
            shape: positive("shape", shape)?,
            scale: positive("scale", scale)?,
        })
    }

    /// Density at age `t`.
    pub fn pdf(&self, t: f64) -> f64 {
        if t < 0.0 {
            return 0.0;
        }
        self.hazard(t) * self.survival(t)
    }

    /// Share failed by age `t`.
    pub fn cdf(&self, t: f64) -> f64 {
        -libm::expm1(-self.cumulative_hazard(t))
    }

    /// Share alive at age `t`.
    pub fn survival(&self, t: f64) -> f64 {
        libm::exp(-self.cumulative_hazard(t))
    }

    /// Failure rate at age `t` of those alive.
    pub fn hazard(&self, t: f64) -> f64 {
        self.shape / self.scale * libm::pow(t.max(0.0) / self.scale, self.shape - 1.0)
    }

    /// Integral of the hazard up to age `t`.
    pub fn cumulative_hazard(&self, t: f64) -> f64 {
        libm::pow(t.max(0.0) / self.scale, self.shape)
    }

    /// Age by which a share `p` (0 to 1) has failed: B10 is `quantile(0.1)`.
    pub fn quantile(&self, p: f64) -> f64 {
        self.scale * libm::pow(-libm::log1p(-p), 1.0 / self.shape)
    }

    /// Mean life.
    pub fn mean(&self) -> f64 {
        self.scale * libm::tgamma(1.0 + 1.0 / self.shape)
    }

    /// Standard deviation of life.
    pub fn standard_deviation(&self) -> f64 {
        let first = libm::tgamma(1.0 + 1.0 / self.shape);
        let second = libm::tgamma(1.0 + 2.0 / self.shape);
        self.scale * (second - first * first).max(0.0).sqrt()
    }

    /// Mean age reached by age `t`: the integral of the survival from 0 to `t`.
    ///
    /// By the power series of the incomplete gamma function (Abramowitz and Stegun 6.5.29), whose terms
    /// are all positive here. Relative error about 1e-14.
    pub fn mean_age_within(&self, t: f64) -> f64 {
        let x = self.cumulative_hazard(t);
        // Beyond, less than 1e-17 of the lives are left.
        if x > 40.0 {
            return self.mean();
        }
        let a = 1.0 / self.shape;
        let (mut term, mut sum, mut n) = (1.0, 1.0, 0.0);
        while term > sum * f64::EPSILON * 0.1 {
            n += 1.0;
            term *= x / (a + n);
            sum += term;
        }
        t.max(0.0) * libm::exp(-x) * sum
    }
}

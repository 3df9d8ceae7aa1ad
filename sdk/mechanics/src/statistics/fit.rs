//! Fits of life distributions to censored lives, by maximum likelihood.

use super::regression::{self, ErrorLaw};
use super::{Life, Lognormal, StatisticsError, Weibull, normal, positive};

/// A Weibull fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeibullFit {
    /// The distribution.
    pub life: Weibull,
    /// Standard error of the shape (delta method from that of its logarithm).
    pub shape_se: f64,
    /// Standard error of the scale (delta method from that of its logarithm).
    pub scale_se: f64,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
}

/// Fits a Weibull distribution. Needs two failures at different ages.
///
/// # Errors
/// An age not above 0, too few failures, no finite maximum.
pub fn weibull(lives: &[Life]) -> Result<WeibullFit, StatisticsError> {
    let fit = regression::fit(ErrorLaw::SmallestExtremeValue, lives, &[])?;
    let intercept = fit.coefficients.first().copied().unwrap_or(f64::NAN);
    let life = Weibull::new(1.0 / fit.scale, libm::exp(intercept))?;
    Ok(WeibullFit {
        life,
        shape_se: life.shape * fit.standard_error(1),
        scale_se: life.scale * fit.standard_error(0),
        log_likelihood: fit.log_likelihood,
    })
}

/// A lognormal fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LognormalFit {
    /// The distribution.
    pub life: Lognormal,
    /// Standard error of the mean of ln t.
    pub ln_mean_se: f64,
    /// Standard error of the standard deviation of ln t (delta method).
    pub ln_sd_se: f64,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
}

/// Fits a lognormal distribution. Needs two failures at different ages.
///
/// # Errors
/// An age not above 0, too few failures, no finite maximum.
pub fn lognormal(lives: &[Life]) -> Result<LognormalFit, StatisticsError> {
    let fit = regression::fit(ErrorLaw::Normal, lives, &[])?;
    let ln_mean = fit.coefficients.first().copied().unwrap_or(f64::NAN);
    Ok(LognormalFit {
        life: Lognormal::new(ln_mean, fit.scale)?,
        ln_mean_se: fit.standard_error(0),
        ln_sd_se: fit.scale * fit.standard_error(1),
        log_likelihood: fit.log_likelihood,
    })
}

/// An exponential fit: failures over total time on test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExponentialFit {
    /// Mean life.
    pub mean: f64,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
}

/// Fits an exponential distribution. Needs one failure.
///
/// # Errors
/// An age not above 0, no failure.
pub fn exponential(lives: &[Life]) -> Result<ExponentialFit, StatisticsError> {
    let failures = lives.iter().filter(|life| life.failed).count();
    if failures == 0 {
        return Err(StatisticsError::TooFew {
            what: "failures",
            found: 0,
            needed: 1,
        });
    }
    let mut total = 0.0;
    for life in lives {
        total += positive("age", life.age)?;
    }
    let mean = total / failures as f64;
    Ok(ExponentialFit {
        mean,
        log_likelihood: -(failures as f64) * (libm::log(mean) + 1.0),
    })
}

/// Akaike's information criterion; the smaller, the better the fit for its parameters.
pub fn akaike(log_likelihood: f64, parameters: usize) -> f64 {
    2.0 * (parameters as f64 - log_likelihood)
}

/// Two groups with Weibull lives of one shape: how many times longer the second lives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TreatmentEffect {
    /// Lives of the untreated.
    pub untreated: Weibull,
    /// Life of the treated over that of the untreated.
    pub life_factor: f64,
    /// Its 95 % interval (Wald, symmetric in the logarithm).
    pub life_factor_low: f64,
    /// Upper end.
    pub life_factor_high: f64,
    /// Standard error of its logarithm.
    pub ln_life_factor_se: f64,
    /// Hazard of the treated over that of the untreated, at any age.
    pub hazard_ratio: f64,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
}

/// Compares treated parts with untreated ones (Weibull accelerated failure time). Needs three
/// failures, and some in both groups.
///
/// # Errors
/// An age not above 0, too few failures, no finite maximum.
pub fn treatment_effect(
    untreated: &[Life],
    treated: &[Life],
) -> Result<TreatmentEffect, StatisticsError> {
    let lives: Vec<Life> = untreated.iter().chain(treated).copied().collect();
    for group in [untreated, treated] {
        if !group.iter().any(|life| life.failed) {
            return Err(StatisticsError::TooFew {
                what: "failures in a group",
                found: 0,
                needed: 1,
            });
        }
    }
    let zeros = untreated.iter().map(|_| 0.0);
    let covariate: Vec<f64> = zeros.chain(treated.iter().map(|_| 1.0)).collect();
    let fit = regression::fit(ErrorLaw::SmallestExtremeValue, &lives, &[&covariate])?;
    let [intercept, effect] = fit.coefficients[..] else {
        return Err(StatisticsError::NoMaximum { iterations: 0 });
    };
    let se = fit.standard_error(1);
    let half_width = normal::quantile(0.975) * se;
    Ok(TreatmentEffect {
        untreated: Weibull::new(1.0 / fit.scale, libm::exp(intercept))?,
        life_factor: libm::exp(effect),
        life_factor_low: libm::exp(effect - half_width),
        life_factor_high: libm::exp(effect + half_width),
        ln_life_factor_se: se,
        hazard_ratio: libm::exp(-effect / fit.scale),
        log_likelihood: fit.log_likelihood,
    })
}

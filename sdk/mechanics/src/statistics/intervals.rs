//! Confidence intervals of fitted lives that hold in small samples.
//!
//! Intervals by standard errors (Wald) are too short when few have failed. These come from pivots, by refits of
//! drawn lives (see `pivots`): exact but for the draws when all have failed, or when the survivors left at
//! failures; close to it otherwise: from about 8 failures on, 90 % intervals were found to hold 87 to 93 % (`coverage.md` here, by
//! `examples/interval_coverage.rs`).

use super::fit::{self, LognormalFit, TreatmentEffect, WeibullFit};
use super::pivots::{self, Pattern, Refit};
use super::regression::ErrorLaw;
use super::{Life, StatisticsError, normal, positive};

/// Refits behind an interval. With 1999 the ends of intervals at 50, 80, 90, 95, 98 and 99 % are single draws, so that their
/// finite number takes nothing from the coverage.
pub const DRAWS: usize = 1999;

const SEED: u64 = 0x9137_5aec_0b60_d62f;

/// An interval that holds the true value in a share `confidence` of all samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Nominal share.
    pub confidence: f64,
}

/// A Weibull fit with intervals.
#[derive(Clone, Debug)]
pub struct WeibullIntervals {
    /// The fit.
    pub fit: WeibullFit,
    drawn: Drawn,
}

/// Fits a Weibull distribution and draws what intervals need.
///
/// # Errors
/// As [`fit::weibull`].
pub fn weibull(lives: &[Life]) -> Result<WeibullIntervals, StatisticsError> {
    weibull_with(lives, DRAWS, SEED)
}

/// As [`weibull`], with that many draws from that seed; for studies.
///
/// # Errors
/// As [`fit::weibull`].
pub fn weibull_with(
    lives: &[Life],
    draws: usize,
    seed: u64,
) -> Result<WeibullIntervals, StatisticsError> {
    let fit = fit::weibull(lives)?;
    let (location, scale) = (libm::log(fit.life.scale), 1.0 / fit.life.shape);
    let law = ErrorLaw::SmallestExtremeValue;
    Ok(WeibullIntervals {
        fit,
        drawn: Drawn::new(law, &[lives], location, scale, draws, seed),
    })
}

impl WeibullIntervals {
    /// Of the shape.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99.
    pub fn shape(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.interval(confidence, |at| 1.0 / at.scale)
    }

    /// Of the scale (characteristic life).
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99.
    pub fn scale(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.interval(confidence, |at| libm::exp(at.location))
    }

    /// Of the age by which a share `p` has failed: 0.1 for B10.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99, a share outside 0 to 1 or at its ends.
    pub fn quantile(&self, p: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.quantile(p, confidence)
    }

    /// Of the share failed by an age.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99, an age not above 0.
    pub fn failed_by(&self, age: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.failed_by(age, confidence)
    }

    /// Why the intervals may not hold, if so.
    pub fn caution(&self) -> Option<Caution> {
        self.drawn.caution
    }
}

/// A lognormal fit with intervals.
#[derive(Clone, Debug)]
pub struct LognormalIntervals {
    /// The fit.
    pub fit: LognormalFit,
    drawn: Drawn,
}

/// Fits a lognormal distribution and draws what intervals need.
///
/// # Errors
/// As [`fit::lognormal`].
pub fn lognormal(lives: &[Life]) -> Result<LognormalIntervals, StatisticsError> {
    lognormal_with(lives, DRAWS, SEED)
}

/// As [`lognormal`], with that many draws from that seed; for studies.
///
/// # Errors
/// As [`fit::lognormal`].
pub fn lognormal_with(
    lives: &[Life],
    draws: usize,
    seed: u64,
) -> Result<LognormalIntervals, StatisticsError> {
    let fit = fit::lognormal(lives)?;
    let (location, scale) = (fit.life.ln_mean, fit.life.ln_sd);
    Ok(LognormalIntervals {
        fit,
        drawn: Drawn::new(ErrorLaw::Normal, &[lives], location, scale, draws, seed),
    })
}

impl LognormalIntervals {
    /// Of the mean of ln t.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99.
    pub fn ln_mean(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.interval(confidence, |at| at.location)
    }

    /// Of the standard deviation of ln t.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99.
    pub fn ln_sd(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.interval(confidence, |at| at.scale)
    }

    /// Of the age by which a share `p` has failed: 0.5 for the median.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99, a share outside 0 to 1 or at its ends.
    pub fn quantile(&self, p: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.quantile(p, confidence)
    }

    /// Of the share failed by an age.
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99, an age not above 0.
    pub fn failed_by(&self, age: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.failed_by(age, confidence)
    }

    /// Why the intervals may not hold, if so.
    pub fn caution(&self) -> Option<Caution> {
        self.drawn.caution
    }
}

/// A comparison of treated with untreated parts, with the interval of the life factor.
#[derive(Clone, Debug)]
pub struct TreatmentIntervals {
    /// The fit; its own interval is that of Wald at 95 %.
    pub effect: TreatmentEffect,
    drawn: Drawn,
}

/// Compares treated parts with untreated ones and draws what the interval needs.
///
/// # Errors
/// As [`fit::treatment_effect`].
pub fn treatment_effect(
    untreated: &[Life],
    treated: &[Life],
) -> Result<TreatmentIntervals, StatisticsError> {
    treatment_effect_with(untreated, treated, DRAWS, SEED)
}

/// As [`treatment_effect`], with that many draws from that seed; for studies.
///
/// # Errors
/// As [`fit::treatment_effect`].
pub fn treatment_effect_with(
    untreated: &[Life],
    treated: &[Life],
    draws: usize,
    seed: u64,
) -> Result<TreatmentIntervals, StatisticsError> {
    let effect = fit::treatment_effect(untreated, treated)?;
    let (difference, scale) = (libm::log(effect.life_factor), 1.0 / effect.untreated.shape);
    let law = ErrorLaw::SmallestExtremeValue;
    Ok(TreatmentIntervals {
        effect,
        drawn: Drawn::new(law, &[untreated, treated], difference, scale, draws, seed),
    })
}

impl TreatmentIntervals {
    /// Of the life of the treated over that of the untreated (acceleration factor).
    ///
    /// # Errors
    /// A confidence outside 0.5 to 0.99.
    pub fn life_factor(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        self.drawn.interval(confidence, |at| libm::exp(at.location))
    }

    /// Why the interval may not hold, if so.
    pub fn caution(&self) -> Option<Caution> {
        self.drawn.caution
    }
}

/// Why intervals may not hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// Fewer failures than the intervals were measured with.
    FewFailures {
        /// How many there are.
        failures: usize,
        /// From how many on the coverage was measured.
        measured_from: usize,
    },
}

impl std::fmt::Display for Caution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self::FewFailures {
            failures,
            measured_from,
        } = self;
        write!(
            f,
            "{failures} failures among survivors: 90 % intervals were found to hold from about {measured_from} on, \
             these may miss more often than they say"
        )
    }
}

/// Failures from which intervals of censored lives hold as measured, in each group. Below, a caution goes with them.
pub const MEASURED_FROM: usize = 8;

/// Location (of the one group, or the difference of two) and scale of ln t as they may be.
#[derive(Clone, Copy, Debug)]
struct At {
    location: f64,
    scale: f64,
}

#[derive(Clone, Debug)]
struct Drawn {
    law: ErrorLaw,
    candidates: Vec<At>,
    caution: Option<Caution>,
}

impl Drawn {
    /// `location` is that of the last coefficient: of one group the intercept, of two their difference.
    fn new(
        law: ErrorLaw,
        groups: &[&[Life]],
        location: f64,
        scale: f64,
        draws: usize,
        seed: u64,
    ) -> Self {
        let patterns: Vec<Pattern> = groups.iter().map(|lives| Pattern::of(lives)).collect();
        let candidate = |refit: Refit| {
            let off = refit.coefficients.last().copied().unwrap_or(f64::NAN);
            let scale = scale / refit.scale;
            At {
                location: location - off * scale,
                scale,
            }
        };
        let refits = pivots::refits(law, &patterns, draws, seed);
        // Where nothing is censored they are exact, however few there are.
        let censored = groups
            .iter()
            .filter(|lives| lives.iter().any(|life| !life.failed));
        let failures = censored.map(|lives| lives.iter().filter(|life| life.failed).count());
        let few = failures.min().filter(|failures| *failures < MEASURED_FROM);
        Self {
            law,
            candidates: refits.into_iter().map(candidate).collect(),
            caution: few.map(|failures| Caution::FewFailures {
                failures,
                measured_from: MEASURED_FROM,
            }),
        }
    }

    fn interval(
        &self,
        confidence: f64,
        value: impl Fn(&At) -> f64,
    ) -> Result<Interval, StatisticsError> {
        if !(0.5..=0.99).contains(&confidence) {
            return Err(StatisticsError::OutOfRange {
                field: "confidence",
                value: confidence,
                expected: "0.5 to 0.99",
            });
        }
        let mut values: Vec<f64> = self.candidates.iter().map(value).collect();
        values.sort_by(f64::total_cmp);
        let tail = 0.5 * (1.0 - confidence);
        Ok(Interval {
            low: order_statistic(&values, tail),
            high: order_statistic(&values, 1.0 - tail),
            confidence,
        })
    }

    fn quantile(&self, p: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        if !(p > 0.0 && p < 1.0) {
            return Err(StatisticsError::OutOfRange {
                field: "share failed",
                value: p,
                expected: "above 0 and below 1",
            });
        }
        let e = match self.law {
            ErrorLaw::SmallestExtremeValue => libm::log(-libm::log1p(-p)),
            ErrorLaw::Normal => normal::quantile(p),
        };
        self.interval(confidence, |at| libm::exp(at.location + e * at.scale))
    }

    fn failed_by(&self, age: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        let ln_age = libm::log(positive("age", age)?);
        self.interval(confidence, |at| {
            let e = (ln_age - at.location) / at.scale;
            match self.law {
                ErrorLaw::SmallestExtremeValue => -libm::expm1(-libm::exp(e)),
                ErrorLaw::Normal => normal::cdf(e),
            }
        })
    }
}

/// Value at rank p (n + 1) of sorted ones, counted from 1, linear between them: definition 6 of Hyndman and Fan (1996). One
/// draw more falls below it with probability p.
fn order_statistic(sorted: &[f64], p: f64) -> f64 {
    let rank = p * (sorted.len() + 1) as f64;
    // A rank meant to be whole stays whole.
    let rank = if (rank - rank.round()).abs() < 1e-6 {
        rank.round()
    } else {
        rank
    };
    let below = (rank.floor() as usize).clamp(1, sorted.len().max(1));
    let value = |rank: usize| sorted.get(rank - 1).copied();
    match (value(below), value(below + 1)) {
        (Some(low), Some(high)) => low + (rank - below as f64).max(0.0) * (high - low),
        (Some(low), None) => low,
        _ => f64::NAN,
    }
}

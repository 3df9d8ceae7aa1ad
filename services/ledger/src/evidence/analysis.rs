//! Lives of one kind: what they follow, with intervals, and whether there is enough to tell.

use super::{chi_squared, lives::note};
use crate::predict::figure;
use crate::{
    Estimate, FittedLives, Ledger, LedgerError, LifeAnalysis, LifeCounts, LifeLaw, LifeQuantile,
    LifeSource, ObservedLife, SurvivalPoint,
};
use ringland_mechanics::statistics::{
    Life, StatisticsError,
    counts::{self, SurvivalStep},
    fit, intervals,
    intervals::Interval,
};
use std::collections::BTreeSet;

/// Shares of which the age is told.
const SHARES: [f64; 4] = [0.01, 0.05, 0.10, 0.50];
/// Of the intervals of fits.
const CONFIDENCE: f64 = 0.90;
/// Fewer ends than these leave even the middle of the lives open: with five, the 90 % interval of the median of an exponential
/// life still spans a factor of 4.6 (chi-squared 18.3 over 3.9).
const ENOUGH_ENDS: u32 = 5;
/// Criteria closer than this tell nothing of which law is better (Burnham and Anderson, Model Selection, from memory).
const SAME_AKAIKE: f64 = 2.0;
/// 97.5 % of the standard normal distribution.
const Z975: f64 = 1.959_963_984_540_054;

impl Ledger {
    /// What lives of like parts tell: fits, Kaplan-Meier, and whether there is enough to go by.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when the type has no model, [`LedgerError::ResourceExhausted`], and the store's.
    pub fn analyze_lives(&self, source: &LifeSource) -> Result<LifeAnalysis, LedgerError> {
        let found = self.lives_of(source)?;
        let lives = plain(&found.seen);
        let counts = counted(&found.seen);
        let mut findings = found.findings;
        let fits = fits(&lives, &mut findings)?;
        let enough = counts.ended >= ENOUGH_ENDS && !fits.is_empty();
        let mean_life_at_least = mean_at_least(&counts);
        Ok(LifeAnalysis {
            verdict: verdict(&counts, &fits, &found.age_unit, mean_life_at_least),
            age_unit: found.age_unit,
            survival: survival(&lives)?,
            mean_life_at_least,
            counts,
            fits,
            enough,
            lives: found.seen,
            findings,
        })
    }
}

pub(super) fn plain(lives: &[ObservedLife]) -> Vec<Life> {
    let life = |life: &ObservedLife| Life {
        age: life.age,
        failed: life.ended,
    };
    lives.iter().map(life).collect()
}

pub(super) fn counted(lives: &[ObservedLife]) -> LifeCounts {
    let told: BTreeSet<&str> = lives
        .iter()
        .map(|life| life.unit.as_str())
        .filter(|unit| !unit.is_empty())
        .collect();
    let untold = lives.iter().filter(|life| life.unit.is_empty()).count();
    LifeCounts {
        parts: lives.len() as u32,
        ended: lives.iter().filter(|life| life.ended).count() as u32,
        units: (told.len() + untold) as u32,
        total_age: lives.iter().fold(0.0, |sum, life| sum + life.age),
    }
}

/// One-sided 95 % bound of the mean of an exponential life: `2 T / chi2(0.95; 2 r + 2)` (type I censoring; MIL-HDBK-781 and
/// Meeker and Escobar, Statistical Methods for Reliability Data, from memory).
fn mean_at_least(counts: &LifeCounts) -> f64 {
    chi_squared::quantile(0.95, 2.0 * f64::from(counts.ended) + 2.0)
        .map_or(0.0, |quantile| 2.0 * counts.total_age / quantile)
}

/// Kaplan-Meier with pointwise 95 % intervals, symmetric in ln(-ln S) (Kalbfleisch and Prentice, from memory).
pub(super) fn survival(lives: &[Life]) -> Result<Vec<SurvivalPoint>, LedgerError> {
    let steps = counts::survival_steps(lives).map_err(not_computed)?;
    Ok(steps.iter().map(point).collect())
}

fn point(step: &SurvivalStep) -> SurvivalPoint {
    let (s, se) = (step.survival, step.survival_se);
    let (low, high) = if s > 0.0 && s < 1.0 {
        let ln = libm::log(s);
        let half = Z975 * se / (s * ln).abs();
        let at = |sign: f64| libm::pow(s, libm::exp(sign * half));
        (at(1.0), at(-1.0))
    } else {
        // Nobody left: nothing to take an interval from.
        (0.0, s)
    };
    SurvivalPoint {
        age: step.age,
        at_risk: step.at_risk as u32,
        ended: step.failures as u32,
        survival: Estimate {
            value: s,
            se,
            low,
            high,
        },
        cumulative_hazard: step.cumulative_hazard,
    }
}

pub(super) fn not_computed(error: StatisticsError) -> LedgerError {
    LedgerError::Internal {
        message: format!("the lives could not be analysed: {error}"),
    }
}

fn estimate(value: f64, se: f64, interval: Interval) -> Estimate {
    Estimate {
        value,
        se,
        low: interval.low,
        high: interval.high,
    }
}

/// Every law that can be fitted; what cannot is said.
fn fits(
    lives: &[Life],
    findings: &mut Vec<ringland_host::contract::Finding>,
) -> Result<Vec<FittedLives>, LedgerError> {
    let mut fitted = Vec::new();
    for (law, made) in [
        (LifeLaw::Weibull, weibull(lives)),
        (LifeLaw::Lognormal, lognormal(lives)),
        (LifeLaw::Exponential, exponential(lives)),
    ] {
        match made {
            Ok(fit) => fitted.push(fit),
            Err(error @ (StatisticsError::TooFew { .. } | StatisticsError::NoMaximum { .. })) => {
                let remedy = "wait for more ends: nothing is fitted to so few";
                findings.push(note(name(law), &error.to_string(), "a fit", remedy));
            }
            Err(error) => return Err(not_computed(error)),
        }
    }
    Ok(fitted)
}

fn name(law: LifeLaw) -> &'static str {
    match law {
        LifeLaw::Weibull => "Weibull",
        LifeLaw::Lognormal => "lognormal",
        LifeLaw::Exponential => "exponential",
    }
}

fn weibull(lives: &[Life]) -> Result<FittedLives, StatisticsError> {
    let made = intervals::weibull(lives)?;
    let fit = &made.fit;
    let quantiles = SHARES.map(|share| {
        let interval = made.quantile(share, CONFIDENCE)?;
        Ok(LifeQuantile {
            share,
            age: estimate(fit.life.quantile(share), 0.0, interval),
        })
    });
    Ok(FittedLives {
        law: LifeLaw::Weibull,
        parameters: vec![
            (
                "shape".into(),
                estimate(fit.life.shape, fit.shape_se, made.shape(CONFIDENCE)?),
            ),
            (
                "scale".into(),
                estimate(fit.life.scale, fit.scale_se, made.scale(CONFIDENCE)?),
            ),
        ],
        log_likelihood: fit.log_likelihood,
        akaike: fit::akaike(fit.log_likelihood, 2),
        quantiles: quantiles
            .into_iter()
            .collect::<Result<_, StatisticsError>>()?,
        caution: made
            .caution()
            .map(|caution| caution.to_string())
            .unwrap_or_default(),
    })
}

fn lognormal(lives: &[Life]) -> Result<FittedLives, StatisticsError> {
    let made = intervals::lognormal(lives)?;
    let fit = &made.fit;
    let quantiles = SHARES.map(|share| {
        let interval = made.quantile(share, CONFIDENCE)?;
        Ok(LifeQuantile {
            share,
            age: estimate(fit.life.quantile(share), 0.0, interval),
        })
    });
    let (mean, sd) = (made.ln_mean(CONFIDENCE)?, made.ln_sd(CONFIDENCE)?);
    Ok(FittedLives {
        law: LifeLaw::Lognormal,
        parameters: vec![
            (
                "ln_mean".into(),
                estimate(fit.life.ln_mean, fit.ln_mean_se, mean),
            ),
            ("ln_sd".into(), estimate(fit.life.ln_sd, fit.ln_sd_se, sd)),
        ],
        log_likelihood: fit.log_likelihood,
        akaike: fit::akaike(fit.log_likelihood, 2),
        quantiles: quantiles
            .into_iter()
            .collect::<Result<_, StatisticsError>>()?,
        caution: made
            .caution()
            .map(|caution| caution.to_string())
            .unwrap_or_default(),
    })
}

/// Interval of the mean: `2 T / chi2` at `2 r + 2` and `2 r` degrees of freedom (type I censoring, from memory).
fn exponential(lives: &[Life]) -> Result<FittedLives, StatisticsError> {
    let fit = fit::exponential(lives)?;
    let ends = lives.iter().filter(|life| life.failed).count() as f64;
    let total = fit.mean * ends;
    let tail = 0.5 * (1.0 - CONFIDENCE);
    let bound = |p: f64, freedom: f64| {
        chi_squared::quantile(p, freedom).map_or(0.0, |quantile| 2.0 * total / quantile)
    };
    let mean = Estimate {
        value: fit.mean,
        se: fit.mean / ends.sqrt(),
        low: bound(1.0 - tail, 2.0 * ends + 2.0),
        high: bound(tail, 2.0 * ends),
    };
    let quantiles = SHARES.map(|share| {
        let factor = -libm::log1p(-share);
        LifeQuantile {
            share,
            age: Estimate {
                value: factor * mean.value,
                se: 0.0,
                low: factor * mean.low,
                high: factor * mean.high,
            },
        }
    });
    Ok(FittedLives {
        law: LifeLaw::Exponential,
        parameters: vec![("mean".into(), mean)],
        log_likelihood: fit.log_likelihood,
        akaike: fit::akaike(fit.log_likelihood, 1),
        quantiles: quantiles.into(),
        caution: String::new(),
    })
}

fn verdict(counts: &LifeCounts, fits: &[FittedLives], age_unit: &str, at_least: f64) -> String {
    let so_far = format!(
        "{} of {} parts have ended, from {} unit(s)",
        counts.ended, counts.parts, counts.units
    );
    if counts.ended < 2 || fits.is_empty() {
        return format!(
            "Too little to tell: {so_far}. Nothing is fitted; if parts did not age, the mean life would be at least {} {age_unit} with 95 %.",
            figure(at_least)
        );
    }
    let best = fits.iter().min_by(|a, b| a.akaike.total_cmp(&b.akaike));
    let Some(best) = best else {
        return format!("Too little to tell: {so_far}.");
    };
    let others = fits.iter().filter(|fit| fit.law != best.law);
    let close: Vec<&str> = others
        .filter(|fit| fit.akaike - best.akaike < SAME_AKAIKE)
        .map(|fit| name(fit.law))
        .collect();
    let which = if close.is_empty() {
        format!("{} describes them best", name(best.law))
    } else {
        format!(
            "{} describes them best, but {} as well as can be told",
            name(best.law),
            close.join(" and ")
        )
    };
    let b10 = best.quantiles.iter().find(|quantile| quantile.share > 0.05);
    let b10 = b10.map_or(String::new(), |quantile| {
        format!(
            " One in ten has ended by {} {age_unit} (90 %: {} to {}).",
            figure(quantile.age.value),
            figure(quantile.age.low),
            figure(quantile.age.high)
        )
    });
    let few = if counts.ended < ENOUGH_ENDS {
        format!(
            " That is little to go by: {ENOUGH_ENDS} ends are the least that tell of the middle of the lives."
        )
    } else {
        String::new()
    };
    let one = if counts.units < 2 {
        " All of them from one unit: another may differ."
    } else {
        ""
    };
    format!("{so_far}; {which}.{b10}{few}{one}")
}

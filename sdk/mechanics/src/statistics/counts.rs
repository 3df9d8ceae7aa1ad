//! Failures over age without a distribution: Kaplan-Meier, Nelson-Aalen, and the mean cumulative
//! function of repairable units with its power law.

use super::{Life, StatisticsError, normal, positive};

/// Survival and cumulative hazard just after an age at which parts failed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurvivalStep {
    /// The age.
    pub age: f64,
    /// Parts alive and seen just before.
    pub at_risk: usize,
    /// Parts that failed then.
    pub failures: usize,
    /// Kaplan-Meier share alive.
    pub survival: f64,
    /// Standard error of the survival (Greenwood).
    pub survival_se: f64,
    /// Nelson-Aalen cumulative hazard.
    pub cumulative_hazard: f64,
}

/// Kaplan-Meier and Nelson-Aalen estimates, a step for each age at which parts failed, rising. A part
/// last seen alive at that age counts as at risk.
///
/// # Errors
/// An age not above 0.
pub fn survival_steps(lives: &[Life]) -> Result<Vec<SurvivalStep>, StatisticsError> {
    for life in lives {
        positive("age", life.age)?;
    }
    let mut sorted = lives.to_vec();
    sorted.sort_by(|a, b| a.age.total_cmp(&b.age));
    let (mut survival, mut greenwood, mut cumulative_hazard) = (1.0, 0.0, 0.0);
    let mut steps = Vec::new();
    let mut at_risk = sorted.len();
    for same_age in sorted.chunk_by(|a, b| a.age.total_cmp(&b.age).is_eq()) {
        let failures = same_age.iter().filter(|life| life.failed).count();
        if let (Some(first), true) = (same_age.first(), failures > 0) {
            let (d, n) = (failures as f64, at_risk as f64);
            survival *= 1.0 - d / n;
            greenwood += if failures < at_risk {
                d / (n * (n - d))
            } else {
                0.0
            };
            cumulative_hazard += d / n;
            steps.push(SurvivalStep {
                age: first.age,
                at_risk,
                failures,
                survival,
                survival_se: survival * greenwood.sqrt(),
                cumulative_hazard,
            });
        }
        at_risk -= same_age.len();
    }
    Ok(steps)
}

/// The age by which the survival first falls to 1 - `p` or below; `None` when it never does.
pub fn survival_quantile(steps: &[SurvivalStep], p: f64) -> Option<f64> {
    // A share of parts summed to 1 - p may miss it by rounding.
    let at_most = (1.0 - p) * (1.0 + 1e-12);
    steps
        .iter()
        .find(|step| step.survival <= at_most)
        .map(|step| step.age)
}

/// A repairable unit: the ages of its failures, and the age when last seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Recurrences {
    /// Ages, in any order, from 0 to `end`; the same age may occur twice.
    pub ages: Vec<f64>,
    /// Age when last seen, above 0.
    pub end: f64,
}

/// Mean cumulative failures of a unit, just after an age at which units failed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanCountStep {
    /// The age.
    pub age: f64,
    /// Units seen at that age.
    pub at_risk: usize,
    /// Failures then.
    pub failures: usize,
    /// Mean failures of a unit up to then.
    pub mean_count: f64,
    /// Its robust standard error.
    pub se: f64,
    /// Its 95 % interval, symmetric in the logarithm.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Mean cumulative function (Nelson 2003, Recurrent Events Data Analysis), a step for each age at
/// which units failed, rising; the variance is that of Lawless and Nadeau (1995), which does not take failures of a unit as
/// independent.
///
/// # Errors
/// An age below 0, above the end, or an end not above 0.
pub fn mean_cumulative_function(
    units: &[Recurrences],
) -> Result<Vec<MeanCountStep>, StatisticsError> {
    check(units)?;
    let mut ages: Vec<f64> = units
        .iter()
        .flat_map(|unit| unit.ages.iter().copied())
        .collect();
    ages.sort_by(f64::total_cmp);
    // For each unit, the sum of (its failures - mean failures) / at risk.
    let mut deviations = vec![0.0; units.len()];
    let mut mean_count = 0.0;
    let mut steps = Vec::new();
    let width = normal::quantile(0.975);
    for same_age in ages.chunk_by(|a, b| a.total_cmp(b).is_eq()) {
        let Some(&age) = same_age.first() else {
            continue;
        };
        let at_risk = units.iter().filter(|unit| unit.end >= age).count();
        let (failures, n) = (same_age.len(), at_risk as f64);
        let increment = failures as f64 / n;
        mean_count += increment;
        for (unit, deviation) in units.iter().zip(&mut deviations) {
            if unit.end >= age {
                let own = unit
                    .ages
                    .iter()
                    .filter(|a| a.total_cmp(&age).is_eq())
                    .count();
                *deviation += (own as f64 - increment) / n;
            }
        }
        let se = deviations.iter().map(|d| d * d).sum::<f64>().sqrt();
        let factor = libm::exp(width * se / mean_count);
        steps.push(MeanCountStep {
            age,
            at_risk,
            failures,
            mean_count,
            se,
            low: mean_count / factor,
            high: mean_count * factor,
        });
    }
    Ok(steps)
}

fn check(units: &[Recurrences]) -> Result<(), StatisticsError> {
    for unit in units {
        positive("end", unit.end)?;
        if let Some(&value) = unit
            .ages
            .iter()
            .find(|age| !(**age >= 0.0 && **age <= unit.end))
        {
            return Err(StatisticsError::OutOfRange {
                field: "ages",
                value,
                expected: "0 to the age when the unit was last seen",
            });
        }
    }
    Ok(())
}

/// Power-law failure intensity of repairable units: mean failures up to age t are (t / scale)^shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerLaw {
    /// Above 1: failures come ever faster.
    pub shape: f64,
    /// Age by which a unit has failed once on average.
    pub scale: f64,
}

impl PowerLaw {
    /// Mean failures up to age `t`.
    pub fn mean_count(&self, t: f64) -> f64 {
        libm::pow(t.max(0.0) / self.scale, self.shape)
    }
}

/// Fits a power-law process to units pooled, each seen from age 0, by maximum likelihood.
///
/// # Errors
/// As [`mean_cumulative_function`]; fewer than two failures; no finite maximum.
pub fn power_law(units: &[Recurrences]) -> Result<PowerLaw, StatisticsError> {
    check(units)?;
    let ages = units
        .iter()
        .flat_map(|unit| &unit.ages)
        .filter(|age| **age > 0.0);
    let ln_ages: Vec<f64> = ages.map(|age| libm::log(*age)).collect();
    let failures = ln_ages.len();
    if failures < 2 {
        return Err(StatisticsError::TooFew {
            what: "failures at ages above 0",
            found: failures,
            needed: 2,
        });
    }
    let (n, sum) = (failures as f64, ln_ages.iter().sum::<f64>());
    // Ends over the longest, so that no power overflows.
    let longest = units.iter().map(|unit| unit.end).fold(0.0, f64::max);
    let ends: Vec<f64> = units
        .iter()
        .map(|unit| libm::log(unit.end / longest))
        .collect();
    let powers = |shape: f64| {
        ends.iter().fold((0.0, 0.0), |(plain, weighted), ln_end| {
            let power = libm::exp(shape * ln_end);
            (plain + power, weighted + power * ln_end)
        })
    };
    // The slope of the log-likelihood over the shape; it only falls.
    let slope = |shape: f64| {
        let (plain, weighted) = powers(shape);
        n / shape + sum - n * libm::log(longest) - n * weighted / plain
    };
    let (mut low, mut high) = (1e-6, 1e6);
    if slope(low) <= 0.0 || slope(high) >= 0.0 {
        return Err(StatisticsError::NoMaximum { iterations: 0 });
    }
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if slope(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let (plain, _) = powers(low);
    Ok(PowerLaw {
        shape: low,
        scale: longest * libm::pow(plain / n, 1.0 / low),
    })
}

//! How often intervals hold the truth, over simulated samples of lives.

use ringland_mechanics::statistics::intervals::{self, Interval};
use ringland_mechanics::statistics::regression::{self, ErrorLaw};
use ringland_mechanics::statistics::sampling::SplitMix64;
use ringland_mechanics::statistics::{Life, Lognormal, StatisticsError, Weibull, normal};

/// Nominal confidence.
pub const CONFIDENCE: f64 = 0.9;

/// How lives come to be seen unfailed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Censoring {
    /// All run to failure.
    None,
    /// All are looked at once, at the age by which this share fails.
    Once(f64),
    /// Parts entered service at any time: ages at the look are uniform up to that by which this share fails.
    Staggered(f64),
}

impl Censoring {
    /// In words.
    pub fn label(self) -> String {
        match self {
            Self::None => "all failed".into(),
            Self::Once(share) => format!("one look at {:.0} % failed", 100.0 * share),
            Self::Staggered(share) => {
                format!("ages at the look uniform to {:.0} % failed", 100.0 * share)
            }
        }
    }

    fn sample(self, n: usize, quantile: impl Fn(f64) -> f64, random: &mut SplitMix64) -> Vec<Life> {
        let mut life = |_| {
            let age = quantile(random.next_open());
            let looked_at = match self {
                Self::None => f64::INFINITY,
                Self::Once(share) => quantile(share),
                Self::Staggered(share) => random.next_open() * quantile(share),
            };
            Life {
                age: age.min(looked_at),
                failed: age <= looked_at,
            }
        };
        (0..n).map(&mut life).collect()
    }
}

/// How much is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Effort {
    /// Of the samples.
    pub seed: u64,
    /// Number of them.
    pub samples: usize,
    /// Refits behind each interval.
    pub draws: usize,
}

/// How often the intervals of some quantities held.
#[derive(Clone, Debug, Default)]
pub struct Coverage {
    /// Samples that could be fitted.
    pub samples: usize,
    /// Failures in them.
    failures: usize,
    /// Quantity, then how often its interval held, and how often that of Wald did.
    pub quantities: Vec<(&'static str, [usize; 2])>,
}

/// What one sample gave: quantity, whether its interval held, whether that of Wald did.
type Held = (&'static str, bool, bool);

impl Coverage {
    fn add(&mut self, held: &[Held], lives: &[Life]) {
        if self.quantities.is_empty() {
            self.quantities = held.iter().map(|(name, ..)| (*name, [0; 2])).collect();
        }
        self.samples += 1;
        self.failures += lives.iter().filter(|life| life.failed).count();
        for ((_, counts), (_, by_pivot, by_wald)) in self.quantities.iter_mut().zip(held) {
            counts[0] += usize::from(*by_pivot);
            counts[1] += usize::from(*by_wald);
        }
    }

    /// Mean number of failures in a sample, of both groups if there are two.
    pub fn mean_failures(&self) -> f64 {
        self.failures as f64 / self.samples as f64
    }

    /// Shares of the intervals that held: by pivots, by standard errors.
    pub fn shares(&self, counts: [usize; 2]) -> [f64; 2] {
        counts.map(|held| held as f64 / self.samples as f64)
    }
}

fn holds(interval: Result<Interval, StatisticsError>, truth: f64) -> bool {
    let interval = interval.unwrap();
    interval.low <= truth && truth <= interval.high
}

/// Wald's interval of a value or, of what is above 0, of its logarithm.
fn wald(estimate: f64, se: f64, truth: f64) -> bool {
    (estimate - truth).abs() <= normal::quantile(0.5 + 0.5 * CONFIDENCE) * se
}

/// Standard error of the logarithm of a quantile e scales above the location, by the covariance of location and ln scale.
fn quantile_se(covariance: &[Vec<f64>], e_scale: f64) -> f64 {
    let (a, b, c) = (covariance[0][0], covariance[0][1], covariance[1][1]);
    (a + 2.0 * e_scale * b + e_scale * e_scale * c).sqrt()
}

/// Shape, scale, B10 and median of a Weibull distribution; its parameters do not matter, as all is measured in its scale.
pub fn weibull(n: usize, censoring: Censoring, effort: Effort) -> Coverage {
    let truth = Weibull::new(2.0, 30.0).unwrap();
    let mut random = SplitMix64::new(effort.seed);
    let mut coverage = Coverage::default();
    for number in 0..effort.samples {
        let lives = censoring.sample(n, |p| truth.quantile(p), &mut random);
        let Ok(found) = intervals::weibull_with(&lives, effort.draws, number as u64) else {
            continue;
        };
        let law = ErrorLaw::SmallestExtremeValue;
        let covariance = regression::fit(law, &lives, &[]).unwrap().covariance;
        let life = found.fit.life;
        let quantile = |name, p: f64| {
            let e: f64 = (-(-p).ln_1p()).ln();
            let se = quantile_se(&covariance, e / life.shape);
            let by_wald = wald(life.quantile(p).ln(), se, truth.quantile(p).ln());
            (
                name,
                holds(found.quantile(p, CONFIDENCE), truth.quantile(p)),
                by_wald,
            )
        };
        let (shape_se, scale_se) = (
            found.fit.shape_se / life.shape,
            found.fit.scale_se / life.scale,
        );
        let held = [
            (
                "shape",
                holds(found.shape(CONFIDENCE), truth.shape),
                wald(life.shape.ln(), shape_se, truth.shape.ln()),
            ),
            (
                "scale",
                holds(found.scale(CONFIDENCE), truth.scale),
                wald(life.scale.ln(), scale_se, truth.scale.ln()),
            ),
            quantile("B10", 0.1),
            quantile("median", 0.5),
        ];
        coverage.add(&held, &lives);
    }
    coverage
}

/// Spread, B10 and median of a lognormal distribution.
pub fn lognormal(n: usize, censoring: Censoring, effort: Effort) -> Coverage {
    let truth = Lognormal::new(3.0, 0.5).unwrap();
    let mut random = SplitMix64::new(effort.seed);
    let mut coverage = Coverage::default();
    for number in 0..effort.samples {
        let lives = censoring.sample(n, |p| truth.quantile(p), &mut random);
        let Ok(found) = intervals::lognormal_with(&lives, effort.draws, number as u64) else {
            continue;
        };
        let covariance = regression::fit(ErrorLaw::Normal, &lives, &[])
            .unwrap()
            .covariance;
        let life = found.fit.life;
        let quantile = |name, p: f64| {
            let se = quantile_se(&covariance, normal::quantile(p) * life.ln_sd);
            let by_wald = wald(life.quantile(p).ln(), se, truth.quantile(p).ln());
            (
                name,
                holds(found.quantile(p, CONFIDENCE), truth.quantile(p)),
                by_wald,
            )
        };
        let held = [
            (
                "sd of ln t",
                holds(found.ln_sd(CONFIDENCE), truth.ln_sd),
                wald(
                    life.ln_sd.ln(),
                    found.fit.ln_sd_se / life.ln_sd,
                    truth.ln_sd.ln(),
                ),
            ),
            quantile("B10", 0.1),
            quantile("median", 0.5),
        ];
        coverage.add(&held, &lives);
    }
    coverage
}

/// Life factor between two groups of `n` with one Weibull shape; the treated live twice as long, and are looked at twice
/// as late.
pub fn life_factor(n: usize, censoring: Censoring, effort: Effort) -> Coverage {
    let truth = Weibull::new(2.0, 30.0).unwrap();
    let mut random = SplitMix64::new(effort.seed);
    let mut coverage = Coverage::default();
    for number in 0..effort.samples {
        let untreated = censoring.sample(n, |p| truth.quantile(p), &mut random);
        let mut treated = censoring.sample(n, |p| truth.quantile(p), &mut random);
        for life in &mut treated {
            life.age *= 2.0;
        }
        let draws = effort.draws;
        let found = intervals::treatment_effect_with(&untreated, &treated, draws, number as u64);
        let Ok(found) = found else { continue };
        let (estimate, se) = (
            found.effect.life_factor.ln(),
            found.effect.ln_life_factor_se,
        );
        let by_pivot = holds(found.life_factor(CONFIDENCE), 2.0);
        let held = [("life factor", by_pivot, wald(estimate, se, 2.0_f64.ln()))];
        coverage.add(&held, &[untreated, treated].concat());
    }
    coverage
}

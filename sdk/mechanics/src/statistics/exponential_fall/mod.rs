//! A level that falls exponentially to its end: level(d) = end + drop exp(-d / scale), over a dose d, as blow-by does
//! while rings seat. By least squares ([`least_squares`]) where there are readings enough, and as a belief
//! ([`Fall`]) from the first reading on.
//!
//! Given the scale, end and drop are linear: with normal priors and normal errors their belief is normal and exact
//! (Gelman et al., Bayesian Data Analysis, 3rd ed., 14.2). The scale, lognormal before any reading, is left in one
//! dimension and summed over. Several quantities that fall with one scale (blow-by and leak-down) are taken together.

mod least_squares;

pub use least_squares::{LeastSquares, least_squares};

use super::correction::Belief;
use super::mixture::{NormalMixture, Part};
use super::{StatisticsError, finite, positive};

/// A level read at a dose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FallReading {
    /// Dose so far, from 0, in any unit.
    pub dose: f64,
    /// Level read.
    pub level: f64,
    /// Error of the reading, one standard deviation, above 0.
    pub sd: f64,
}

/// What is believed of end and drop before any reading. Both spreads above 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelPrior {
    /// The level after an infinite dose.
    pub end: Belief,
    /// The level at dose 0 less the end.
    pub drop: Belief,
}

/// The readings of one quantity with what is believed of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// In any order; may be empty.
    pub readings: Vec<FallReading>,
    /// Before them.
    pub prior: LevelPrior,
}

/// What is believed of a fall.
#[derive(Clone, Debug, PartialEq)]
pub struct Fall {
    nodes: Vec<Node>,
    /// Between nodes, in ln scale.
    step: f64,
}

/// One value of the scale.
#[derive(Clone, Debug, PartialEq)]
struct Node {
    ln_scale: f64,
    /// Adds up to 1 over the nodes.
    weight: f64,
    levels: Vec<Levels>,
}

/// End and drop of one series, normal given the scale.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Levels {
    end: f64,
    drop: f64,
    end_variance: f64,
    covariance: f64,
    drop_variance: f64,
}

const NODES: usize = 161;
/// Spreads of the prior that are looked at.
const REACH: f64 = 6.0;
/// Nodes below the best by this much in ln density are not looked at again: 7 standard deviations.
const NEGLIGIBLE: f64 = 25.0;
const REFINEMENTS: usize = 16;

impl Fall {
    /// What is believed after the readings, from a normal prior of ln scale (spread above 0).
    ///
    /// # Errors
    /// A number out of its range; no series.
    pub fn of(ln_scale: Belief, series: &[Series]) -> Result<Self, StatisticsError> {
        check(ln_scale, series)?;
        let mut low = ln_scale.mean - REACH * ln_scale.sd;
        let mut high = ln_scale.mean + REACH * ln_scale.sd;
        let mut grid = grid(ln_scale, series, low, high);
        for _ in 0..REFINEMENTS {
            let Some((first, last)) = worth_looking_at(&grid, low, high) else {
                break;
            };
            (low, high) = (first, last);
            grid = self::grid(ln_scale, series, low, high);
        }
        Ok(Self::normalised(grid, (high - low) / (NODES - 1) as f64))
    }

    fn normalised(grid: Vec<(f64, f64, Vec<Levels>)>, step: f64) -> Self {
        let most = grid
            .iter()
            .map(|(_, ln, _)| *ln)
            .fold(f64::NEG_INFINITY, f64::max);
        let nodes = grid.into_iter().map(|(ln_scale, ln, levels)| Node {
            ln_scale,
            weight: libm::exp(ln - most),
            levels,
        });
        let mut nodes: Vec<Node> = nodes.collect();
        let total: f64 = nodes.iter().map(|node| node.weight).sum();
        for node in &mut nodes {
            node.weight /= total;
        }
        Self { nodes, step }
    }

    /// Probability that the scale is at most this.
    pub fn scale_cdf(&self, scale: f64) -> f64 {
        let at = libm::log(scale);
        // Each node stands for a cell as wide as the step.
        let below = self.nodes.iter().map(|node| {
            let share = (at - node.ln_scale) / self.step + 0.5;
            node.weight * share.clamp(0.0, 1.0)
        });
        below.sum()
    }

    /// The scale below which a share `p` lies.
    pub fn scale_quantile(&self, p: f64) -> f64 {
        let mut below = 0.0;
        for node in &self.nodes {
            if below + node.weight >= p && node.weight > 0.0 {
                let share = (p - below) / node.weight;
                return libm::exp(node.ln_scale + (share - 0.5) * self.step);
            }
            below += node.weight;
        }
        self.nodes
            .last()
            .map_or(f64::NAN, |node| libm::exp(node.ln_scale + 0.5 * self.step))
    }

    /// Mean and spread of ln scale.
    pub fn ln_scale(&self) -> Belief {
        let mean: f64 = self
            .nodes
            .iter()
            .map(|node| node.weight * node.ln_scale)
            .sum();
        let variance: f64 = self
            .nodes
            .iter()
            .map(|node| node.weight * (node.ln_scale - mean) * (node.ln_scale - mean))
            .sum();
        Belief {
            mean,
            sd: variance.sqrt(),
        }
    }

    /// The share 1 - exp(-dose / scale) of the drop that is done, at quantile `p`.
    pub fn share_quantile(&self, dose: f64, p: f64) -> f64 {
        // The larger the scale, the less is done.
        -libm::expm1(-dose / self.scale_quantile(1.0 - p))
    }

    /// Probability that at least `share` (between 0 and 1) of the drop is done at a dose.
    pub fn probability_done(&self, dose: f64, share: f64) -> f64 {
        if dose <= 0.0 {
            return 0.0;
        }
        self.scale_cdf(-dose / libm::log1p(-share))
    }

    /// The level of a series at a dose; at an infinite dose its end. An index that is not there gives an empty mixture.
    pub fn level(&self, series: usize, dose: f64) -> NormalMixture {
        self.combination(series, |scale| (1.0, libm::exp(-dose / scale)))
    }

    /// How much the level of a series falls from one dose to another.
    pub fn change(&self, series: usize, from: f64, to: f64) -> NormalMixture {
        self.combination(series, |scale| {
            (0.0, libm::exp(-from / scale) - libm::exp(-to / scale))
        })
    }

    /// a end + b drop, where `of` gives a and b for a scale.
    fn combination(&self, series: usize, of: impl Fn(f64) -> (f64, f64)) -> NormalMixture {
        let parts = self.nodes.iter().filter_map(|node| {
            let levels = node.levels.get(series)?;
            let (a, b) = of(libm::exp(node.ln_scale));
            let variance = a * a * levels.end_variance
                + 2.0 * a * b * levels.covariance
                + b * b * levels.drop_variance;
            Some(Part {
                weight: node.weight,
                mean: a * levels.end + b * levels.drop,
                sd: variance.max(0.0).sqrt(),
            })
        });
        NormalMixture::new(parts.collect())
    }
}

fn check(ln_scale: Belief, series: &[Series]) -> Result<(), StatisticsError> {
    finite("ln_scale", ln_scale.mean)?;
    positive("ln_scale_sd", ln_scale.sd)?;
    if series.is_empty() {
        return Err(StatisticsError::TooFew {
            what: "series",
            found: 0,
            needed: 1,
        });
    }
    for one in series {
        finite("end", one.prior.end.mean)?;
        positive("end_sd", one.prior.end.sd)?;
        finite("drop", one.prior.drop.mean)?;
        positive("drop_sd", one.prior.drop.sd)?;
        check_readings(&one.readings)?;
    }
    Ok(())
}

fn check_readings(readings: &[FallReading]) -> Result<(), StatisticsError> {
    for reading in readings {
        finite("level", reading.level)?;
        positive("sd", reading.sd)?;
        if finite("dose", reading.dose)? < 0.0 {
            return Err(StatisticsError::OutOfRange {
                field: "dose",
                value: reading.dose,
                expected: "a finite number from 0",
            });
        }
    }
    Ok(())
}

/// ln scale, ln density (but for a constant) and levels at evenly spaced nodes.
fn grid(prior: Belief, series: &[Series], low: f64, high: f64) -> Vec<(f64, f64, Vec<Levels>)> {
    let node = |index: usize| {
        let ln_scale = low + (high - low) * index as f64 / (NODES - 1) as f64;
        let scale = libm::exp(ln_scale);
        let z = (ln_scale - prior.mean) / prior.sd;
        let mut ln_density = -0.5 * z * z;
        let levels = series.iter().map(|one| {
            let (levels, ln_evidence) = levels(one, scale);
            ln_density += ln_evidence;
            levels
        });
        let levels = levels.collect();
        (ln_scale, ln_density, levels)
    };
    (0..NODES).map(node).collect()
}

/// The part of the grid that holds what is not negligible, if that is much less than the grid.
fn worth_looking_at(grid: &[(f64, f64, Vec<Levels>)], low: f64, high: f64) -> Option<(f64, f64)> {
    let most = grid
        .iter()
        .map(|(_, ln, _)| *ln)
        .fold(f64::NEG_INFINITY, f64::max);
    let counts = |(_, ln, _): &(f64, f64, Vec<Levels>)| *ln > most - NEGLIGIBLE;
    let first = grid.iter().position(counts)?.saturating_sub(1);
    let last = (grid.iter().rposition(counts)? + 1).min(grid.len() - 1);
    let (first, last) = (grid.get(first)?.0, grid.get(last)?.0);
    (last - first < 0.7 * (high - low)).then_some((first, last))
}

/// End and drop given the scale, and ln of the density of the readings but for a constant.
fn levels(series: &Series, scale: f64) -> (Levels, f64) {
    let LevelPrior { end, drop } = series.prior;
    let (end_weight, drop_weight) = (1.0 / (end.sd * end.sd), 1.0 / (drop.sd * drop.sd));
    // Deviations from the prior are solved for: less cancellation than with the levels themselves.
    let (mut ee, mut ed, mut dd) = (end_weight, 0.0, drop_weight);
    let (mut e, mut d) = (0.0, 0.0);
    let left = |reading: &FallReading| libm::exp(-reading.dose / scale);
    for reading in &series.readings {
        let (x, weight) = (left(reading), 1.0 / (reading.sd * reading.sd));
        let off = reading.level - end.mean - x * drop.mean;
        ee += weight;
        ed += weight * x;
        dd += weight * x * x;
        e += weight * off;
        d += weight * x * off;
    }
    let determinant = ee * dd - ed * ed;
    let (end_off, drop_off) = (
        (dd * e - ed * d) / determinant,
        (ee * d - ed * e) / determinant,
    );
    let mut squares = end_off * end_off * end_weight + drop_off * drop_off * drop_weight;
    for reading in &series.readings {
        let x = left(reading);
        let off = reading.level - end.mean - end_off - x * (drop.mean + drop_off);
        squares += (off / reading.sd) * (off / reading.sd);
    }
    let levels = Levels {
        end: end.mean + end_off,
        drop: drop.mean + drop_off,
        end_variance: dd / determinant,
        covariance: -ed / determinant,
        drop_variance: ee / determinant,
    };
    (levels, -0.5 * squares - 0.5 * libm::log(determinant))
}

//! How far fits of lives scatter about the truth: refits of drawn lives.
//!
//! For ln t = m + s e with a law of e without parameters, (fitted m - m) / fitted s and fitted s / s have
//! distributions that depend on neither m nor s, provided that the censored leave at failures (Type II, one
//! or many times): they are pivots. They are drawn here with m = 0 and s = 1 (Lawless, Statistical Models and Methods for
//! Lifetime Data, 2003, chapter 5; Meeker and Escobar, Statistical Methods for Reliability Data, 1998, chapter 9; both from
//! memory). Each group of drawn lives has as many failures as the real one and as many that leave after each
//! failure. So survivors count only up to the failure before them: those that left before the first are left out, and
//! those older than the last make the upper ends of intervals longer than they need be.

use super::Life;
use super::normal;
use super::regression::{ErrorLaw, Row, fit_drawn};
use super::sampling::SplitMix64;

/// A group of lives as a sequence: at risk before each failure, and how many leave after it unfailed.
pub(super) struct Pattern {
    at_risk: Vec<usize>,
    leaving: Vec<usize>,
}

impl Pattern {
    /// Of lives at one age those that failed come first.
    pub(super) fn of(lives: &[Life]) -> Self {
        let mut sorted = lives.to_vec();
        sorted.sort_by(|a, b| a.age.total_cmp(&b.age).then(b.failed.cmp(&a.failed)));
        let mut pattern = Self {
            at_risk: Vec::new(),
            leaving: Vec::new(),
        };
        for (before, life) in sorted.iter().enumerate() {
            if life.failed {
                pattern.at_risk.push(sorted.len() - before);
                pattern.leaving.push(0);
            } else if let Some(last) = pattern.leaving.last_mut() {
                *last += 1;
            }
        }
        pattern
    }

    /// Lives drawn from the law with location 0 and scale 1: the cumulative hazard grows between failures by
    /// a unit exponential over the number at risk.
    fn draw(&self, law: ErrorLaw, design: &[f64], random: &mut SplitMix64, rows: &mut Vec<Row>) {
        let mut hazard = 0.0;
        for (&at_risk, &leaving) in self.at_risk.iter().zip(&self.leaving) {
            hazard -= libm::log(random.next_open()) / at_risk as f64;
            let row = |failed, weight| Row {
                ln_age: at_hazard(law, hazard),
                failed,
                design: design.to_vec(),
                weight,
            };
            rows.push(row(true, 1.0));
            if leaving > 0 {
                rows.push(row(false, leaving as f64));
            }
        }
    }
}

/// The e by which the cumulative hazard has reached a value above 0.
fn at_hazard(law: ErrorLaw, hazard: f64) -> f64 {
    match law {
        ErrorLaw::SmallestExtremeValue => libm::log(hazard),
        // The tail whose probability keeps its digits.
        ErrorLaw::Normal if hazard < 0.5 => normal::quantile(-libm::expm1(-hazard)),
        ErrorLaw::Normal => -normal::quantile(libm::exp(-hazard)),
    }
}

/// A refit of drawn lives.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Refit {
    /// Intercept, then the difference of each further group from the first.
    pub(super) coefficients: Vec<f64>,
    pub(super) scale: f64,
}

/// Refits of `count` draws of all groups together.
pub(super) fn refits(law: ErrorLaw, groups: &[Pattern], count: usize, seed: u64) -> Vec<Refit> {
    let mut random = SplitMix64::new(seed);
    let refit = |_| {
        let mut rows = Vec::new();
        for (number, group) in groups.iter().enumerate() {
            let mut design = vec![0.0; groups.len()];
            for (place, value) in design.iter_mut().enumerate() {
                if place == 0 || place == number {
                    *value = 1.0;
                }
            }
            group.draw(law, &design, &mut random, &mut rows);
        }
        let mut coefficients = fit_drawn(law, &rows, groups.len() + 1);
        let ln_scale = coefficients.pop().unwrap_or(f64::NAN);
        Refit {
            coefficients,
            scale: libm::exp(ln_scale),
        }
    };
    (0..count).map(refit).collect()
}

//! The fall that is nearest to readings, without any prior.

use super::{FallReading, check_readings};
use crate::statistics::StatisticsError;

/// A fall by weighted least squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastSquares {
    /// Level after an infinite dose.
    pub end: f64,
    /// Level at dose 0 less the end.
    pub drop: f64,
    /// Dose over which the drop falls to 1/e.
    pub scale: f64,
    /// Standard error of the end, from the errors of the readings.
    pub end_se: f64,
    /// Of the drop.
    pub drop_se: f64,
    /// Of ln scale.
    pub ln_scale_se: f64,
    /// Sum of squared residuals over squared errors; with right errors near the number of readings less 3.
    pub chi_squared: f64,
}

impl LeastSquares {
    /// The level at a dose.
    pub fn level(&self, dose: f64) -> f64 {
        self.end + self.drop * libm::exp(-dose / self.scale)
    }
}

/// Values of the scale tried first.
const TRIES: usize = 200;
const MAX_ITERATIONS: usize = 50;

/// Fits end, drop and scale: end and drop are linear given the scale, which is looked for over five decades around the
/// doses, then all three by Gauss and Newton.
///
/// # Errors
/// A number out of its range, fewer than three different doses, or no scale within the range (a straight line, a level
/// that does not change).
pub fn least_squares(readings: &[FallReading]) -> Result<LeastSquares, StatisticsError> {
    check_readings(readings)?;
    let mut doses: Vec<f64> = readings.iter().map(|reading| reading.dose).collect();
    doses.sort_by(f64::total_cmp);
    doses.dedup();
    let (Some(first), Some(last), 3..) = (doses.first(), doses.last(), doses.len()) else {
        return Err(StatisticsError::TooFew {
            what: "different doses",
            found: doses.len(),
            needed: 3,
        });
    };
    let span = last - first;
    let at = |index: usize| {
        let share = index as f64 / (TRIES - 1) as f64;
        libm::log(span) + libm::log(1e-2) + share * (libm::log(1e3) - libm::log(1e-2))
    };
    let chi = |index: usize| chi_squared(readings, linear(readings, libm::exp(at(index))));
    let best = (0..TRIES)
        .min_by(|a, b| chi(*a).total_cmp(&chi(*b)))
        .unwrap_or(0);
    if best == 0 || best == TRIES - 1 {
        return Err(StatisticsError::NoMaximum { iterations: 0 });
    }
    polished(readings, linear(readings, libm::exp(at(best))))
}

/// End, drop and scale: the linear two by weighted least squares.
fn linear(readings: &[FallReading], scale: f64) -> [f64; 3] {
    let weights = || {
        readings
            .iter()
            .map(|reading| 1.0 / (reading.sd * reading.sd))
    };
    let left = |reading: &FallReading| libm::exp(-reading.dose / scale);
    let total: f64 = weights().sum();
    let mean_x = readings
        .iter()
        .zip(weights())
        .map(|(r, w)| w * left(r))
        .sum::<f64>()
        / total;
    let mean_y = readings
        .iter()
        .zip(weights())
        .map(|(r, w)| w * r.level)
        .sum::<f64>()
        / total;
    let (mut xx, mut xy) = (0.0, 0.0);
    for (reading, weight) in readings.iter().zip(weights()) {
        let x = left(reading) - mean_x;
        xx += weight * x * x;
        xy += weight * x * (reading.level - mean_y);
    }
    let drop = if xx > 0.0 { xy / xx } else { 0.0 };
    [mean_y - drop * mean_x, drop, scale]
}

fn chi_squared(readings: &[FallReading], [end, drop, scale]: [f64; 3]) -> f64 {
    let residuals = readings.iter().map(|reading| {
        let off = (reading.level - end - drop * libm::exp(-reading.dose / scale)) / reading.sd;
        off * off
    });
    residuals.sum()
}

/// Gauss-Newton steps in end, drop and ln scale, halved until they do not make it worse.
fn polished(readings: &[FallReading], start: [f64; 3]) -> Result<LeastSquares, StatisticsError> {
    let mut at = start;
    let mut here = chi_squared(readings, at);
    for _ in 0..MAX_ITERATIONS {
        let (_, step) = covariance_and_step(readings, at)?;
        let mut factor = 1.0;
        let mut moved = false;
        while factor > 1e-6 {
            let next = [
                at[0] + factor * step[0],
                at[1] + factor * step[1],
                at[2] * libm::exp((factor * step[2]).clamp(-1.0, 1.0)),
            ];
            let there = chi_squared(readings, next);
            if there < here {
                (at, here, moved) = (next, there, true);
                break;
            }
            factor *= 0.5;
        }
        if !moved {
            break;
        }
    }
    let (covariance, _) = covariance_and_step(readings, at)?;
    let [end, drop, scale] = at;
    Ok(LeastSquares {
        end,
        drop,
        scale,
        end_se: covariance[0][0].sqrt(),
        drop_se: covariance[1][1].sqrt(),
        ln_scale_se: covariance[2][2].sqrt(),
        chi_squared: here,
    })
}

/// Covariance of end, drop and ln scale, and the Gauss-Newton step in them. By orthogonal columns (modified Gram and
/// Schmidt), since normal equations would square the condition.
fn covariance_and_step(
    readings: &[FallReading],
    [end, drop, scale]: [f64; 3],
) -> Result<([[f64; 3]; 3], [f64; 3]), StatisticsError> {
    let left = |reading: &FallReading| libm::exp(-reading.dose / scale);
    let column = |slope: &dyn Fn(&FallReading) -> f64| -> Vec<f64> {
        readings
            .iter()
            .map(|reading| slope(reading) / reading.sd)
            .collect()
    };
    let mut columns = [
        column(&|_| 1.0),
        column(&left),
        column(&|reading| drop * left(reading) * reading.dose / scale),
    ];
    let residuals = column(&|reading| reading.level - end - drop * left(reading));
    let mut upper = [[0.0; 3]; 3];
    let mut projected = [0.0; 3];
    for i in 0..3 {
        let before = dot(&columns[i], &columns[i]).sqrt();
        for _ in 0..2 {
            for j in 0..i {
                let (done, rest) = columns.split_at_mut(i);
                let along = dot(&done[j], &rest[0]);
                upper[j][i] += along;
                rest[0]
                    .iter_mut()
                    .zip(&done[j])
                    .for_each(|(a, b)| *a -= along * b);
            }
        }
        let length = dot(&columns[i], &columns[i]).sqrt();
        if length.is_nan() || length <= f64::EPSILON * before {
            return Err(StatisticsError::NoMaximum {
                iterations: MAX_ITERATIONS,
            });
        }
        upper[i][i] = length;
        columns[i].iter_mut().for_each(|value| *value /= length);
        projected[i] = dot(&columns[i], &residuals);
    }
    let inverse = inverse_upper(&upper);
    let mut covariance = [[0.0; 3]; 3];
    let mut step = [0.0; 3];
    for i in 0..3 {
        step[i] = dot(&inverse[i], &projected);
        for j in 0..3 {
            covariance[i][j] = dot(&inverse[i], &inverse[j]);
        }
    }
    Ok((covariance, step))
}

fn inverse_upper(upper: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let [[a, b, c], [_, d, e], [_, _, f]] = *upper;
    [
        [1.0 / a, -b / (a * d), (b * e - c * d) / (a * d * f)],
        [0.0, 1.0 / d, -e / (d * f)],
        [0.0, 0.0, 1.0 / f],
    ]
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

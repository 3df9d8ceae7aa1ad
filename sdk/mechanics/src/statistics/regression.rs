//! Maximum likelihood for lives whose logarithm has a location, linear in covariates, and a scale:
//! ln t = b0 + b1 x1 + ... + scale e, with right censoring (accelerated failure time).
//! Lawless, Statistical Models and Methods for Lifetime Data (2003), chapter 6.

use super::{Life, StatisticsError, finite, normal, positive};

/// The distribution of the error e.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ErrorLaw {
    /// Smallest extreme value: lives are Weibull with shape 1 / scale.
    SmallestExtremeValue,
    /// Normal: lives are lognormal.
    Normal,
}

/// A fitted model.
#[derive(Clone, Debug, PartialEq)]
pub struct Regression {
    /// Intercept, then one coefficient for each covariate.
    pub coefficients: Vec<f64>,
    /// Scale of the error.
    pub scale: f64,
    /// Covariance of the coefficients and, last, ln scale: the inverse of the observed information.
    pub covariance: Vec<Vec<f64>>,
    /// Log-likelihood of the lives at the maximum.
    pub log_likelihood: f64,
}

impl Regression {
    /// Standard error of a coefficient; of ln scale for the index after the last. NaN beyond.
    pub fn standard_error(&self, index: usize) -> f64 {
        let variance = self.covariance.get(index).and_then(|row| row.get(index));
        variance.map_or(f64::NAN, |v| v.sqrt())
    }
}

const MAX_ITERATIONS: usize = 200;

/// Fits by Newton's method, damped so that the likelihood never falls. `covariates` holds one column for each
/// covariate, as long as `lives`; centre large ones for accuracy.
///
/// # Errors
/// An age not above 0 or a covariate not finite, columns of other lengths, fewer failures than
/// parameters, or a likelihood without a finite maximum.
pub fn fit(
    law: ErrorLaw,
    lives: &[Life],
    covariates: &[&[f64]],
) -> Result<Regression, StatisticsError> {
    let rows = rows(lives, covariates)?;
    let failures = lives.iter().filter(|life| life.failed).count();
    let parameters = covariates.len() + 2;
    if failures < parameters {
        return Err(StatisticsError::TooFew {
            what: "failures",
            found: failures,
            needed: parameters,
        });
    }
    let (at, here) = maximise(law, &rows, start(&rows, parameters), 0.0);
    conclude(&at, &here, lives)
}

/// The parameters with the greatest likelihood, to rounding, or until a step promises to raise its logarithm by
/// less than `least_gain`.
fn maximise(
    law: ErrorLaw,
    rows: &[Row],
    start: Vec<f64>,
    least_gain: f64,
) -> (Vec<f64>, Likelihood) {
    let mut at = start;
    let mut here = likelihood(law, rows, &at);
    for _ in 0..MAX_ITERATIONS {
        let Some((next, there)) = step(law, rows, &at, &here, least_gain) else {
            break;
        };
        let moved = next
            .iter()
            .zip(&at)
            .map(|(a, b)| (a - b).abs() / (1.0 + b.abs()));
        let moved = moved.fold(0.0, f64::max);
        (at, here) = (next, there);
        if moved < 1e-13 {
            break;
        }
    }
    (at, here)
}

/// Coefficients and, last, ln scale of lives that were drawn with 0 for each of them, without checks; to a
/// ten-thousandth of their standard errors.
pub(super) fn fit_drawn(law: ErrorLaw, rows: &[Row], parameters: usize) -> Vec<f64> {
    maximise(law, rows, vec![0.0; parameters], 5e-9).0
}

/// A life as the likelihood sees it.
pub(super) struct Row {
    pub(super) ln_age: f64,
    pub(super) failed: bool,
    /// 1 for the intercept, then the covariates.
    pub(super) design: Vec<f64>,
    /// How many such lives there are.
    pub(super) weight: f64,
}

fn rows(lives: &[Life], covariates: &[&[f64]]) -> Result<Vec<Row>, StatisticsError> {
    if let Some(column) = covariates.iter().find(|c| c.len() != lives.len()) {
        return Err(StatisticsError::LengthsDiffer {
            field: "covariate",
            found: column.len(),
            expected: lives.len(),
        });
    }
    let row = |(index, life): (usize, &Life)| {
        let mut design = vec![1.0];
        for column in covariates {
            let value = column.get(index).copied().unwrap_or(f64::NAN);
            design.push(finite("covariate", value)?);
        }
        Ok(Row {
            ln_age: libm::log(positive("age", life.age)?),
            failed: life.failed,
            design,
            weight: 1.0,
        })
    };
    lives.iter().enumerate().map(row).collect()
}

/// Mean and spread of the logarithms, as if every life had ended.
fn start(rows: &[Row], parameters: usize) -> Vec<f64> {
    let n = rows.iter().map(|row| row.weight).sum::<f64>();
    let ages = rows.iter().map(|row| row.weight * row.ln_age);
    let mean = ages.sum::<f64>() / n;
    let squares = rows
        .iter()
        .map(|row| row.weight * (row.ln_age - mean).powi(2));
    let variance = squares.sum::<f64>() / n;
    let mut at = vec![0.0; parameters];
    if let Some(first) = at.first_mut() {
        *first = mean;
    }
    if let Some(last) = at.last_mut() {
        *last = 0.5 * libm::log(variance.max(1e-4));
    }
    at
}

/// Log-likelihood of ln t with its gradient and the negative of its second derivatives.
struct Likelihood {
    value: f64,
    gradient: Vec<f64>,
    information: Vec<Vec<f64>>,
}

fn likelihood(law: ErrorLaw, rows: &[Row], at: &[f64]) -> Likelihood {
    let parameters = at.len();
    let (ln_scale, coefficients) = at.split_last().map_or((0.0, at), |(s, c)| (*s, c));
    let scale = libm::exp(ln_scale);
    let mut total = Likelihood {
        value: 0.0,
        gradient: vec![0.0; parameters],
        information: vec![vec![0.0; parameters]; parameters],
    };
    for row in rows {
        let location: f64 = row
            .design
            .iter()
            .zip(coefficients)
            .map(|(x, b)| x * b)
            .sum();
        let z = (row.ln_age - location) / scale;
        let (value, first, second) = term(law, row.failed, z);
        let weight = row.weight;
        total.value += weight * (value - if row.failed { ln_scale } else { 0.0 });
        // dz / d parameter; the last is ln scale.
        let last = parameters - 1;
        let slope_by = |i: usize| row.design.get(i).map_or(-z, |x| -x / scale);
        for i in 0..parameters {
            let slope = slope_by(i);
            let constant = if i == last && row.failed { 1.0 } else { 0.0 };
            total.gradient[i] += weight * (first * slope - constant);
            for j in 0..parameters {
                let other = slope_by(j);
                let bend = match (i == last, j == last) {
                    (false, false) => 0.0,
                    (false, true) => -slope,
                    (true, false) => -other,
                    (true, true) => z,
                };
                total.information[i][j] -= weight * (second * slope * other + first * bend);
            }
        }
    }
    total
}

/// Log density (failed) or log survival (not) of the error at `z`, with two derivatives.
fn term(law: ErrorLaw, failed: bool, z: f64) -> (f64, f64, f64) {
    match (law, failed) {
        (ErrorLaw::SmallestExtremeValue, true) => {
            let e = libm::exp(z);
            (z - e, 1.0 - e, -e)
        }
        (ErrorLaw::SmallestExtremeValue, false) => {
            let e = libm::exp(z);
            (-e, -e, -e)
        }
        (ErrorLaw::Normal, true) => {
            let ln_pdf = -0.5 * z * z - 0.5 * libm::log(std::f64::consts::TAU);
            (ln_pdf, -z, -1.0)
        }
        (ErrorLaw::Normal, false) => {
            let hazard = normal::hazard(z);
            (normal::ln_survival(z), -hazard, -hazard * (hazard - z))
        }
    }
}

/// A Newton step that raises the likelihood, its information made steeper until it does (Levenberg
/// and Marquardt). `None` when nothing better is found: the maximum, to rounding or to `least_gain`.
fn step(
    law: ErrorLaw,
    rows: &[Row],
    at: &[f64],
    here: &Likelihood,
    least_gain: f64,
) -> Option<(Vec<f64>, Likelihood)> {
    let mut damping = 0.0;
    for _ in 0..60 {
        let mut information = here.information.clone();
        for (i, row) in information.iter_mut().enumerate() {
            row[i] += damping * (row[i].abs() + 1.0);
        }
        if let Some(inverse) = inverse_if_positive_definite(&information) {
            let change = inverse.iter().map(|row| dot(row, &here.gradient));
            let change: Vec<f64> = change.collect();
            if 0.5 * dot(&change, &here.gradient) < least_gain {
                return None;
            }
            let next: Vec<f64> = at.iter().zip(&change).map(|(a, d)| a + d).collect();
            let there = likelihood(law, rows, &next);
            if there.value > here.value {
                return Some((next, there));
            }
        }
        damping = if damping == 0.0 { 1e-6 } else { damping * 4.0 };
    }
    None
}

fn conclude(at: &[f64], here: &Likelihood, lives: &[Life]) -> Result<Regression, StatisticsError> {
    let no_maximum = StatisticsError::NoMaximum {
        iterations: MAX_ITERATIONS,
    };
    let covariance =
        inverse_if_positive_definite(&here.information).ok_or_else(|| no_maximum.clone())?;
    // The gain that one more Newton step promises.
    let change: Vec<f64> = covariance
        .iter()
        .map(|row| dot(row, &here.gradient))
        .collect();
    let (ln_scale, coefficients) = at.split_last().ok_or_else(|| no_maximum.clone())?;
    // ln scale below -15 stands for lives all equal: the likelihood rises without bound.
    if dot(&change, &here.gradient).abs() > 1e-8 || *ln_scale < -15.0 {
        return Err(no_maximum);
    }
    // From the density of ln t to that of t.
    let failed_ages = lives.iter().filter(|life| life.failed);
    let jacobian: f64 = failed_ages.map(|life| libm::log(life.age)).sum();
    Ok(Regression {
        coefficients: coefficients.to_vec(),
        scale: libm::exp(*ln_scale),
        covariance,
        log_likelihood: here.value - jacobian,
    })
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Inverse by Gauss and Jordan without pivoting, which is stable for the positive definite; `None`
/// for any other matrix.
fn inverse_if_positive_definite(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let n = matrix.len();
    let mut left = matrix.to_vec();
    let mut right: Vec<Vec<f64>> = (0..n)
        .map(|i| (0..n).map(|j| if i == j { 1.0 } else { 0.0 }).collect())
        .collect();
    for column in 0..n {
        let pivot = left[column][column];
        if !(pivot.is_finite() && pivot > f64::EPSILON * matrix[column][column].abs()) {
            return None;
        }
        for value in left[column].iter_mut().chain(&mut right[column]) {
            *value /= pivot;
        }
        let (pivot_left, pivot_right) = (left[column].clone(), right[column].clone());
        for row in (0..n).filter(|row| *row != column) {
            let factor = left[row][column];
            for j in 0..n {
                left[row][j] -= factor * pivot_left[j];
                right[row][j] -= factor * pivot_right[j];
            }
        }
    }
    Some(right)
}

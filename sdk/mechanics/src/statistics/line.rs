//! A straight line through readings with known errors.

use super::correction::Belief;
use super::{StatisticsError, finite, positive};

/// A reading at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineReading {
    /// Place.
    pub x: f64,
    /// Reading.
    pub y: f64,
    /// Its error, one standard deviation, above 0.
    pub sd: f64,
}

/// y = `intercept` + `slope` x by weighted least squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// At x = 0.
    pub intercept: f64,
    /// Per unit of x.
    pub slope: f64,
    /// Variance of the intercept, from the errors of the readings.
    pub intercept_variance: f64,
    /// Of the slope.
    pub slope_variance: f64,
    /// Between them.
    pub covariance: f64,
    /// Sum of squared residuals over squared errors; with right errors near the number of readings less 2.
    pub chi_squared: f64,
    /// How many readings.
    pub readings: usize,
}

impl Line {
    /// The line at `x`, with its standard error.
    pub fn at(&self, x: f64) -> Belief {
        let variance =
            self.intercept_variance + 2.0 * x * self.covariance + x * x * self.slope_variance;
        Belief {
            mean: self.intercept + self.slope * x,
            sd: variance.max(0.0).sqrt(),
        }
    }

    /// The same line with its variances multiplied, as by chi-squared over its degrees of freedom where readings
    /// scatter more than their errors say.
    #[must_use]
    pub fn widened(self, factor: f64) -> Self {
        Self {
            intercept_variance: factor * self.intercept_variance,
            slope_variance: factor * self.slope_variance,
            covariance: factor * self.covariance,
            ..self
        }
    }
}

/// Fits a line. Needs two readings at different places.
///
/// # Errors
/// A number out of its range, or too few.
pub fn line(readings: &[LineReading]) -> Result<Line, StatisticsError> {
    let mut total = 0.0;
    let (mut sum_x, mut sum_y) = (0.0, 0.0);
    for reading in readings {
        let weight = 1.0 / (positive("sd", reading.sd)? * reading.sd);
        total += weight;
        sum_x += weight * finite("x", reading.x)?;
        sum_y += weight * finite("y", reading.y)?;
    }
    let (mean_x, mean_y) = (sum_x / total, sum_y / total);
    let (mut xx, mut xy) = (0.0, 0.0);
    for reading in readings {
        let weight = 1.0 / (reading.sd * reading.sd);
        xx += weight * (reading.x - mean_x) * (reading.x - mean_x);
        xy += weight * (reading.x - mean_x) * (reading.y - mean_y);
    }
    let places = readings
        .iter()
        .any(|reading| reading.x.total_cmp(&readings[0].x).is_ne());
    if !places {
        let found = usize::from(!readings.is_empty());
        return Err(StatisticsError::TooFew {
            what: "different places",
            found,
            needed: 2,
        });
    }
    let slope = xy / xx;
    let intercept = mean_y - slope * mean_x;
    let residuals = readings.iter().map(|reading| {
        let off = (reading.y - intercept - slope * reading.x) / reading.sd;
        off * off
    });
    Ok(Line {
        intercept,
        slope,
        intercept_variance: 1.0 / total + mean_x * mean_x / xx,
        slope_variance: 1.0 / xx,
        covariance: -mean_x / xx,
        chi_squared: residuals.sum(),
        readings: readings.len(),
    })
}

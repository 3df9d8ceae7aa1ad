//! Lives along a path of damage: one path for each mechanism at a rate multiplier of 1, and drawn multipliers.

use crate::contract::{Finding, ForecastRequest, Mechanism, Rate};
use crate::{MOST_DIMENSIONS, error, normal_cdf, normal_draws, warning};

/// A forecast request has one rate for each mechanism and numbers within reason.
///
/// # Errors
/// Everything that departs from it. The condition and the event are checked where they are read.
pub fn check_request(mechanisms: usize, request: &ForecastRequest) -> Result<(), Vec<Finding>> {
    let mut findings = Vec::new();
    let mut refuse = |field: &str, value: f64, expected: &str| {
        findings.push(error(field, value, expected, "correct the request"));
    };
    if request.rates.len() != mechanisms {
        let expected = format!("{mechanisms} rates, one for each mechanism of the card");
        refuse("rates", request.rates.len() as f64, &expected);
    }
    for rate in &request.rates {
        if !(-20.0..=20.0).contains(&rate.ln_mean) {
            refuse("rates.ln_mean", rate.ln_mean, "-20 to 20");
        }
        if !(0.0..=5.0).contains(&rate.ln_sd) {
            refuse("rates.ln_sd", rate.ln_sd, "0 to 5");
        }
    }
    if !(1e-6..=1e9).contains(&request.horizon_events) {
        refuse("horizon_events", request.horizon_events, "1e-6 to 1e9");
    }
    for ahead in &request.ahead_events {
        if !(0.0..=1e9).contains(ahead) {
            refuse("ahead_events", *ahead, "0 to 1e9");
        }
    }
    if findings.is_empty() {
        Ok(())
    } else {
        Err(findings)
    }
}

/// What is believed of the multiplier on a mechanism's damage: normal in its logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Mean of ln(multiplier).
    pub ln_mean: f64,
    /// Standard deviation of ln(multiplier), 0 or more.
    pub ln_sd: f64,
}

impl Spread {
    /// The rate asked for, widened by an independent spread of ln(multiplier).
    pub fn widened(rate: &Rate, ln_sd: f64) -> Self {
        Self {
            ln_mean: rate.ln_mean,
            ln_sd: rate.ln_sd.hypot(ln_sd),
        }
    }

    /// The multiplier at a standard normal draw.
    pub fn at(&self, z: f64) -> f64 {
        libm::exp(self.ln_mean + self.ln_sd * z)
    }

    /// Probability that the multiplier times a damage (0 or more) is 1 or more: that the limit has been passed. Computed, not
    /// counted, so that it also holds far below one in the number of draws.
    pub fn passed(&self, damage: f64) -> f64 {
        if damage <= 0.0 {
            return 0.0;
        }
        let above = libm::log(damage) + self.ln_mean;
        if self.ln_sd <= 0.0 {
            return if above >= 0.0 { 1.0 } else { 0.0 };
        }
        normal_cdf(above / self.ln_sd)
    }
}

/// Damage of each mechanism over the events to come, at a multiplier of 1. It ends a life where, times the multiplier, it reaches 1.
#[derive(Debug, Clone, PartialEq)]
pub struct DamagePath {
    events: Vec<f64>,
    /// One row for each mechanism.
    damages: Vec<Vec<f64>>,
}

const POINTS: u32 = 96;

impl DamagePath {
    /// Asks for the damages after growing numbers of events, from 0 to the horizon: `damages` is called with rising events and returns
    /// one value for each mechanism, 0 or more, which never fall.
    pub fn new(
        mechanisms: usize,
        horizon_events: f64,
        mut damages: impl FnMut(f64) -> Vec<f64>,
    ) -> Self {
        let mut path = Self {
            events: Vec::with_capacity(POINTS as usize + 1),
            damages: vec![Vec::with_capacity(POINTS as usize + 1); mechanisms],
        };
        for k in 0..=POINTS {
            let share = f64::from(k) / f64::from(POINTS);
            let at = horizon_events * share * share;
            path.events.push(at);
            for (row, value) in path.damages.iter_mut().zip(damages(at)) {
                row.push(value);
            }
        }
        path
    }

    /// Events until a mechanism's damage reaches `damage`, linear between points: 0 when it has, the horizon when it does not.
    pub fn events_to(&self, mechanism: usize, damage: f64) -> f64 {
        let horizon = self.events.last().copied().unwrap_or(0.0);
        let Some(row) = self.damages.get(mechanism) else {
            return horizon;
        };
        let after = row.partition_point(|value| *value < damage);
        if after == 0 {
            return 0.0;
        }
        let (Some(high), Some(to)) = (row.get(after), self.events.get(after)) else {
            return horizon;
        };
        let (low, from) = (row[after - 1], self.events[after - 1]);
        from + (to - from) * (damage - low) / (high - low)
    }

    /// Drawn lives of each mechanism \[events\]; the same index is the same drawn component. `correlations` has for each mechanism the
    /// share (0 to 1) of the variance of ln(multiplier) that is common to all mechanisms. At most [`MOST_DIMENSIONS`] less 1
    /// mechanisms have draws of their own; further ones share those of the last.
    pub fn draw(
        &self,
        spreads: &[Spread],
        correlations: &[f64],
        request: &ForecastRequest,
    ) -> Vec<Vec<f64>> {
        let dimensions = (1 + spreads.len()).min(MOST_DIMENSIONS);
        let draws = normal_draws(request.seed, dimensions, request.samples as usize);
        let lives = |(index, (spread, correlation)): (usize, (&Spread, &f64))| {
            let (shared, own) = (correlation.sqrt(), (1.0 - correlation).sqrt());
            let zs = draws[0].iter().zip(&draws[(1 + index).min(dimensions - 1)]);
            zs.map(|(common, alone)| {
                let multiplier = spread.at(shared * common + own * alone);
                self.events_to(index, 1.0 / multiplier)
            })
            .collect()
        };
        let paired = spreads.iter().zip(correlations).enumerate();
        paired.map(lives).collect()
    }
}

/// A warning for each mechanism whose damage has reached 1.
pub fn past_limits(mechanisms: &[Mechanism], damages: &[f64]) -> Vec<Finding> {
    let past = mechanisms.iter().zip(damages);
    past.filter(|(_, damage)| **damage >= 1.0)
        .map(|(mechanism, damage)| {
            warning(
                &mechanism.name,
                *damage,
                "a predicted condition below its limit (1)",
                "measure; replace the part if the measured value confirms it",
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contract::Duty;

    fn request(ln_sd: f64) -> ForecastRequest {
        ForecastRequest {
            condition: Vec::new(),
            event: Duty {
                duration_s: 0.0,
                time_s: Vec::new(),
                points: Vec::new(),
                cycles: Vec::new(),
                shocks: Vec::new(),
                mates: Vec::new(),
            },
            rates: vec![Rate {
                ln_mean: 0.0,
                ln_sd,
            }],
            samples: 401,
            seed: 3,
            horizon_events: 1000.0,
            ahead_events: vec![0.0],
        }
    }

    /// Damage in proportion to events: life is lognormal with the rate's spread (closed form).
    #[test]
    fn even_damage_gives_lognormal_lives() {
        let path = DamagePath::new(1, 1000.0, |events| vec![0.1 * events]);
        assert!((path.events_to(0, 1.0) - 10.0).abs() < 1e-9);
        let request = request(0.4);
        let spread = Spread::widened(&request.rates[0], 0.3);
        assert!((spread.ln_sd - 0.5).abs() < 1e-12);
        let mut lives = path.draw(&[spread], &[0.5], &request).remove(0);
        lives.sort_by(f64::total_cmp);
        assert!((lives[200] / 10.0 - 1.0).abs() < 0.08, "{}", lives[200]);
        let risk = spread.passed(0.1 * 4.0);
        let counted = lives.iter().filter(|life| **life <= 4.0).count() as f64 / 401.0;
        assert!((risk - counted).abs() < 0.03, "{risk} {counted}");
    }

    /// At the limit nothing is left; what never gets there lives to the horizon.
    #[test]
    fn the_ends_of_a_path() {
        let path = DamagePath::new(2, 50.0, |_| vec![1.0, 0.0]);
        assert!(path.events_to(0, 1.0).abs() < 1e-12);
        assert!((path.events_to(1, 1.0) - 50.0).abs() < 1e-12);
        let certain = Spread {
            ln_mean: 0.0,
            ln_sd: 0.0,
        };
        assert!(certain.passed(1.0) >= 1.0 && certain.passed(0.99) <= 0.0);
        assert!(certain.passed(0.0) <= 0.0);
    }

    #[test]
    fn a_request_out_of_reason_is_refused_with_all_that_is_wrong() {
        assert!(check_request(1, &request(0.4)).is_ok());
        let mut wrong = request(f64::NAN);
        wrong.horizon_events = -1.0;
        wrong.ahead_events = vec![f64::INFINITY];
        assert_eq!(check_request(2, &wrong).unwrap_err().len(), 4);
    }
}

//! The model's reading of a component as it was, at any rate of a mechanism, and the rate at which it would
//! have read what was measured.

use crate::{LedgerError, fold::Past, ledger::Ledger};
use ringland_host::contract::{Duty, ForecastRequest, LimitSide, Rate};

/// Rates beyond e^3 = 20 either way are not looked for.
const LN_RATE_BOUND: f64 = 3.0;
/// Below this the response is taken as straight: a part that shows no growth at all has no logarithm of it.
/// Assumed, no source; e^-1 is a third of the model's own rate.
const STRAIGHT_BELOW: f64 = -1.0;
/// Half the step of the slope.
const STEP: f64 = 0.05;
/// Error of the model's form, as standard deviation of ln(rate). Assumed, no source.
const FORM_LN_SD: f64 = 0.15;
/// The 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_2;
/// Lives are not read from these forecasts.
const SAMPLES: u32 = 8;

/// A component to be read by its model.
pub(crate) struct Probe<'a> {
    ledger: &'a Ledger,
    past: &'a Past,
    event: &'a Duty,
    condition: &'a [f64],
}

/// A reading by the model, all rates but one the model's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Read {
    pub(crate) value: f64,
    /// What is left of spread when the rate is known, one standard deviation.
    pub(crate) scatter: f64,
    pub(crate) limit: Option<f64>,
}

/// The rate at which a model reads what was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Solved {
    pub(crate) ln_rate: f64,
    /// Of instrument, scatter and form.
    pub(crate) ln_sd: f64,
    /// Change of the reading with ln(rate).
    pub(crate) slope: f64,
    /// What a component without any growth would read.
    pub(crate) without_growth: f64,
}

impl<'a> Probe<'a> {
    pub(crate) fn new(
        ledger: &'a Ledger,
        past: &'a Past,
        event: &'a Duty,
        condition: &'a [f64],
    ) -> Self {
        Self {
            ledger,
            past,
            event,
            condition,
        }
    }

    /// The reading with this index when the mechanism with that index goes at a rate.
    pub(crate) fn read(
        &self,
        reading: usize,
        mechanism: Option<usize>,
        ln_rate: f64,
    ) -> Result<Read, LedgerError> {
        let rate = |i: usize| Rate {
            ln_mean: if Some(i) == mechanism { ln_rate } else { 0.0 },
            ln_sd: 0.0,
        };
        let request = ForecastRequest {
            condition: self.condition.to_vec(),
            event: self.event.clone(),
            rates: (0..self.past.card.mechanisms.len()).map(rate).collect(),
            samples: SAMPLES,
            seed: 1,
            horizon_events: self.ledger.options.horizon_events,
            ahead_events: vec![0.0],
        };
        let sample = &self.past.sample;
        let forecast = self
            .ledger
            .models
            .forecast(
                self.past.plugin,
                &sample.specimen,
                &sample.prepared,
                &request,
            )
            .map_err(|error| LedgerError::of_model(&self.past.card.component_type, error))?;
        let path = forecast.readings.get(reading);
        let first = |column: &[f64]| column.first().copied().unwrap_or_default();
        Ok(Read {
            value: path.map_or(0.0, |path| first(&path.median)),
            scatter: path.map_or(0.0, |path| first(&path.high) - first(&path.low)) / (2.0 * Z95),
            limit: path.and_then(|path| path.limit),
        })
    }

    /// Solves for the rate by bracketing; the response need not be proportional, only monotone.
    /// `None` when the reading does not answer to the rate.
    pub(crate) fn solve(
        &self,
        reading: usize,
        mechanism: usize,
        measured: f64,
        measured_sd: f64,
    ) -> Result<Option<Solved>, LedgerError> {
        let read = |x: f64| self.read(reading, Some(mechanism), x);
        let without_growth = read(-2.0 * LN_RATE_BOUND)?.value;
        let bracketed = bracket(measured, measured_sd * 1e-3, |x| Ok(read(x)?.value))?;
        let straight_at = bracketed.max(STRAIGHT_BELOW);
        let here = read(straight_at)?;
        let slope =
            (read(straight_at + STEP)?.value - read(straight_at - STEP)?.value) / (2.0 * STEP);
        // A response that rounding alone could make is none.
        if libm::fabs(slope) <= 1e-12 * libm::fabs(here.value) {
            return Ok(None);
        }
        let ln_rate = if bracketed < STRAIGHT_BELOW {
            straight_at + (measured - here.value) / slope
        } else {
            bracketed
        };
        let error = measured_sd.hypot(here.scatter) / libm::fabs(slope);
        Ok(Some(Solved {
            ln_rate: ln_rate.clamp(-2.0 * LN_RATE_BOUND, LN_RATE_BOUND),
            ln_sd: error.hypot(FORM_LN_SD),
            slope,
            without_growth,
        }))
    }
}

/// Where a monotone response equals a target, within the bounds: the nearer bound when it is not between them.
/// Regula falsi with the Illinois step (Dowell and Jarratt, BIT 11 (1971) 168-174, from memory).
fn bracket(
    target: f64,
    tolerance: f64,
    mut response: impl FnMut(f64) -> Result<f64, LedgerError>,
) -> Result<f64, LedgerError> {
    let mut off = |x: f64| response(x).map(|value| value - target);
    let (mut a, mut b) = (-LN_RATE_BOUND, LN_RATE_BOUND);
    let (mut at_a, mut at_b) = (off(a)?, off(b)?);
    if at_a * at_b > 0.0 {
        return Ok(if libm::fabs(at_a) < libm::fabs(at_b) {
            a
        } else {
            b
        });
    }
    for _ in 0..60 {
        let x = if libm::fabs(at_b - at_a) <= 0.0 {
            0.5 * (a + b)
        } else {
            b - at_b * (b - a) / (at_b - at_a)
        };
        let at_x = off(x)?;
        if libm::fabs(at_x) <= tolerance || libm::fabs(b - a) < 1e-9 {
            return Ok(x);
        }
        if at_x * at_b < 0.0 {
            (a, at_a) = (b, at_b);
        } else {
            at_a *= 0.5;
        }
        (b, at_b) = (x, at_x);
    }
    Ok(b)
}

/// Probability that what was measured is past a limit, by the instrument's error alone.
pub(crate) fn probability_past(measured: f64, sd: f64, limit: f64, side: LimitSide) -> f64 {
    let over = match side {
        LimitSide::Above => measured - limit,
        LimitSide::Below => limit - measured,
        LimitSide::Unlimited => return 0.0,
    };
    if sd <= 0.0 {
        return f64::from(u8::from(over > 0.0));
    }
    0.5 * libm::erfc(-over / sd / std::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Quantiles of the normal distribution: at the limit a half, one and two standard deviations over it 84.13 % and
    /// 97.72 % (any table).
    #[test]
    fn the_guard_band_is_that_of_the_normal_distribution() {
        for (over, probability) in [(0.0, 0.5), (1.0, 0.8413), (2.0, 0.9772), (-1.0, 0.1587)] {
            let above = probability_past(10.0 + 3.0 * over, 3.0, 10.0, LimitSide::Above);
            let below = probability_past(10.0 - 3.0 * over, 3.0, 10.0, LimitSide::Below);
            assert!((above - probability).abs() < 5e-5, "{over}: {above}");
            assert!((above - below).abs() < 1e-12);
        }
        assert!(probability_past(10.0, 0.0, 10.0, LimitSide::Above) <= 0.0);
        assert!(probability_past(99.0, 1.0, 10.0, LimitSide::Unlimited) <= 0.0);
    }

    proptest! {
        #[test]
        fn the_bracket_finds_the_rate_of_any_monotone_response(
            x in -2.9..2.9f64, base in -10.0..10.0f64, growth in 1e-3..1e3f64, power in 0.3..2.5f64, falls: bool,
        ) {
            let sign = if falls { -1.0 } else { 1.0 };
            let response = |x: f64| base + sign * growth * libm::exp(power * x);
            let found = bracket(response(x), 0.0, |x| Ok(response(x))).unwrap();
            prop_assert!((found - x).abs() < 1e-5, "{found} for {x}");
        }

        #[test]
        fn beyond_the_bounds_it_is_the_nearer(beyond in 0.0..5.0f64) {
            let high = bracket(libm::exp(3.0 + beyond), 0.0, |x| Ok(libm::exp(x))).unwrap();
            prop_assert!(high >= 3.0 - 1e-9);
            let low = bracket(libm::exp(-3.0 - beyond), 0.0, |x| Ok(libm::exp(x))).unwrap();
            prop_assert!(low <= -3.0 + 1e-9);
        }
    }
}

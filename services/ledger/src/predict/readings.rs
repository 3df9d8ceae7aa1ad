//! Readings now and ahead, and how likely they are past their limits.

use crate::{Quantiles, ReadingAhead, ReadingPrediction};
use ringland_host::contract::{Card, LimitSide, ReadingField, ReadingPath};

/// The 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_2;

/// The readings of a card, in card order.
pub(crate) fn readings(
    card: &Card,
    paths: &[ReadingPath],
    ahead: &[f64],
) -> Vec<ReadingPrediction> {
    card.readings
        .iter()
        .zip(paths)
        .map(|(field, path)| reading(field, path, ahead))
        .collect()
}

fn reading(field: &ReadingField, path: &ReadingPath, ahead: &[f64]) -> ReadingPrediction {
    let at = |i: usize| Quantiles {
        p05: path.low.get(i).copied().unwrap_or_default(),
        p50: path.median.get(i).copied().unwrap_or_default(),
        p95: path.high.get(i).copied().unwrap_or_default(),
    };
    let now = at(0);
    let limit = path
        .limit
        .filter(|_| field.limit_side != LimitSide::Unlimited);
    ReadingPrediction {
        reading: field.name.clone(),
        label: field.label.clone(),
        unit: field.unit.clone(),
        now,
        limit,
        limit_side: field.limit_side,
        limit_source: field.limit_source.clone(),
        probability_past_limit: limit.map(|limit| probability_past(now, limit, field.limit_side)),
        instrument: field.instrument.clone(),
        instrument_sd: field
            .instrument_sd
            .hypot(field.instrument_sd_relative * now.p50),
        ahead: ahead
            .iter()
            .enumerate()
            .skip(1)
            .map(|(i, events)| ReadingAhead {
                events: *events,
                value: at(i),
            })
            .collect(),
    }
}

/// Probability that the reading itself (not what an instrument would show) is past a limit, from
/// its three quantiles: a normal distribution whose spread on each side of the median is that of the
/// quantile on that side, in the logarithm where everything is positive, since wear and what is
/// left of a load are.
pub(crate) fn probability_past(now: Quantiles, limit: f64, side: LimitSide) -> f64 {
    let positive = now.p05 > 0.0 && limit > 0.0;
    let scale = |value: f64| if positive { libm::log(value) } else { value };
    let (low, median, high) = (scale(now.p05), scale(now.p50), scale(now.p95));
    let limit = scale(limit);
    let sd = if limit < median {
        median - low
    } else {
        high - median
    } / Z95;
    let above = if sd > 0.0 {
        0.5 * libm::erfc((limit - median) / sd / std::f64::consts::SQRT_2)
    } else if limit < median {
        1.0
    } else {
        // A reading that is exactly at its limit is not past it.
        0.0
    };
    match side {
        LimitSide::Above => above,
        LimitSide::Below if sd > 0.0 => 1.0 - above,
        LimitSide::Below => f64::from(u8::from(limit > median)),
        LimitSide::Unlimited => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPREAD: Quantiles = Quantiles {
        p05: 80.0,
        p50: 100.0,
        p95: 130.0,
    };

    /// At the quantiles themselves the probabilities are known.
    #[test]
    fn the_quantiles_are_met() {
        for (limit, above) in [(80.0, 0.95), (100.0, 0.5), (130.0, 0.05)] {
            let p = probability_past(SPREAD, limit, LimitSide::Above);
            assert!((p - above).abs() < 1e-12, "{limit}: {p}");
            let p = probability_past(SPREAD, limit, LimitSide::Below);
            assert!((p - (1.0 - above)).abs() < 1e-12, "{limit}: {p}");
        }
    }

    #[test]
    fn negative_readings_are_met_too() {
        let now = Quantiles {
            p05: -2.0,
            p50: 0.0,
            p95: 1.0,
        };
        let p = probability_past(now, 1.0, LimitSide::Above);
        assert!((p - 0.05).abs() < 1e-12);
    }

    #[test]
    fn without_spread_it_is_yes_or_no() {
        let now = Quantiles {
            p05: 5.0,
            p50: 5.0,
            p95: 5.0,
        };
        for (limit, side, past) in [
            (4.0, LimitSide::Above, 1.0),
            (5.0, LimitSide::Above, 0.0),
            (6.0, LimitSide::Above, 0.0),
            (4.0, LimitSide::Below, 0.0),
            (5.0, LimitSide::Below, 0.0),
            (6.0, LimitSide::Below, 1.0),
        ] {
            let p = probability_past(now, limit, side);
            assert!((p - past).abs() < 1e-15, "{limit} {side:?}: {p}");
        }
    }
}

//! When a reading counts as past its limit: one rule for advice, plans, questions and what was measured.

use crate::{Quantiles, ReadingPrediction, predict::probability_past};

/// Above this probability.
pub(crate) const PAST: f64 = 0.5;

/// The probability that a reading of this value, now or ahead, is past its limit, where it counts as past: when that is more
/// likely than not.
pub(crate) fn past_limit(reading: &ReadingPrediction, value: Quantiles) -> Option<f64> {
    let probability = probability_past(value, reading.limit?, reading.limit_side);
    Some(probability).filter(|probability| *probability > PAST)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_host::contract::LimitSide;

    fn reading(limit: Option<f64>, limit_side: LimitSide) -> ReadingPrediction {
        ReadingPrediction {
            reading: "gap".into(),
            label: "gap".into(),
            unit: "m".into(),
            now: spread(1.0),
            limit,
            limit_side,
            limit_source: "the maker".into(),
            probability_past_limit: None,
            instrument: "feeler gauge".into(),
            instrument_sd: 0.0,
            ahead: Vec::new(),
        }
    }

    /// 10 % to either side.
    fn spread(p50: f64) -> Quantiles {
        Quantiles {
            p05: p50 / 1.1,
            p50,
            p95: p50 * 1.1,
        }
    }

    #[test]
    fn a_reading_is_past_its_limit_when_its_median_is() {
        let above = reading(Some(1.0), LimitSide::Above);
        assert!(past_limit(&above, spread(1.001)).is_some_and(|p| p > 0.5 && p < 0.52));
        assert_eq!(past_limit(&above, spread(1.0)), None, "at it is not past");
        assert_eq!(past_limit(&above, spread(0.999)), None);
        let below = reading(Some(1.0), LimitSide::Below);
        assert!(past_limit(&below, spread(0.999)).is_some_and(|p| p > 0.5 && p < 0.52));
        assert_eq!(past_limit(&below, spread(1.001)), None);
    }

    #[test]
    fn without_a_limit_nothing_is_past() {
        assert_eq!(
            past_limit(&reading(None, LimitSide::Above), spread(1e9)),
            None
        );
        let unlimited = reading(Some(1.0), LimitSide::Unlimited);
        assert_eq!(past_limit(&unlimited, spread(1e9)), None);
    }
}

//! How many digits a spread supports.
//!
//! The rounding rule of the Particle Data Group (Review of Particle Physics, introduction, "Rounding"; from memory): of a
//! standard deviation's first three digits, 100 to 354 keep two, 355 to 949 one, 950 to 999 become 1000 and keep two; the
//! value is rounded to the same place.

use crate::numbers;
use ringland_proto::v1::Quantiles;

/// Standard deviations between the 5 % and the 95 % quantile of a normal law (2 x 1.645).
const SD_IN_BAND: f64 = 3.29;

/// A median with its band, `middle (low to high)`, to the place that the band supports; `error` (an instrument's standard
/// deviation, 0: none) may allow less. What is only known to be at least so much (`at_least`) is "> 200".
pub(super) fn spread(band: &Quantiles, error: f64, at_least: [bool; 3]) -> String {
    let Quantiles { p05, p50, p95 } = *band;
    let width = p95 - p05;
    if width <= 0.0 || !width.is_finite() {
        return numbers::spread(band, at_least).median_first();
    }
    let sd = (width / SD_IN_BAND).max(error);
    let text = |value: f64, at_least: bool| {
        if at_least {
            format!("> {}", numbers::significant(value, 3))
        } else {
            to_place(value, sd)
        }
    };
    let [low, middle, high] = at_least;
    format!(
        "{} ({} to {})",
        text(p50, middle),
        text(p05, low),
        text(p95, high)
    )
}

/// A rate's multiplier whose logarithm has the standard deviation `ln_sd`.
pub(super) fn factor(median: f64, ln_sd: f64) -> String {
    to_place(median, median * ln_sd)
}

/// A value to the place that its standard deviation supports.
pub(super) fn to_place(value: f64, sd: f64) -> String {
    if sd <= 0.0 || !sd.is_finite() {
        return numbers::significant(value, 3);
    }
    let exponent = sd.log10().floor();
    let lead = sd / 10f64.powf(exponent);
    let place = if lead < 3.545 {
        exponent - 1.0
    } else {
        exponent
    };
    // Steps of at most a fifth of this are of the place, whatever the last bit of a power of ten.
    numbers::to_resolution(value, 7.5 * 10f64.powf(place))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The examples of the rule: 0.827 +- 0.119 becomes 0.83 +- 0.12, 0.827 +- 0.367 becomes 0.8 +- 0.4 (from memory); the
    /// last by the rule's words.
    #[test]
    fn the_rounding_rule_by_its_examples() {
        assert_eq!(to_place(0.827, 0.119), "0.83");
        assert_eq!(to_place(0.827, 0.367), "0.8");
        assert_eq!(to_place(14.34, 9.8), "14");
        assert_eq!(to_place(1234.0, 100.0), "1,230");
    }

    #[test]
    fn a_band_has_no_false_digits_and_is_never_hidden() {
        let text = |p05, p50, p95| spread(&Quantiles { p05, p50, p95 }, 0.0, [false; 3]);
        assert_eq!(text(21.2, 59.3, 157.4), "60 (20 to 160)");
        assert_eq!(text(0.2, 3.8, 13.6), "4 (0.2 to 14)");
        assert_eq!(text(4.69e-1, 4.92e-1, 5.42e-1), "0.492 (0.469 to 0.542)");
        assert_eq!(text(3.0, 3.0, 3.0), "3.00");
        let fine = Quantiles {
            p05: 3.346_458_5,
            p50: 3.346_461,
            p95: 3.346_467,
        };
        assert_eq!(
            spread(&fine, 0.1, [false; 3]),
            "3.35 (3.35 to 3.35)",
            "no finer than the instrument"
        );
        let far = Quantiles {
            p05: 41.0,
            p50: 120.0,
            p95: 200.0,
        };
        assert_eq!(spread(&far, 0.0, [false, false, true]), "120 (40 to > 200)");
    }

    #[test]
    fn a_rate_has_the_digits_of_its_spread() {
        assert_eq!(factor(1.234, 0.3), "1.2");
        assert_eq!(factor(1.234, 0.02), "1.234");
    }

    proptest! {
        /// Half a step is at most half of the last place kept: 0.5 in 3.55, or 0.05 in 1.00.
        #[test]
        fn rounding_stays_within_a_seventh_of_a_deviation(value in 1.0..1e6_f64, sd in 1e-3..1e5_f64) {
            let shown: f64 = to_place(value, sd).replace(',', "").parse().unwrap();
            let nothing_kept = value < sd;
            prop_assert!(nothing_kept || (shown - value).abs() <= 0.1411 * sd, "{} {}", shown, value);
        }
    }
}

//! Numbers as people read them: as many digits as the spread supports, never more.

use ringland_proto::v1::{Quantiles, RemainingLife};
use std::fmt::Display;

/// Quantiles as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spread {
    /// 5 %.
    pub p05: String,
    /// 50 %.
    pub p50: String,
    /// 95 %.
    pub p95: String,
}

impl Spread {
    /// The median and what it lies between.
    pub fn median_first(&self) -> String {
        if self.p05 == self.p95 {
            return self.p50.clone();
        }
        format!("{} ({} to {})", self.p50, self.p05, self.p95)
    }
}

/// Quantiles as text, in steps that are small beside the narrower side of the spread. One that is
/// only known to be at least so much (`at_least`) is "> 200".
pub fn spread(quantiles: &Quantiles, at_least: [bool; 3]) -> Spread {
    let Quantiles { p05, p50, p95 } = *quantiles;
    let sides = [p50 - p05, p95 - p50]
        .into_iter()
        .filter(|side| *side > 0.0);
    let scale = sides.fold(f64::INFINITY, f64::min);
    let text = |value: f64, at_least: bool| {
        if at_least {
            format!("> {}", significant(value, 3))
        } else {
            to_resolution(value, scale)
        }
    };
    let [low, middle, high] = at_least;
    Spread {
        p05: text(p05, low),
        p50: text(p50, middle),
        p95: text(p95, high),
    }
}

/// Which quantiles of a life are at the horizon: nothing is known beyond it.
pub fn at_horizon(life: &RemainingLife) -> [bool; 3] {
    let events = life.events.unwrap_or_default();
    let horizon = life.horizon_events;
    [events.p05, events.p50, events.p95].map(|events| horizon > 0.0 && events >= horizon)
}

/// A value in steps of 1, 10, 0.1 ... that are at most a fifth of a spread: 12.34 with a spread of 3
/// is 12.3, 1234 with one of 300 is 1,230. Without a spread it gets three digits.
pub fn to_resolution(value: f64, spread: f64) -> String {
    if !value.is_finite() {
        return value.to_string();
    }
    if spread <= 0.0 || !spread.is_finite() {
        return significant(value, 3);
    }
    let rounded = with_decimals(value, -(spread / 5.0).log10().floor() as i32);
    // What is not nothing is not shown as nothing: 0.4 h beside 10 h stays 0.4 h.
    let is_nothing = rounded.bytes().all(|byte| !(b'1'..=b'9').contains(&byte));
    if is_nothing {
        significant(value, 1)
    } else {
        rounded
    }
}

/// A value to so many significant digits.
pub fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".into();
    }
    if !value.is_finite() {
        return value.to_string();
    }
    with_decimals(value, digits - 1 - value.abs().log10().floor() as i32)
}

/// Negative decimals round to tens, hundreds ...; very small values are written with an exponent.
fn with_decimals(value: f64, decimals: i32) -> String {
    if decimals > 6 && value.abs() < 1e-3 {
        return format!("{value:.2e}");
    }
    if decimals >= 0 {
        return grouped(&format!("{value:.*}", decimals as usize));
    }
    let step = 10f64.powi(-decimals);
    grouped(&format!("{:.0}", (value / step).round() * step))
}

/// Commas between thousands; a zero has no sign.
fn grouped(text: &str) -> String {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) if digits.bytes().any(|b| b.is_ascii_digit() && b != b'0') => ("-", digits),
        Some(digits) => ("", digits),
        None => ("", text),
    };
    let (whole, fraction) = digits
        .find('.')
        .map_or((digits, ""), |dot| digits.split_at(dot));
    let mut spaced = String::from(sign);
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            spaced.push(',');
        }
        spaced.push(digit);
    }
    spaced + fraction
}

/// A probability in percent; what is next to nothing or next to certain is not given digits.
pub fn percent(probability: f64) -> String {
    match probability {
        p if !p.is_finite() => p.to_string(),
        p if p < 0.001 => "< 0.1 %".into(),
        p if p > 0.999 => "> 99.9 %".into(),
        p if p < 0.0995 => format!("{:.1} %", 100.0 * p),
        p => format!("{:.0} %", 100.0 * p),
    }
}

/// A count with commas.
pub fn count(value: impl Display) -> String {
    grouped(&value.to_string())
}

/// A duration in the largest unit that keeps it readable.
pub fn duration(seconds: f64) -> String {
    if seconds < 120.0 {
        format!("{} s", significant(seconds, 3))
    } else if seconds < 7200.0 {
        format!("{:.1} min", seconds / 60.0)
    } else {
        format!("{:.2} h", seconds / 3600.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn quantiles(p05: f64, p50: f64, p95: f64) -> Quantiles {
        Quantiles { p05, p50, p95 }
    }

    #[test]
    fn digits_fit_the_spread() {
        let text = |p05, p50, p95| spread(&quantiles(p05, p50, p95), [false; 3]).median_first();
        assert_eq!(text(5.12, 9.34, 17.21), "9.3 (5.1 to 17.2)");
        assert_eq!(text(9.12, 9.34, 9.56), "9.34 (9.12 to 9.56)");
        assert_eq!(text(8.0, 9.34, 11.0), "9.3 (8.0 to 11.0)");
        assert_eq!(text(812.0, 1234.0, 1999.0), "1,230 (810 to 2,000)");
        assert_eq!(text(3.0, 3.0, 3.0), "3.00");
        assert_eq!(text(0.0, 0.0, 0.0), "0");
    }

    #[test]
    fn beyond_the_horizon_is_at_least_the_horizon() {
        let life = |p05, p50, p95| RemainingLife {
            events: Some(quantiles(p05, p50, p95)),
            horizon_events: 200.0,
            ..Default::default()
        };
        assert_eq!(at_horizon(&life(41.0, 120.0, 200.0)), [false, false, true]);
        assert_eq!(
            at_horizon(&RemainingLife::default()),
            [false; 3],
            "no horizon, nothing at it"
        );
        let shown = spread(&quantiles(41.0, 120.0, 200.0), [false, false, true]);
        assert_eq!(shown.median_first(), "120 (40 to > 200)");
        let shown = spread(&quantiles(200.0, 200.0, 200.0), [true; 3]);
        assert_eq!(shown.median_first(), "> 200");
    }

    #[test]
    fn probabilities_do_not_pretend() {
        let shown = [0.0, 0.0004, 0.004, 0.0996, 0.71, 0.9995, 1.0].map(percent);
        assert_eq!(
            shown,
            [
                "< 0.1 %", "< 0.1 %", "0.4 %", "10 %", "71 %", "> 99.9 %", "> 99.9 %"
            ]
        );
    }

    #[test]
    fn thousands_and_signs() {
        assert_eq!(count(1_234_567), "1,234,567");
        assert_eq!(count(-123), "-123");
        assert_eq!(significant(-0.000_123, 2), "-0.00012");
        assert_eq!(to_resolution(-0.0, 5.0), "0");
        assert_eq!(to_resolution(0.41, 50.0), "0.4");
        assert_eq!(significant(2.5e-9, 3), "2.50e-9");
    }

    #[test]
    fn durations() {
        assert_eq!(duration(12.0), "12.0 s");
        assert_eq!(duration(3600.0), "60.0 min");
        assert_eq!(duration(10_200.0), "2.83 h");
    }

    proptest! {
        /// What is shown lies within a tenth of the spread from what is.
        #[test]
        fn rounding_is_small_beside_the_spread(value in -1e6..1e6_f64, spread in 1e-3..1e6_f64) {
            let shown: f64 = to_resolution(value, spread).replace(',', "").parse().unwrap();
            prop_assert!((shown - value).abs() <= 0.1001 * spread, "{} {}", shown, value);
        }
    }
}

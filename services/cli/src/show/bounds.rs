//! Numbers that lives beyond the horizon may leave open.

use crate::numbers;
use ringland_proto::v1::{BoundedQuantiles, Bounds, Quantiles, RemainingLife};

/// `1.9`, `> 1.9`, `< 1.9`, `1.8 to 1.9`, `open`
pub(super) fn bounds(bounds: Option<&Bounds>, text: &dyn Fn(f64) -> String) -> String {
    let Bounds { at_least, at_most } = bounds.copied().unwrap_or_default();
    match (at_least, at_most) {
        (Some(low), Some(high)) if text(low) == text(high) => text(low),
        (Some(low), Some(high)) => format!("{} to {}", text(low), text(high)),
        (Some(low), None) => format!("> {}", text(low)),
        (None, Some(high)) => format!("< {}", text(high)),
        (None, None) => "open".into(),
    }
}

/// `1.9 (1.3 to 2.7)`
pub(super) fn quantiles(
    quantiles: Option<&BoundedQuantiles>,
    text: &dyn Fn(f64) -> String,
) -> String {
    let Some(quantiles) = quantiles else {
        return "-".into();
    };
    let [low, middle, high] =
        [&quantiles.p05, &quantiles.p50, &quantiles.p95].map(|each| bounds(each.as_ref(), text));
    if low == middle && middle == high {
        return middle;
    }
    format!("{middle} ({low} to {high})")
}

/// Two digits, or three from 100 on.
pub(super) fn number(value: f64) -> String {
    numbers::significant(value, if value.abs() >= 100.0 { 3 } else { 2 })
}

/// The same with its sign.
pub(super) fn signed(value: f64) -> String {
    let sign = if value > 0.0 { "+" } else { "" };
    format!("{sign}{}", number(value))
}

/// A life in events and in hours.
pub(super) fn life(life: Option<&RemainingLife>) -> [String; 2] {
    let Some(life) = life else {
        return ["-".into(), "-".into()];
    };
    let beyond = numbers::at_horizon(life);
    let text = |quantiles: Option<&Quantiles>| {
        let quantiles = quantiles.copied().unwrap_or_default();
        numbers::spread(&quantiles, beyond).median_first()
    };
    [text(life.events.as_ref()), text(life.hours.as_ref())]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_open_is_shown_so() {
        let known = |value: f64| Bounds {
            at_least: Some(value),
            at_most: Some(value),
        };
        let open = Bounds {
            at_least: Some(2.7),
            at_most: None,
        };
        let ratio = BoundedQuantiles {
            p05: Some(known(1.3)),
            p50: Some(known(1.9)),
            p95: Some(open),
        };
        assert_eq!(quantiles(Some(&ratio), &number), "1.9 (1.3 to > 2.7)");
        assert_eq!(bounds(None, &number), "open");
        assert_eq!(bounds(Some(&known(-0.8)), &signed), "-0.80");
        assert_eq!(signed(0.8), "+0.80");
    }
}

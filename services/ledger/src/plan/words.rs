//! Numbers in sentences.

/// `7.7 %`; what rounds to nothing or all is said as a bound.
pub(super) fn percent(probability: f64) -> String {
    match 100.0 * probability {
        p if p < 0.01 => "less than 0.01 %".into(),
        p if p < 1.0 => format!("{p:.2} %"),
        p if p < 10.0 => format!("{p:.1} %"),
        p if p > 99.0 => "more than 99 %".into(),
        p => format!("{p:.0} %"),
    }
}

/// An amount in the shop's currency, whole from 100 on.
pub(super) fn amount(value: f64) -> String {
    if value.abs() >= 100.0 {
        format!("{value:.0}")
    } else {
        format!("{value:.2}")
    }
}

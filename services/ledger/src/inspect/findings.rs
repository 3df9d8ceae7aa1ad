//! Findings of an inspection.

use ringland_host::contract::{Finding, Severity};
use std::fmt::Display;

pub(super) fn error(
    field: impl Display,
    value: impl Display,
    expected: &str,
    remedy: &str,
) -> Finding {
    finding(Severity::Error, field, value, expected, remedy)
}

pub(crate) fn warning(
    field: impl Display,
    value: impl Display,
    expected: &str,
    remedy: &str,
) -> Finding {
    finding(Severity::Warning, field, value, expected, remedy)
}

fn finding(
    severity: Severity,
    field: impl Display,
    value: impl Display,
    expected: &str,
    remedy: &str,
) -> Finding {
    Finding {
        severity,
        field: field.to_string(),
        value: value.to_string().chars().take(200).collect(),
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

/// Three figures.
pub(crate) fn figure(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 {
        "0".into()
    } else if (1e-2..1e5).contains(&size) {
        let digits = (2 - libm::floor(libm::log10(size)) as i32).clamp(0, 5) as usize;
        format!("{value:.digits$}")
    } else {
        format!("{value:.2e}")
    }
}

//! Findings, the plugin's way of refusing an input.

use crate::contract::{Finding, Severity};
use std::fmt::Display;

/// A finding that refuses the input: the field, the value it had (a number or a `&str`), what was
/// expected, what to do.
pub fn error(field: &str, value: impl Display + Copy, expected: &str, remedy: &str) -> Finding {
    finding(Severity::Error, field, value.to_string(), expected, remedy)
}

/// A finding that the reader is told of, while the input is used; arguments as for [`error`].
pub fn warning(field: &str, value: impl Display + Copy, expected: &str, remedy: &str) -> Finding {
    finding(
        Severity::Warning,
        field,
        value.to_string(),
        expected,
        remedy,
    )
}

fn finding(
    severity: Severity,
    field: &str,
    value: String,
    expected: &str,
    remedy: &str,
) -> Finding {
    Finding {
        severity,
        field: field.into(),
        value,
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

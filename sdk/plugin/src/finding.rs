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

/// The spec, if none of the findings of a check refuses it.
///
/// # Errors
/// The findings that refuse it, or those of reading it.
pub fn unless_refused<T>(
    mut findings: Vec<Finding>,
    read: impl FnOnce() -> Result<T, Vec<Finding>>,
) -> Result<T, Vec<Finding>> {
    findings.retain(|finding| finding.severity == Severity::Error);
    if findings.is_empty() {
        read()
    } else {
        Err(findings)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_warning_does_not_refuse_and_an_error_does() {
        let told = warning("lash_m", 1.0, "less", "look");
        assert_eq!(unless_refused(vec![told.clone()], || Ok(3)), Ok(3));
        let refused = error("coil_m", 1.0, "more", "look");
        let answer = unless_refused(vec![told, refused.clone()], || Ok(3));
        assert_eq!(answer, Err(vec![refused]));
    }
}

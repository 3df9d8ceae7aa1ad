//! Findings, and the refusal that carries them.

use ringland_host::contract::{Finding, Severity};

/// Why a log or its channel map was refused: every reason found, each naming its field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// At least one.
    pub findings: Vec<Finding>,
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (index, finding) in self.findings.iter().enumerate() {
            let separator = if index == 0 { "" } else { "\n" };
            let Finding {
                field,
                value,
                expected,
                remedy,
                ..
            } = finding;
            write!(
                f,
                "{separator}{field} is {value}; expected {expected}; {remedy}"
            )?;
        }
        Ok(())
    }
}

impl std::error::Error for Refusal {}

impl From<Finding> for Refusal {
    fn from(finding: Finding) -> Self {
        Self {
            findings: vec![finding],
        }
    }
}

/// Passes when there is nothing to refuse.
pub(crate) fn settle(findings: Vec<Finding>) -> Result<(), Refusal> {
    if findings.is_empty() {
        Ok(())
    } else {
        Err(Refusal { findings })
    }
}

pub(crate) fn error(
    field: impl Into<String>,
    value: impl std::fmt::Display,
    expected: impl Into<String>,
    remedy: impl Into<String>,
) -> Finding {
    Finding {
        severity: Severity::Error,
        field: field.into(),
        value: value.to_string(),
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

pub(crate) fn warning(
    field: impl Into<String>,
    value: impl std::fmt::Display,
    expected: impl Into<String>,
    remedy: impl Into<String>,
) -> Finding {
    Finding {
        severity: Severity::Warning,
        ..error(field, value, expected, remedy)
    }
}

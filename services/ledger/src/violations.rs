//! Gathers what is wrong with a call, so that all of it comes back at once.

use crate::{FieldViolation, LedgerError, Reason};
use std::fmt;

/// Collects every violation of a call before it is refused.
#[derive(Debug, Default)]
pub(crate) struct Violations(Vec<FieldViolation>);

impl Violations {
    pub(crate) fn push(&mut self, violation: FieldViolation) {
        // A table with a million bad rows must not become a message of a million lines.
        if self.0.len() < 100 {
            self.0.push(violation);
        }
    }

    pub(crate) fn add(
        &mut self,
        field: impl AsRef<str>,
        value: impl fmt::Display,
        expected: &str,
        remedy: &str,
    ) {
        self.push(FieldViolation::new(
            field.as_ref(),
            &value.to_string(),
            expected,
            remedy,
        ));
    }

    pub(crate) fn into_result(self) -> Result<(), LedgerError> {
        if self.0.is_empty() {
            return Ok(());
        }
        Err(LedgerError::InvalidArgument {
            reason: Reason::FieldInvalid,
            violations: self.0,
        })
    }
}

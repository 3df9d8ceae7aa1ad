//! Field masks and etags of updates.

use crate::{FieldViolation, LedgerError, Reason, violations::Violations};

/// A checked mask: which of the fields that may change are to change.
pub(crate) struct Mask<'a>(Vec<&'a str>);

impl<'a> Mask<'a> {
    /// Checks a mask against the fields that may change.
    pub(crate) fn new(mask: &'a [String], fields: &[&'static str]) -> Result<Self, LedgerError> {
        let expected = format!("some of {}, or *", fields.join(", "));
        let mut violations = Violations::default();
        if mask.is_empty() {
            violations.add(
                "update_mask",
                "empty",
                &expected,
                "name the fields to change",
            );
        }
        for field in mask {
            if field != "*" && !fields.contains(&field.as_str()) {
                let value = format!("{field:?}");
                violations.add(
                    "update_mask",
                    value,
                    &expected,
                    "leave out what cannot change",
                );
            }
        }
        violations.into_result()?;
        Ok(Self(mask.iter().map(String::as_str).collect()))
    }

    pub(crate) fn has(&self, field: &str) -> bool {
        self.0.iter().any(|f| *f == field || *f == "*")
    }
}

/// Refuses an etag that is not the current one; an empty one is not checked.
pub(crate) fn check_etag(given: &str, current: &str) -> Result<(), LedgerError> {
    if given.is_empty() || given == current {
        return Ok(());
    }
    Err(LedgerError::Aborted {
        reason: Reason::EtagMismatch,
        message: format!(
            "etag is {given:?}, expected {current:?}: it was changed since it was read; read it again and repeat the change"
        ),
    })
}

/// Checks the last part of a new name.
pub(crate) fn check_id(field: &str, id: &str) -> Result<(), LedgerError> {
    if crate::is_id(id) {
        return Ok(());
    }
    Err(LedgerError::invalid(FieldViolation::new(
        field,
        &format!("{id:?}"),
        crate::ID_FORM,
        "choose another id",
    )))
}

/// Checks free labels and texts of a resource.
pub(crate) fn check_labels(
    violations: &mut Violations,
    labels: &std::collections::BTreeMap<String, String>,
) {
    if labels.len() > 64 {
        violations.add("labels", labels.len(), "at most 64", "leave some out");
    }
    for (key, value) in labels.iter().take(64) {
        if key.is_empty() || key.len() > 63 {
            let key = format!("{key:?}");
            violations.add("labels", key, "keys of 1 to 63 bytes", "shorten the key");
        }
        if value.len() > 255 {
            let field = format!("labels.{key}");
            violations.add(field, value, "at most 255 bytes", "shorten the value");
        }
    }
}

/// Checks the length of a text.
pub(crate) fn check_text(violations: &mut Violations, field: &str, text: &str, most: usize) {
    if text.len() > most {
        violations.add(field, text, &format!("at most {most} bytes"), "shorten it");
    }
}

//! The ledger's errors as statuses.

use super::{DOMAIN, internal, reason, violation};
use ringland_ledger::{ErrorKind, FieldViolation, LedgerError};
use std::time::Duration;
use tonic::{Code, Status};
use tonic_types::{ErrorDetails, StatusExt};

/// Another writer was faster: worth sending again at once.
const RETRY_CONFLICT: Duration = Duration::from_millis(20);
/// The store or the plugin host is out of order: not before somebody could look.
const RETRY_OUTAGE: Duration = Duration::from_secs(5);
/// Longest text sent; a plugin may have a lot to say.
const LONGEST_TEXT: usize = 2000;

/// A ledger's error as a status with `google.rpc` details.
pub fn from_ledger(error: &LedgerError) -> Status {
    let mut details = reason(error.reason().code());
    describe(error, &mut details);
    let (code, text) = match error.kind() {
        ErrorKind::Internal => return internal(&error.to_string()),
        ErrorKind::Unavailable => {
            // The engine's own words may hold paths.
            tracing::error!(cause = %error, "store or plugin host failed");
            let text = "the store or the plugin host cannot work now; nothing was acknowledged: \
                        send the call again with the same request id";
            return Status::with_error_details(Code::Unavailable, text, details);
        }
        ErrorKind::InvalidArgument => (Code::InvalidArgument, error.to_string()),
        ErrorKind::NotFound => (Code::NotFound, error.to_string()),
        ErrorKind::AlreadyExists => (Code::AlreadyExists, error.to_string()),
        ErrorKind::FailedPrecondition => (Code::FailedPrecondition, error.to_string()),
        ErrorKind::Aborted => (Code::Aborted, error.to_string()),
        ErrorKind::ResourceExhausted => (Code::ResourceExhausted, error.to_string()),
    };
    let text: String = text.chars().take(LONGEST_TEXT).collect();
    Status::with_error_details(code, text, details)
}

/// Adds what the error speaks of.
fn describe(error: &LedgerError, details: &mut ErrorDetails) {
    if !error.violations().is_empty() {
        details.set_bad_request(
            error
                .violations()
                .iter()
                .map(field_violation)
                .collect::<Vec<_>>(),
        );
    }
    if let Some(resource) = error.resource() {
        let text = error.to_string();
        details.set_resource_info(resource.kind, &resource.name, DOMAIN, text);
    }
    match error {
        LedgerError::FailedPrecondition {
            reason,
            subject,
            message,
            ..
        } => {
            details.add_precondition_failure_violation(reason.code(), subject, message);
        }
        LedgerError::ResourceExhausted { what, limit, .. } => {
            details.add_quota_failure_violation(what, format!("at most {limit}"));
        }
        LedgerError::Aborted { .. } => {
            details.set_retry_info(Some(RETRY_CONFLICT));
        }
        LedgerError::Unavailable { .. } => {
            details.set_retry_info(Some(RETRY_OUTAGE));
        }
        _ => {}
    }
}

fn field_violation(found: &FieldViolation) -> tonic_types::FieldViolation {
    let FieldViolation {
        field,
        value,
        expected,
        remedy,
    } = found;
    violation(
        field.clone(),
        format!("{value} was given; expected {expected}; {remedy}"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_ledger::{Reason, Resource};

    #[test]
    fn a_refused_spec_names_every_field() {
        let violations = vec![
            FieldViolation::new(
                "spec.numbers.bore_m",
                "0.9",
                "0.05 to 0.2",
                "give it in metres",
            ),
            FieldViolation::new("spec.choices.face", "x", "chrome, moly", "choose one"),
        ];
        let status = from_ledger(&LedgerError::InvalidArgument {
            reason: Reason::SpecRefused,
            violations,
        });
        assert_eq!(status.code(), Code::InvalidArgument);
        let details = status.get_error_details();
        let info = details.error_info().unwrap();
        assert_eq!(
            (info.reason.as_str(), info.domain.as_str()),
            ("SPEC_REFUSED", "ringland")
        );
        let fields = &details.bad_request().unwrap().field_violations;
        assert_eq!(fields.len(), 2);
        assert_eq!(fields[0].field, "spec.numbers.bore_m");
        assert_eq!(
            fields[0].description,
            "0.9 was given; expected 0.05 to 0.2; give it in metres"
        );
    }

    #[test]
    fn a_missing_resource_is_named() {
        let resource = Resource {
            kind: "unit",
            name: "units/ghost".into(),
        };
        let status = from_ledger(&LedgerError::NotFound { resource });
        assert_eq!(status.code(), Code::NotFound);
        let details = status.get_error_details();
        let info = details.resource_info().unwrap();
        assert_eq!(
            (info.resource_type.as_str(), info.resource_name.as_str()),
            ("unit", "units/ghost")
        );
    }

    #[test]
    fn a_precondition_names_subject_and_reason() {
        let status = from_ledger(&LedgerError::FailedPrecondition {
            reason: Reason::ProfileMissing,
            subject: "units/engine-a".into(),
            message: "no profile".into(),
            violations: Vec::new(),
        });
        assert_eq!(status.code(), Code::FailedPrecondition);
        let details = status.get_error_details();
        let failure = &details.precondition_failure().unwrap().violations[0];
        assert_eq!(failure.r#type, "PROFILE_MISSING");
        assert_eq!(failure.subject, "units/engine-a");
    }

    #[test]
    fn what_is_inside_stays_inside() {
        let secret = "/var/lib/ringland: disk full";
        let errors = [
            LedgerError::Unavailable {
                reason: Reason::StoreFailed,
                message: secret.into(),
            },
            LedgerError::Internal {
                message: secret.into(),
            },
        ];
        for error in errors {
            let status = from_ledger(&error);
            assert!(!status.message().contains("/var"), "{status}");
            assert!(!String::from_utf8_lossy(status.details()).contains("/var"));
        }
    }

    #[test]
    fn what_is_worth_sending_again_says_when() {
        let errors = [
            LedgerError::Aborted {
                reason: Reason::ConcurrentChange,
                message: String::new(),
            },
            LedgerError::Unavailable {
                reason: Reason::StoreFailed,
                message: String::new(),
            },
        ];
        for error in errors {
            let details = from_ledger(&error).get_error_details();
            assert!(
                details.retry_info().unwrap().retry_delay.is_some(),
                "{error:?}"
            );
        }
    }
}

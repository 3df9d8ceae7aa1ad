//! Errors as callers see them: a standard code, a message that says what to do, and `google.rpc`
//! details with a stable reason. What is inside (paths, engines, stack) goes to the log only.

mod domain;

pub use domain::from_ledger;

use std::{fmt::Write, time::Duration};
use tonic::{Code, Status};
use tonic_types::{ErrorDetails, FieldViolation, StatusExt};

/// Domain of every `ErrorInfo`.
pub const DOMAIN: &str = "ringland";

/// How soon an overloaded call is worth sending again.
const RETRY_AFTER: Duration = Duration::from_millis(500);

/// Details that carry a reason; more is added by the caller.
pub(crate) fn reason(reason: &str) -> ErrorDetails {
    let mut details = ErrorDetails::new();
    details.set_error_info(reason, DOMAIN, []);
    details
}

/// One field that cannot be used.
pub(crate) fn violation(field: impl Into<String>, text: impl Into<String>) -> FieldViolation {
    FieldViolation::new(field, text)
}

/// `INVALID_ARGUMENT` with every offending field.
pub(crate) fn invalid(violations: Vec<FieldViolation>) -> Status {
    invalid_because("FIELD_INVALID", violations)
}

/// `INVALID_ARGUMENT` with every offending field and a reason of its own.
pub(crate) fn invalid_because(why: &str, violations: Vec<FieldViolation>) -> Status {
    let lines: Vec<String> = violations
        .iter()
        .take(3)
        .map(|v| format!("{}: {}", v.field, v.description))
        .collect();
    let more = violations.len().saturating_sub(lines.len());
    let mut text = lines.join("; ");
    if more > 0 {
        // Writing to a string does not fail.
        let _ = write!(text, "; and {more} more");
    }
    let mut details = reason(why);
    details.set_bad_request(violations);
    Status::with_error_details(Code::InvalidArgument, text, details)
}

/// `RESOURCE_EXHAUSTED`: a queue or a number of things at once is at its limit.
pub(crate) fn overloaded(what: &str) -> Status {
    let mut details = reason("OVERLOADED");
    details.set_retry_info(Some(RETRY_AFTER));
    details.add_quota_failure_violation(what, "at its limit");
    let text = format!("{what}: at its limit; send the call again a little later");
    Status::with_error_details(Code::ResourceExhausted, text, details)
}

/// `RESOURCE_EXHAUSTED`: what was sent is larger than the server takes. Sending it again is useless.
pub(crate) fn too_large(field: &str, limit: u64, unit: &str) -> Status {
    let mut details = reason("TOO_LARGE");
    details.set_bad_request(vec![violation(
        field,
        format!("expected at most {limit} {unit}"),
    )]);
    let text = format!("{field}: larger than the limit of {limit} {unit}");
    Status::with_error_details(Code::ResourceExhausted, text, details)
}

/// `UNAUTHENTICATED`: no token or the wrong one.
pub(crate) fn unauthenticated() -> Status {
    let text = "this server requires a bearer token: send `authorization: Bearer <token>`";
    Status::with_error_details(Code::Unauthenticated, text, reason("TOKEN_REQUIRED"))
}

/// `DEADLINE_EXCEEDED`: the caller's deadline or the server's own limit.
pub(crate) fn deadline_exceeded() -> Status {
    let text = "the call's deadline passed before it was done; \
                a call with a request id may be sent again safely";
    Status::with_error_details(Code::DeadlineExceeded, text, reason("DEADLINE_EXCEEDED"))
}

/// `UNAVAILABLE`: the server is being stopped.
pub(crate) fn draining() -> Status {
    let mut details = reason("DRAINING");
    details.set_retry_info(Some(Duration::from_secs(1)));
    Status::with_error_details(
        Code::Unavailable,
        "the server is stopping; connect again",
        details,
    )
}

/// `INTERNAL`: the cause is logged and not told.
pub(crate) fn internal(cause: &str) -> Status {
    tracing::error!(cause, "internal error");
    let text = "internal error; the server's log has its cause under this call's request id";
    Status::with_error_details(Code::Internal, text, reason("INTERNAL"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_violation_is_in_the_details_and_the_text_stays_short() {
        let violations = (0..10)
            .map(|i| violation(format!("f{i}"), "wrong"))
            .collect();
        let status = invalid(violations);
        assert_eq!(status.code(), Code::InvalidArgument);
        assert_eq!(
            status.message(),
            "f0: wrong; f1: wrong; f2: wrong; and 7 more"
        );
        let details = status.get_error_details();
        assert_eq!(details.bad_request().unwrap().field_violations.len(), 10);
        assert_eq!(details.error_info().unwrap().domain, "ringland");
    }

    #[test]
    fn overload_says_when_to_come_back() {
        let status = overloaded("bulk");
        assert_eq!(status.code(), Code::ResourceExhausted);
        let details = status.get_error_details();
        assert_eq!(details.retry_info().unwrap().retry_delay, Some(RETRY_AFTER));
    }

    #[test]
    fn the_cause_of_an_internal_error_is_not_told() {
        let status = internal("/secret/path: no space left");
        assert!(!status.message().contains("secret"));
        assert!(!String::from_utf8_lossy(status.details()).contains("secret"));
    }
}

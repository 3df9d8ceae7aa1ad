//! What can go wrong, what is printed about it and how the command exits.

use std::{io, path::PathBuf};
use tonic::{Code, Status};
use tonic_types::StatusExt;

/// Exit codes, as the help states them.
pub const EXIT_CODES: &str = "\
Exit codes: 0 done; 1 the server or the command failed; 2 the command line or a file given to it \
cannot be used; 3 the server refused the input, or it does not fit what the ledger has; 4 not found; \
5 the server cannot be reached or is overloaded: try again later; 6 the token is missing or wrong.";

/// What went wrong.
#[derive(Debug, thiserror::Error)]
pub enum CliError {
    /// The command line, or a file named on it, cannot be used.
    #[error("{0}")]
    Usage(String),
    /// A file cannot be read or written.
    #[error("{path}: {source}", path = path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// Nobody answers.
    #[error(
        "cannot reach {server}: {cause}; is ringland-server running there? (--server, RINGLAND_SERVER)"
    )]
    Unreachable {
        /// Where.
        server: String,
        /// Why.
        cause: String,
    },
    /// The server answered with an error.
    #[error("{}", describe(.0))]
    Refused(Box<Status>),
    /// Standard output cannot be written.
    #[error("standard output: {0}")]
    Output(io::Error),
    /// Something inside this command failed.
    #[error("{0}")]
    Failed(String),
}

impl From<Status> for CliError {
    fn from(status: Status) -> Self {
        Self::Refused(Box::new(status))
    }
}

impl CliError {
    /// The exit code, see [`EXIT_CODES`].
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Usage(_) | Self::File { .. } => 2,
            Self::Unreachable { .. } => 5,
            Self::Refused(status) => exit_code(status.code()),
            Self::Output(_) | Self::Failed(_) => 1,
        }
    }

    /// Whether somebody closed the other end of the pipe: they have seen enough.
    pub fn is_closed_pipe(&self) -> bool {
        matches!(self, Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }
}

fn exit_code(code: Code) -> u8 {
    match code {
        Code::InvalidArgument
        | Code::OutOfRange
        | Code::AlreadyExists
        | Code::FailedPrecondition => 3,
        Code::NotFound => 4,
        Code::Unavailable | Code::ResourceExhausted | Code::DeadlineExceeded | Code::Aborted => 5,
        Code::Unauthenticated | Code::PermissionDenied => 6,
        _ => 1,
    }
}

/// A status for people: what happened, every field that was wrong, when to try again.
pub fn describe(status: &Status) -> String {
    let details = status.get_error_details();
    let mut lines = Vec::new();
    let fields = details
        .bad_request()
        .map(|bad| bad.field_violations.as_slice());
    let fields = fields.unwrap_or_default();
    if fields.is_empty() {
        lines.push(status.message().to_owned());
    } else {
        let count = if fields.len() == 1 {
            "1 field".into()
        } else {
            format!("{} fields", fields.len())
        };
        lines.push(format!("the server refused {count}:"));
        lines.extend(
            fields
                .iter()
                .map(|bad| format!("  {}: {}", bad.field, bad.description)),
        );
    }
    if let Some(missing) = details.resource_info()
        && !status.message().contains(&missing.resource_name)
    {
        lines.push(format!(
            "  {}: {}",
            missing.resource_type, missing.resource_name
        ));
    }
    let conditions = details
        .precondition_failure()
        .map(|failed| failed.violations.as_slice());
    for failed in conditions.unwrap_or_default() {
        if !status.message().contains(&failed.subject) {
            lines.push(format!("  {}: {}", failed.subject, failed.description));
        }
    }
    let wait = details.retry_info().and_then(|retry| retry.retry_delay);
    if let Some(wait) = wait {
        lines.push(format!("  try again in {} s", wait.as_secs_f64()));
    }
    lines.push(format!("({})", code_and_reason(status)));
    lines.join("\n")
}

/// `NOT_FOUND`, or `FAILED_PRECONDITION, PROFILE_MISSING` when the server gives a reason.
pub fn code_and_reason(status: &Status) -> String {
    let details = status.get_error_details();
    match details.error_info() {
        Some(info) => format!("{}, {}", code_name(status.code()), info.reason),
        None => code_name(status.code()).to_owned(),
    }
}

/// The standard name of a code.
pub fn code_name(code: Code) -> &'static str {
    match code {
        Code::Ok => "OK",
        Code::Cancelled => "CANCELLED",
        Code::Unknown => "UNKNOWN",
        Code::InvalidArgument => "INVALID_ARGUMENT",
        Code::DeadlineExceeded => "DEADLINE_EXCEEDED",
        Code::NotFound => "NOT_FOUND",
        Code::AlreadyExists => "ALREADY_EXISTS",
        Code::PermissionDenied => "PERMISSION_DENIED",
        Code::ResourceExhausted => "RESOURCE_EXHAUSTED",
        Code::FailedPrecondition => "FAILED_PRECONDITION",
        Code::Aborted => "ABORTED",
        Code::OutOfRange => "OUT_OF_RANGE",
        Code::Unimplemented => "UNIMPLEMENTED",
        Code::Internal => "INTERNAL",
        Code::Unavailable => "UNAVAILABLE",
        Code::DataLoss => "DATA_LOSS",
        Code::Unauthenticated => "UNAUTHENTICATED",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tonic_types::{ErrorDetails, FieldViolation};

    #[test]
    fn every_field_is_named_with_its_remedy() {
        let mut details = ErrorDetails::new();
        details.set_error_info("SPEC_REFUSED", "ringland", []);
        details.set_bad_request(vec![
            FieldViolation::new("spec.numbers.bore_m", "0.9 was given; expected 0.05 to 0.2"),
            FieldViolation::new("spec.choices.face", "\"x\" was given; choose one"),
        ]);
        let status = Status::with_error_details(Code::InvalidArgument, "short", details);
        let error = CliError::from(status);
        assert_eq!(
            error.to_string(),
            "the server refused 2 fields:\n  \
             spec.numbers.bore_m: 0.9 was given; expected 0.05 to 0.2\n  \
             spec.choices.face: \"x\" was given; choose one\n\
             (INVALID_ARGUMENT, SPEC_REFUSED)"
        );
        assert_eq!(error.exit_code(), 3);
    }

    #[test]
    fn every_code_has_an_exit_code_that_says_what_to_do() {
        let of = |code| CliError::from(Status::new(code, "")).exit_code();
        assert_eq!(of(Code::NotFound), 4);
        assert_eq!(of(Code::Unavailable), 5);
        assert_eq!(of(Code::ResourceExhausted), 5);
        assert_eq!(of(Code::Unauthenticated), 6);
        assert_eq!(of(Code::FailedPrecondition), 3);
        assert_eq!(of(Code::Internal), 1);
        assert_eq!(CliError::Usage(String::new()).exit_code(), 2);
    }
}

//! Why the ledger did not do what was asked: the kind (the API's status code), a stable reason,
//! and a text that names the field, the value, what was expected and what to do.

use ringland_host::contract::{Finding, ModelError, Severity};
use ringland_store::StoreError;
use std::fmt;

/// The API's status code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ErrorKind {
    /// The call itself is wrong, whatever the ledger holds.
    InvalidArgument,
    /// What it speaks of does not exist.
    NotFound,
    /// What it would create exists.
    AlreadyExists,
    /// The ledger is not in the state that the call needs.
    FailedPrecondition,
    /// Another writer was faster, again and again.
    Aborted,
    /// A limit of the configuration.
    ResourceExhausted,
    /// The store or the plugin host cannot work now.
    Unavailable,
    /// What is stored cannot be read: a defect.
    Internal,
}

/// Stable reason codes. Adding one is compatible; changing one is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// A field is wrong.
    FieldInvalid,
    /// A page token that this ledger did not give for this query.
    PageTokenInvalid,
    /// The spec or the surfaces are refused by the model.
    SpecRefused,
    /// A treatment that the catalogue or the model forbids there.
    TreatmentRefused,
    /// No such resource.
    ResourceNotFound,
    /// A resource of that name exists.
    ResourceExists,
    /// The request id was used with another content.
    RequestIdReused,
    /// The etag is not the current one.
    EtagMismatch,
    /// Builds of a unit would overlap.
    BuildOverlap,
    /// The build is closed, or not open over that time.
    BuildNotOpen,
    /// Installations of a component would overlap.
    InstallationOverlap,
    /// The component came to its end.
    ComponentRetired,
    /// The component is not installed.
    NotInstalled,
    /// Duty records of a unit would overlap.
    DutyOverlap,
    /// Neither the call nor the unit names a profile.
    ProfileMissing,
    /// The type has no active model.
    ModelNotActive,
    /// The model is of another component type.
    ModelOfOtherType,
    /// The model refused what the ledger holds of the component.
    ModelRefused,
    /// The plugin trapped, ran out of a limit or answered nonsense.
    ModelFailed,
    /// The duty lacks a channel that the model requires.
    ChannelMissing,
    /// The model lacks a reading that the call is about.
    ReadingMissing,
    /// A maker's or sanctioning body's limit, or a finding past its limit, stands against it.
    LimitStands,
    /// Another writer was faster, again and again.
    ConcurrentChange,
    /// More than the configuration allows.
    LimitExceeded,
    /// The store failed.
    StoreFailed,
    /// The plugin host failed.
    HostFailed,
    /// A stored row cannot be read.
    RowUnreadable,
}

impl Reason {
    /// The code as sent in error details.
    pub fn code(self) -> &'static str {
        match self {
            Self::FieldInvalid => "FIELD_INVALID",
            Self::PageTokenInvalid => "PAGE_TOKEN_INVALID",
            Self::SpecRefused => "SPEC_REFUSED",
            Self::TreatmentRefused => "TREATMENT_REFUSED",
            Self::ResourceNotFound => "RESOURCE_NOT_FOUND",
            Self::ResourceExists => "RESOURCE_EXISTS",
            Self::RequestIdReused => "REQUEST_ID_REUSED",
            Self::EtagMismatch => "ETAG_MISMATCH",
            Self::BuildOverlap => "BUILD_OVERLAP",
            Self::BuildNotOpen => "BUILD_NOT_OPEN",
            Self::InstallationOverlap => "INSTALLATION_OVERLAP",
            Self::ComponentRetired => "COMPONENT_RETIRED",
            Self::NotInstalled => "NOT_INSTALLED",
            Self::DutyOverlap => "DUTY_OVERLAP",
            Self::ProfileMissing => "PROFILE_MISSING",
            Self::ModelNotActive => "MODEL_NOT_ACTIVE",
            Self::ModelOfOtherType => "MODEL_OF_OTHER_TYPE",
            Self::ModelRefused => "MODEL_REFUSED",
            Self::ModelFailed => "MODEL_FAILED",
            Self::ChannelMissing => "CHANNEL_MISSING",
            Self::ReadingMissing => "READING_MISSING",
            Self::LimitStands => "LIMIT_STANDS",
            Self::ConcurrentChange => "CONCURRENT_CHANGE",
            Self::LimitExceeded => "LIMIT_EXCEEDED",
            Self::StoreFailed => "STORE_FAILED",
            Self::HostFailed => "HOST_FAILED",
            Self::RowUnreadable => "ROW_UNREADABLE",
        }
    }
}

/// One wrong field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldViolation {
    /// Which: `unit.shock_thresholds.oil_overheat_temp_k`.
    pub field: String,
    /// What it was.
    pub value: String,
    /// What was expected.
    pub expected: String,
    /// What to do.
    pub remedy: String,
}

impl FieldViolation {
    /// A violation; long values are cut.
    pub fn new(field: &str, value: &str, expected: &str, remedy: &str) -> Self {
        Self {
            field: field.into(),
            value: value.chars().take(200).collect(),
            expected: expected.into(),
            remedy: remedy.into(),
        }
    }
}

impl From<Finding> for FieldViolation {
    fn from(finding: Finding) -> Self {
        Self {
            field: finding.field,
            value: finding.value,
            expected: finding.expected,
            remedy: finding.remedy,
        }
    }
}

impl fmt::Display for FieldViolation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is {}, expected {}; {}",
            self.field, self.value, self.expected, self.remedy
        )
    }
}

/// A resource that an error speaks of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resource {
    /// `unit`, `build`, `component`, `duty record`, `profile`, `model`, `prediction`.
    pub kind: &'static str,
    /// Its full name.
    pub name: String,
}

/// Why the ledger did not do what was asked.
#[derive(Clone, Debug, thiserror::Error)]
pub enum LedgerError {
    /// The call is wrong; every offending field at once.
    #[error("{}", lines(.violations))]
    InvalidArgument {
        /// Stable reason.
        reason: Reason,
        /// Every offending field.
        violations: Vec<FieldViolation>,
    },
    /// No such resource.
    #[error("{} {:?} does not exist; check the name, or list what there is", .resource.kind, .resource.name)]
    NotFound {
        /// Which.
        resource: Resource,
    },
    /// It exists, or its request id was used with another content.
    #[error("{message}")]
    AlreadyExists {
        /// Stable reason.
        reason: Reason,
        /// Which.
        resource: Resource,
        /// What, expected and remedy.
        message: String,
    },
    /// The ledger is not in the state that the call needs.
    #[error("{message}")]
    FailedPrecondition {
        /// Stable reason.
        reason: Reason,
        /// The resource whose state it is, by name.
        subject: String,
        /// What, expected and remedy.
        message: String,
        /// Fields that a model refused, if that is why.
        violations: Vec<FieldViolation>,
    },
    /// Another writer was faster, or the etag is not current.
    #[error("{message}")]
    Aborted {
        /// Stable reason.
        reason: Reason,
        /// What, and remedy.
        message: String,
    },
    /// A limit of the configuration.
    #[error("{what} is {value}, the limit is {limit}; {remedy}")]
    ResourceExhausted {
        /// What is too many or too large.
        what: String,
        /// How much it is.
        value: u64,
        /// How much is allowed.
        limit: u64,
        /// What to do.
        remedy: String,
    },
    /// The store or the plugin host cannot work now.
    #[error("{message}")]
    Unavailable {
        /// Stable reason.
        reason: Reason,
        /// What happened.
        message: String,
    },
    /// A stored row cannot be read.
    #[error("{message}")]
    Internal {
        /// What happened.
        message: String,
    },
}

impl LedgerError {
    /// The API's status code.
    pub fn kind(&self) -> ErrorKind {
        match self {
            Self::InvalidArgument { .. } => ErrorKind::InvalidArgument,
            Self::NotFound { .. } => ErrorKind::NotFound,
            Self::AlreadyExists { .. } => ErrorKind::AlreadyExists,
            Self::FailedPrecondition { .. } => ErrorKind::FailedPrecondition,
            Self::Aborted { .. } => ErrorKind::Aborted,
            Self::ResourceExhausted { .. } => ErrorKind::ResourceExhausted,
            Self::Unavailable { .. } => ErrorKind::Unavailable,
            Self::Internal { .. } => ErrorKind::Internal,
        }
    }

    /// The stable reason.
    pub fn reason(&self) -> Reason {
        match self {
            Self::InvalidArgument { reason, .. }
            | Self::AlreadyExists { reason, .. }
            | Self::FailedPrecondition { reason, .. }
            | Self::Aborted { reason, .. }
            | Self::Unavailable { reason, .. } => *reason,
            Self::NotFound { .. } => Reason::ResourceNotFound,
            Self::ResourceExhausted { .. } => Reason::LimitExceeded,
            Self::Internal { .. } => Reason::RowUnreadable,
        }
    }

    /// Offending fields, if any.
    pub fn violations(&self) -> &[FieldViolation] {
        match self {
            Self::InvalidArgument { violations, .. }
            | Self::FailedPrecondition { violations, .. } => violations,
            _ => &[],
        }
    }

    /// The resource it speaks of, if it is one that is missing or in the way.
    pub fn resource(&self) -> Option<&Resource> {
        match self {
            Self::NotFound { resource } | Self::AlreadyExists { resource, .. } => Some(resource),
            _ => None,
        }
    }

    /// One wrong field.
    pub(crate) fn invalid(violation: FieldViolation) -> Self {
        Self::InvalidArgument {
            reason: Reason::FieldInvalid,
            violations: vec![violation],
        }
    }

    pub(crate) fn not_found(kind: &'static str, name: impl fmt::Display) -> Self {
        Self::NotFound {
            resource: Resource {
                kind,
                name: name.to_string(),
            },
        }
    }

    pub(crate) fn exists(kind: &'static str, name: impl fmt::Display) -> Self {
        let name = name.to_string();
        Self::AlreadyExists {
            reason: Reason::ResourceExists,
            message: format!("{kind} {name:?} exists already; choose another id, or read it"),
            resource: Resource { kind, name },
        }
    }

    pub(crate) fn precondition(
        reason: Reason,
        subject: impl fmt::Display,
        message: impl Into<String>,
    ) -> Self {
        Self::FailedPrecondition {
            reason,
            subject: subject.to_string(),
            message: message.into(),
            violations: Vec::new(),
        }
    }

    /// A model's error about a component.
    pub(crate) fn of_model(subject: impl fmt::Display, error: ModelError) -> Self {
        let message = format!("{subject}: {error}");
        let (reason, violations) = match error {
            ModelError::Refused { findings, .. } => {
                let refused = findings
                    .into_iter()
                    .filter(|f| f.severity == Severity::Error);
                (
                    Reason::ModelRefused,
                    refused.map(FieldViolation::from).collect(),
                )
            }
            ModelError::Host(_) => {
                return Self::Unavailable {
                    reason: Reason::HostFailed,
                    message,
                };
            }
            ModelError::Unknown(_)
            | ModelError::NotAPlugin { .. }
            | ModelError::Misbehaved { .. } => (Reason::ModelFailed, Vec::new()),
        };
        Self::FailedPrecondition {
            reason,
            subject: subject.to_string(),
            message,
            violations,
        }
    }
}

impl From<StoreError> for LedgerError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Conflict { .. } => Self::Aborted {
                reason: Reason::ConcurrentChange,
                message: format!("{error}; another writer was faster each time: try again"),
            },
            StoreError::TooLarge {
                table,
                what,
                bytes,
                limit_bytes,
            } => Self::ResourceExhausted {
                what: format!("a {what} in {table:?} [bytes]"),
                value: bytes as u64,
                limit: limit_bytes as u64,
                remedy: "send less, or raise the store's limit".into(),
            },
            StoreError::Engine(reason) => Self::Unavailable {
                reason: Reason::StoreFailed,
                message: format!(
                    "the store failed ({reason}); nothing was acknowledged: send the same request id again"
                ),
            },
        }
    }
}

fn lines(violations: &[FieldViolation]) -> String {
    let lines: Vec<String> = violations.iter().map(ToString::to_string).collect();
    lines.join(" | ")
}

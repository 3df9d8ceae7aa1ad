//! Findings in answers.

use ringland_host::contract as host;
use ringland_proto::v1 as api;

/// To a message.
pub fn to_message(finding: &host::Finding) -> api::Finding {
    let severity = match finding.severity {
        host::Severity::Error => api::Severity::Error,
        host::Severity::Warning => api::Severity::Warning,
    };
    api::Finding {
        severity: severity.into(),
        field: finding.field.clone(),
        value: finding.value.clone(),
        expected: finding.expected.clone(),
        remedy: finding.remedy.clone(),
    }
}

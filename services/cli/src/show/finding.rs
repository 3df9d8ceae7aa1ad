//! Findings.

use crate::{
    out::{Look, alarm, caution},
    table::item,
};
use ringland_proto::v1::{Finding, Severity};

/// Whether a finding refuses its input.
pub fn is_error(finding: &Finding) -> bool {
    finding.severity() == Severity::Error
}

/// One line a finding: which field, what it was, what was expected, what to do.
pub fn findings(findings: &[Finding], look: &Look) -> String {
    findings
        .iter()
        .map(|finding| line(finding, look))
        .collect::<Vec<_>>()
        .join("\n")
}

fn line(finding: &Finding, look: &Look) -> String {
    let Finding {
        field,
        value,
        expected,
        remedy,
        ..
    } = finding;
    let mut text = field.clone();
    for (lead, part) in [(": ", value), ("; expected ", expected), ("; ", remedy)] {
        if !part.is_empty() {
            text.push_str(lead);
            text.push_str(part);
        }
    }
    // Styled after it was wrapped: an escape sequence has no width.
    let text = item(look, &text);
    if is_error(finding) {
        alarm(&text)
    } else {
        caution(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn a_finding_says_what_was_expected_and_what_to_do() {
        let finding = Finding {
            severity: Severity::Error.into(),
            field: "spec.numbers.bore_m".into(),
            value: "0.9".into(),
            expected: "0.05 to 0.2 m".into(),
            remedy: "give it in metres".into(),
        };
        let look = Look {
            system: System::Si,
            width: 120,
        };
        let text = findings(&[finding], &look);
        let expected = "spec.numbers.bore_m: 0.9; expected 0.05 to 0.2 m; give it in metres";
        assert!(text.contains(expected), "{text}");
    }
}

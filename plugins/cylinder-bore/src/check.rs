//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.rings.check());
            own(&spec, &mut findings);
        }
        Err(wrong) => findings.extend(wrong),
    }
    findings
}

/// The spec, if nothing refuses it.
///
/// # Errors
/// The findings that refuse it.
pub fn accepted(specimen: &Specimen) -> Result<Spec, Vec<Finding>> {
    unless_refused(check(specimen), || Spec::read(specimen))
}

fn own(spec: &Spec, findings: &mut Vec<Finding>) {
    let honed_m = spec.oil_retention_m(0.0);
    if spec.limit_oil_retention_m >= honed_m {
        findings.push(error(
            "limit_oil_retention_m",
            spec.limit_oil_retention_m,
            &format!("below what the hone holds as finished, {honed_m:.2e} m"),
            "check rvk_m (metres) and mr2_fraction (0 to 1), or lower the limit",
        ));
    }
    // Fresh peaks stand on the plateau: a hone with peaks far below its plateau roughness was measured with another filter.
    let bore = &spec.rings.pack.bore;
    if bore.rpk_m < 0.3 * bore.rq_m {
        findings.push(warning(
            "bore.rpk_m",
            bore.rpk_m,
            &format!(
                "at least a third of the plateau roughness, {:.2e} m",
                0.3 * bore.rq_m
            ),
            "take both from one trace, with the filter of ISO 21920-3",
        ));
    }
    if spec.shift_m > spec.limit_roundness_m {
        findings.push(warning(
            "shift_m",
            spec.shift_m,
            &format!(
                "at most the limit of roundness, {} m",
                spec.limit_roundness_m
            ),
            "relieve or season the casting, or plan a hone after the first hours",
        ));
    }
}

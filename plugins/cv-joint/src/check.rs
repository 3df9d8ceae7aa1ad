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
            play(&spec, &mut findings);
            roughness(&spec, &mut findings);
            grease(&spec, &mut findings);
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

fn play(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_play_m <= spec.build_play_m {
        findings.push(error(
            "limit_play_m",
            spec.limit_play_m,
            &format!("more than the play as built, {} m", spec.build_play_m),
            "measure the new joint, ask its maker for the limit",
        ));
    }
}

/// Roughest tracks on which balls are commonly run \[m\].
const ROUGH_M: f64 = 0.8e-6;

fn roughness(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.track_ra_m > ROUGH_M {
        findings.push(warning(
            "track.ra_m",
            spec.track_ra_m,
            &format!("at most {ROUGH_M} m on ground tracks"),
            "check the unit; a peened track is too rough to run",
        ));
    }
}

fn grease(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.grease_limit_k < spec.limit_surface_k {
        findings.push(warning(
            "grease_limit_k",
            spec.grease_limit_k,
            &format!(
                "at least the limit of the surface, {} K",
                spec.limit_surface_k
            ),
            "choose another grease or a lower limit: inside it is hotter than outside",
        ));
    }
}

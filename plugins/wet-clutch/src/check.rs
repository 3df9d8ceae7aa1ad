//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::readings::judder_slope_s_m;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            face(&spec, &mut findings);
            driveline(&spec, &mut findings);
            limits(&spec, &mut findings);
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

/// Narrowest ring \[m\], and largest share of a face that grooves may take.
const NARROWEST_M: f64 = 3.0e-3;
const MOST_GROOVED: f64 = 0.8;

fn face(spec: &Spec, findings: &mut Vec<Finding>) {
    let counts = [
        (
            "faces",
            spec.faces,
            "count the faces that rub, two for each lined plate",
        ),
        (
            "groove_count",
            spec.groove_count,
            "count the radial grooves of one face",
        ),
    ];
    for (field, count, remedy) in counts {
        if count.fract() != 0.0 {
            findings.push(error(field, count, "a whole number", remedy));
        }
    }
    if spec.outer_m - spec.inner_m < 2.0 * NARROWEST_M {
        findings.push(error(
            "inner_diameter_m",
            spec.inner_m,
            &format!(
                "at least {} m less than the outer diameter",
                2.0 * NARROWEST_M
            ),
            "measure the lining's outer and inner diameter again",
        ));
        return;
    }
    let around_m = std::f64::consts::PI * spec.inner_m;
    if spec.groove_count * spec.groove_width_m > MOST_GROOVED * around_m {
        findings.push(error(
            "groove_width_m",
            spec.groove_width_m,
            &format!("grooves on at most {MOST_GROOVED} of the inner edge"),
            "count the radial grooves of one face and measure their width",
        ));
    }
    if spec.groove_depth_m > spec.lining_m {
        findings.push(error(
            "groove_depth_m",
            spec.groove_depth_m,
            &format!("at most the lining, {} m", spec.lining_m),
            "measure lining and grooves again",
        ));
    }
}

/// Damping over critical damping up to which the driveline is taken to vibrate.
const MOST_DAMPED: f64 = 0.5;

fn driveline(spec: &Spec, findings: &mut Vec<Finding>) {
    let softness = 1.0 / spec.driven_kg_m2 + 1.0 / spec.load_kg_m2;
    let ratio = 0.5 * spec.damping_n_m_s * (softness / spec.stiffness_n_m).sqrt();
    if ratio > MOST_DAMPED {
        findings.push(error(
            "damping_n_m_s",
            spec.damping_n_m_s,
            &format!("at most {MOST_DAMPED} of the driveline's critical damping, not {ratio:.2}"),
            "a vibration of the driveline that was recorded gives its damping; a tenth of critical or less is usual",
        ));
    }
}

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_friction >= spec.friction {
        findings.push(error(
            "limit_friction",
            spec.limit_friction,
            &format!("less than the new lining's {}", spec.friction),
            "a limit below the coefficient of the new pack",
        ));
    }
    if spec.limit_wear_m > spec.groove_depth_m {
        findings.push(warning(
            "limit_wear_m",
            spec.limit_wear_m,
            &format!("at most the grooves' depth, {} m", spec.groove_depth_m),
            "the grooves are gone before the limit: cooling ends with them",
        ));
    }
    if spec.flatness_m >= spec.limit_flatness_m {
        findings.push(error(
            "flatness_m",
            spec.flatness_m,
            &format!("below the limit, {} m", spec.limit_flatness_m),
            "flatter separators",
        ));
    }
    if spec.slope_s_m <= judder_slope_s_m(spec) {
        findings.push(error(
            "lining.friction_slope_s_m",
            spec.slope_s_m,
            &format!(
                "above that at which it judders, {:.4} s/m",
                judder_slope_s_m(spec)
            ),
            "another oil or lining, more damping, or a lower torque of the pull-away",
        ));
    }
}

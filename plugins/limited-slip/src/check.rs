//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::pack::breakaway_n_m;
use crate::readings::new_index;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            faces(&spec, &mut findings);
            diameters(&spec, &mut findings);
            spring(&spec, &mut findings);
            preload(&spec, &mut findings);
            limits(&spec, &mut findings);
            chatter(&spec, &mut findings);
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

fn faces(spec: &Spec, findings: &mut Vec<Finding>) {
    let pairs = 0.5 * spec.faces;
    if (pairs - pairs.round()).abs() > 1e-9 {
        let remedy = "count the friction faces of both sides together";
        findings.push(error("faces", spec.faces, "an even whole number", remedy));
    }
}

/// Narrowest ring of a face \[m\].
const NARROWEST_M: f64 = 5.0e-3;

fn diameters(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.face.outer_m - spec.face.inner_m < NARROWEST_M {
        let most = 2.0 * (spec.face.outer_m - NARROWEST_M);
        let expected = format!("at most {most:.4} m: a ring of {NARROWEST_M} m at least");
        let remedy = "measure the friction face, not the plate";
        findings.push(error(
            "inner_diameter_m",
            2.0 * spec.face.inner_m,
            &expected,
            remedy,
        ));
    }
}

fn spring(spec: &Spec, findings: &mut Vec<Finding>) {
    let spring = &spec.spring;
    if spring.inner_m > 0.95 * spring.outer_m {
        let expected = format!("at most {:.4} m", 0.95 * spring.outer_m);
        let remedy = "measure both diameters of the disc spring";
        findings.push(error("spring_inner_m", spring.inner_m, &expected, remedy));
    }
    if spec.spring_deflection_m > spring.height_m {
        let expected = format!("at most the cone height, {} m", spring.height_m);
        let remedy = "a disc spring pressed flat is no spring: take shims out, or measure the free height less the thickness";
        findings.push(error(
            "spring_deflection_m",
            spec.spring_deflection_m,
            &expected,
            remedy,
        ));
    }
}

fn preload(spec: &Spec, findings: &mut Vec<Finding>) {
    let new_n_m = breakaway_n_m(spec, 0.0);
    if new_n_m.is_nan() || new_n_m <= 1.001 * spec.limit_breakaway_n_m {
        let expected = format!("below the {new_n_m:.1} N.m of the new pack");
        let remedy =
            "more deflection or springs, or a lower limit: the builder's value comes first";
        findings.push(error(
            "limit_breakaway_n_m",
            spec.limit_breakaway_n_m,
            &expected,
            remedy,
        ));
    }
}

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_flatness_m < spec.flatness_m + 1.0e-6 {
        let expected = format!("above the flatness of new plates, {} m", spec.flatness_m);
        let remedy = "reject such plates before they go in, or check the limit";
        findings.push(error(
            "limit_flatness_m",
            spec.limit_flatness_m,
            &expected,
            remedy,
        ));
    }
    let most_m = 0.8 * spec.lining_m * spec.faces;
    if spec.limit_stack_wear_m > most_m {
        let expected = format!("at most 0.8 of the linings, {most_m:.5} m for all faces");
        let remedy = "check lining thickness and limit";
        findings.push(error(
            "limit_stack_wear_m",
            spec.limit_stack_wear_m,
            &expected,
            remedy,
        ));
    }
}

fn chatter(spec: &Spec, findings: &mut Vec<Finding>) {
    let index = new_index(spec);
    if index >= 1.0 {
        let expected = format!("a slope with a chatter index below 1 in fresh oil, not {index:.2}");
        let remedy = "the pack would chatter from new: more friction modifier, other plates, or a less steep ramp";
        findings.push(warning(
            "steel.friction_slope_s_m",
            spec.slope_s_m,
            &expected,
            remedy,
        ));
    }
}

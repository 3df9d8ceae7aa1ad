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
            discs(specimen, &mut findings);
            diameters(&spec, &mut findings);
            torque(&spec, &mut findings);
            diaphragm(&spec, &mut findings);
            lining(&spec, &mut findings);
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

fn discs(specimen: &Specimen, findings: &mut Vec<Finding>) {
    let given = specimen.numbers[0];
    if (given - given.round()).abs() > 1e-9 {
        findings.push(error(
            "discs",
            given,
            "a whole number",
            "count the driven discs",
        ));
    }
}

/// Narrowest ring of a face \[m\].
const NARROWEST_M: f64 = 8.0e-3;

fn diameters(spec: &Spec, findings: &mut Vec<Finding>) {
    let ring_m = spec.face.outer_m - spec.face.inner_m;
    if ring_m < NARROWEST_M {
        let most = 2.0 * (spec.face.outer_m - NARROWEST_M);
        findings.push(error(
            "inner_diameter_m",
            2.0 * spec.face.inner_m,
            &format!("at most {most:.4} m: a ring of {NARROWEST_M} m at least"),
            "measure the friction face, not the plate",
        ));
    }
    if spec.spline_radius_m > spec.face.inner_m {
        findings.push(error(
            "spline_radius_m",
            spec.spline_radius_m,
            &format!("inside of the friction face, {:.4} m", spec.face.inner_m),
            "give the mean radius of the hub's spline",
        ));
    }
}

/// Torque over the engine's below which a new clutch is commonly taken for too weak.
const USUAL_RESERVE: f64 = 1.3;

fn torque(spec: &Spec, findings: &mut Vec<Finding>) {
    let capacity_n_m = spec.capacity_n_m(0.0, 0.0);
    let least_n_m = spec.engine_torque_n_m;
    let remedy = "more discs, clamp load or friction: new, it has to hold the engine's peak torque";
    if capacity_n_m <= 1.001 * least_n_m {
        let expected =
            format!("a clutch that holds more than {least_n_m} N.m, not {capacity_n_m:.0}");
        findings.push(error("clamp_n", spec.clamp_n, &expected, remedy));
    } else if capacity_n_m < USUAL_RESERVE * least_n_m {
        let expected =
            format!("{USUAL_RESERVE} times the engine's {least_n_m} N.m, not {capacity_n_m:.0}");
        findings.push(warning("clamp_n", spec.clamp_n, &expected, remedy));
    }
}

fn diaphragm(spec: &Spec, findings: &mut Vec<Finding>) {
    let deflection_m = spec.diaphragm.deflection_m;
    if !spec.diaphragm.clamps() {
        let remedy = "measure cone height, thickness and deflection at the pressure plate again";
        findings.push(error(
            "diaphragm_deflection_m",
            deflection_m,
            "a deflection with a clamp load",
            remedy,
        ));
    } else if spec.diaphragm.clamp_share(spec.limit_stack_wear_m) < 0.7 {
        let share = spec.diaphragm.clamp_share(spec.limit_stack_wear_m);
        let expected =
            format!("at least 0.7 of the clamp load left at the wear limit, not {share:.2}");
        let remedy = "a diaphragm set further over its centre holds its load for longer: check the deflection, or lower the wear limit";
        findings.push(warning(
            "diaphragm_deflection_m",
            deflection_m,
            &expected,
            remedy,
        ));
    }
}

fn lining(spec: &Spec, findings: &mut Vec<Finding>) {
    let each_m = spec.limit_stack_wear_m / spec.faces();
    if each_m > 0.8 * spec.lining_m {
        findings.push(error(
            "limit_stack_wear_m",
            spec.limit_stack_wear_m,
            &format!(
                "at most 0.8 of the linings, {:.5} m for all faces",
                0.8 * spec.lining_m * spec.faces()
            ),
            "the maker's wear allowance comes first: check lining thickness and limit",
        ));
    }
}

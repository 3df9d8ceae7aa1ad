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
            findings.extend(spec.train.check());
            widths(&spec, &mut findings);
            fillet(&spec, &mut findings);
            masses(&spec, &mut findings);
            taper(&spec, &mut findings);
            residual(&spec, &mut findings);
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

/// Thinnest wall that is taken for a ring or a shell \[m\].
const THINNEST_M: f64 = 0.3e-3;

/// Diameters from the stem outwards, each with the wall that it needs.
fn widths(spec: &Spec, findings: &mut Vec<Finding>) {
    let half_taper_m = spec.cone_length_m * spec.cone_half_angle_rad.tan();
    let coil_m = spec.train.spring.coil_m;
    let mut at_least = |field: &str, value: f64, least_m: f64, what: &str, remedy: &str| {
        if value < least_m {
            findings.push(error(
                field,
                value,
                &format!("at least {least_m:.4} m, {what}"),
                remedy,
            ));
        }
    };
    let keeper_m = spec.stem_m + half_taper_m + 2.0 * THINNEST_M;
    let angle = "measure mean diameter, length and half angle of the taper again";
    at_least(
        "cone_mean_m",
        spec.cone_mean_m,
        keeper_m,
        "the stem and a keeper's thin end",
        angle,
    );
    let hub_m = spec.cone_mean_m + half_taper_m + 2.0 * THINNEST_M;
    at_least(
        "hub_outer_m",
        spec.hub_outer_m,
        hub_m,
        "the taper's wide end and a wall",
        angle,
    );
    let remedy = "measure spring and retainer again: the spring has to stand on the flange";
    at_least(
        "flange_outer_m",
        spec.flange_outer_m,
        coil_m,
        "the spring's mean diameter",
        remedy,
    );
    let root_m = spec.hub_outer_m * 1.001;
    at_least(
        "coil_m",
        coil_m,
        root_m,
        "outside of the hub",
        "the hub goes inside the spring's coils",
    );
    if spec.end_coil_face_m > spec.train.spring.wire_m {
        findings.push(error(
            "end_coil_face_m",
            spec.end_coil_face_m,
            &format!("at most the wire, {} m", spec.train.spring.wire_m),
            "measure the ground face of the end coil",
        ));
    }
}

/// Radii over thicknesses to which the charts of fillets go.
const FILLETS: (f64, f64) = (0.005, 0.3);

fn fillet(spec: &Spec, findings: &mut Vec<Finding>) {
    let ratio = spec.flange_fillet_m / spec.flange_m;
    if !(FILLETS.0..=FILLETS.1).contains(&ratio) {
        findings.push(error(
            "flange_fillet_m",
            spec.flange_fillet_m,
            &format!("{} to {} of the flange's thickness", FILLETS.0, FILLETS.1),
            "give the largest fillet within that: the charts end there",
        ));
    }
}

fn masses(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.retainer_mass_kg >= spec.train.moving_mass_kg {
        findings.push(error(
            "retainer_mass_kg",
            spec.retainer_mass_kg,
            &format!("less than all that moves, {} kg", spec.train.moving_mass_kg),
            "the moving mass holds valve, retainer, keepers and rocker",
        ));
    }
}

/// Lowest over highest force on a taper that a valve train commonly leaves.
const USUAL_LOW: f64 = 0.3;

fn taper(spec: &Spec, findings: &mut Vec<Finding>) {
    let slides_back = spec.cone().slides_back_share();
    if slides_back > USUAL_LOW {
        findings.push(warning(
            "taper.boundary_friction",
            spec.taper.friction,
            &format!("a taper that slides back below {USUAL_LOW} of its highest force, not {slides_back:.2}"),
            "the whole taper would slide at each turn: check half angle and friction, do not oil or coat for grip's sake",
        ));
    }
    if spec.pull_through_n() < 4.0 * spec.opened_n() {
        findings.push(error(
            "hub_outer_m",
            spec.hub_outer_m,
            "a hub that holds four times the spring's force at full lift",
            "check hub, taper and material",
        ));
    }
}

fn residual(spec: &Spec, findings: &mut Vec<Finding>) {
    let highest_pa = spec
        .residual
        .depths_m()
        .map(|depth| spec.residual.at(depth));
    let highest_pa = highest_pa.fold(0.0, f64::max);
    if highest_pa >= spec.material.yield_pa {
        findings.push(error(
            "body.residual_stress_pa",
            highest_pa,
            &format!(
                "less than the yield strength, {} Pa",
                spec.material.yield_pa
            ),
            "check sign (compression is negative) and unit (Pa)",
        ));
    }
}

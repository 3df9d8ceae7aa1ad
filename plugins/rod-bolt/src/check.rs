//! A spec against the card and against itself.

use ringland_plugin::{
    Finding, Severity, Specimen, check_against_card, error, unless_refused, warning,
};

use crate::card;
use crate::constants::{FRICTION_TOLERANCE, LEAST_PRELOAD_USE, MOST_TIGHTENING_USE};
use crate::spec::{RodJoint, Spec, Tightening};

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    let spec = match Spec::read(specimen) {
        Ok(spec) => spec,
        Err(wrong) => return wrong,
    };
    findings.extend(spec.engine.check());
    dimensions(&spec, &mut findings);
    counts(&spec, &mut findings);
    friction(&spec, &mut findings);
    match spec.rod_joint() {
        Ok(rod) => preload(&spec, &rod, &mut findings),
        // A dimension named here has been found above as well, unless it is the thread's.
        Err(refused) if findings.iter().all(|f| f.severity == Severity::Warning) => {
            findings.push(error(
                refused.field,
                refused.value,
                refused.expected,
                "measure the bolt again",
            ));
        }
        Err(_) => {}
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

fn dimensions(spec: &Spec, findings: &mut Vec<Finding>) {
    let mut at_least = |field: &str, value: f64, least: f64, what: &str| {
        if value <= least {
            let expected = format!("more than {least} m, {what}");
            findings.push(error(field, value, &expected, "measure both again"));
        }
    };
    at_least(
        "hole_diameter_m",
        spec.hole_diameter_m,
        spec.thread_diameter_m,
        "the thread that passes through it",
    );
    at_least(
        "hole_diameter_m",
        spec.hole_diameter_m,
        spec.shank_diameter_m - 2.0e-5,
        "the shank within it, less a press fit",
    );
    at_least(
        "bearing_diameter_m",
        spec.bearing_diameter_m,
        1.05 * spec.hole_diameter_m,
        "the hole and a seat around it",
    );
    at_least(
        "boss_diameter_m",
        spec.boss_diameter_m,
        1.05 * spec.hole_diameter_m,
        "the hole and metal around it",
    );
    if spec.cap_mass_kg >= spec.engine.rotating_rod_mass_kg {
        findings.push(error(
            "cap_mass_kg",
            spec.cap_mass_kg,
            &format!(
                "less than {} kg, the big end's share of the rod",
                spec.engine.rotating_rod_mass_kg
            ),
            "weigh cap and rod again",
        ));
    }
    if spec.tensile_strength_pa < 1.01 * spec.yield_strength_pa {
        findings.push(error(
            "tensile_strength_pa",
            spec.tensile_strength_pa,
            "at least 1 % above the yield strength",
            "check both against the bolt maker's data",
        ));
    }
}

fn counts(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.tightenings_per_build > spec.limit_tightenings {
        findings.push(error(
            "limit_tightenings",
            spec.limit_tightenings,
            &format!(
                "at least {}, the tightenings of one build",
                spec.tightenings_per_build
            ),
            "use other bolts for the trial fits of a build, or a limit that one build meets",
        ));
    }
    if spec.redline_rad_s < 0.9 * spec.engine.rated_speed_rad_s {
        findings.push(warning(
            "redline_rad_s",
            spec.redline_rad_s,
            &format!(
                "about rated speed, {} rad/s, or more",
                spec.engine.rated_speed_rad_s
            ),
            "check the redline's unit (rad/s)",
        ));
    }
}

/// Torque measures friction: it holds only for the friction that it was given for.
fn friction(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.tightening != Tightening::Torque {
        return;
    }
    for (name, surface) in [
        ("thread", &spec.thread),
        ("bearing_face", &spec.bearing_face),
    ] {
        if surface.coating_m > 0.0 {
            findings.push(warning(
                &format!("{name}.coating_thickness_m"),
                surface.coating_m,
                "no coating where bolts are tightened by torque",
                "the coating changes friction, so the torque is invalid: tighten by stretch, or have the torque given anew for the coating",
            ));
        }
        let off = surface.friction / spec.specified_friction - 1.0;
        if off.abs() > FRICTION_TOLERANCE {
            findings.push(warning(
                &format!("{name}.boundary_friction"),
                surface.friction,
                &format!(
                    "{}, the friction that the torque was given for",
                    spec.specified_friction
                ),
                "use the specified lubricant or tighten by stretch: this torque gives another preload",
            ));
        }
    }
}

fn preload(spec: &Spec, rod: &RodJoint, findings: &mut Vec<Finding>) {
    let preload_n = rod.assembly_preload_n(spec);
    let used = preload_n / rod.yielding.yield_load_n;
    let (field, value) = match spec.tightening {
        Tightening::Stretch => ("tightening_stretch_m", spec.tightening_stretch_m),
        Tightening::Torque => ("tightening_torque_n_m", spec.tightening_torque_n_m),
    };
    let gives = format!(
        "; this gives {preload_n:.0} N, {:.0} % of yield",
        100.0 * used
    );
    let turned_pa = rod.friction.equivalent_stress_pa(&rod.thread, preload_n);
    if used >= 1.0 {
        findings.push(error(
            field,
            value,
            &format!("less than what yields the bolt{gives}"),
            "check the unit; follow the bolt maker's stretch",
        ));
    } else if turned_pa > MOST_TIGHTENING_USE * spec.yield_strength_pa {
        findings.push(warning(
            field,
            value,
            &format!("at most 90 % of yield while it is turned, torsion included{gives}"),
            "follow the bolt maker's stretch",
        ));
    } else if used < LEAST_PRELOAD_USE {
        findings.push(warning(
            field,
            value,
            &format!("60 to 75 % of yield, common practice{gives}"),
            "follow the bolt maker's stretch",
        ));
    }
    let needed_n = rod.joint.preload_to_stay_closed_n(inertia_n(
        spec,
        rod,
        spec.limit_over_redline * spec.redline_rad_s,
    ));
    if preload_n < needed_n {
        findings.push(warning(
            field,
            value,
            &format!(
                "more than {needed_n:.0} N, to stay closed at the highest speed allowed{gives}"
            ),
            "tighten to the bolt maker's stretch, or choose a larger bolt",
        ));
    }
}

/// External load of one bolt at the gas-exchange dead centre, without gas \[N\]: what is above the split times r ω² (1 + r/l for the part that
/// goes up and down).
fn inertia_n(spec: &Spec, rod: &RodJoint, speed_rad_s: f64) -> f64 {
    let engine = &spec.engine;
    let radius_m = 0.5 * engine.stroke_m;
    let above_kg = engine.rotating_rod_mass_kg - spec.cap_mass_kg;
    let up_and_down_kg = engine.reciprocating_mass_kg * (1.0 + radius_m / engine.rod_length_m);
    let pull_n = (up_and_down_kg + above_kg) * radius_m * speed_rad_s * speed_rad_s;
    rod.prying * pull_n / spec.bolts_per_rod
}

//! A spec against the card and against itself.

use ringland_plugin::{
    Finding, Specimen, Surface, check_against_card, error, unless_refused, warning,
};

use crate::card;
use crate::condition::no_teeth;
use crate::constants::MOST_TWIST_RAD;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            if let Err(wrong) = spec.sites(1.0) {
                findings.extend(wrong); // the concentration of the root makes no difference here
            }
            notches(&spec, &mut findings);
            steel(&spec, &mut findings);
            torques(&spec, &mut findings);
            for (name, surface) in ["spline", "body"].iter().zip(&specimen.surfaces) {
                profile(&spec, name, surface, &mut findings);
            }
            if spec.build_runout_m > spec.limit_runout_m {
                let expected = format!("at most its limit, {} m", spec.limit_runout_m);
                let remedy = "measure again; do not build with this shaft";
                let found = warning("build_runout_m", spec.build_runout_m, &expected, remedy);
                findings.push(found);
            }
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

/// Largest root radius that leaves a flank, in modules: a full fillet has 0.4 (ISO 4156, from memory).
const MOST_ROOT_MODULES: f64 = 0.55;

fn notches(spec: &Spec, findings: &mut Vec<Finding>) {
    let most_m = MOST_ROOT_MODULES * spec.spline.module_m;
    let root_m = spec.spline.root_radius_m;
    if root_m > most_m {
        let expected = format!("at most {MOST_ROOT_MODULES} modules, {most_m:.2e} m");
        let remedy = "a full fillet has 0.4 modules: check radius and module";
        findings.push(error("spline_root_m", root_m, &expected, remedy));
    }
    if root_m <= most_m && !spec.spline.has_teeth() {
        findings.push(no_teeth(spec));
    }
    let whole = spec.spline.teeth.fract() == 0.0;
    if !whole {
        let remedy = "count them again";
        findings.push(error(
            "spline_teeth",
            spec.spline.teeth,
            "a whole number",
            remedy,
        ));
    }
    let around_m = spec.groove_diameter_m + 2.0 * spec.groove_depth_m;
    let most_m = spec
        .spline
        .major_diameter_m()
        .max(spec.shoulder_diameter_m)
        .max(spec.body.diameter_m);
    if around_m > most_m {
        let expected = format!(
            "a groove whose rim, {around_m:.4} m, is within the thickest diameter, {most_m:.4} m"
        );
        let remedy = "measure diameter and depth of the groove again";
        findings.push(error(
            "groove_diameter_m",
            spec.groove_diameter_m,
            &expected,
            remedy,
        ));
    }
}

fn steel(spec: &Spec, findings: &mut Vec<Finding>) {
    let ultimate_pa = spec.ultimate_strength_pa;
    let most_pa = ultimate_pa / 3.0_f64.sqrt();
    if spec.body.shear_yield_pa > most_pa {
        let expected = format!(
            "at most {most_pa:.3e} Pa, the ultimate strength in shear by von Mises, for {ultimate_pa:.3e} Pa in tension"
        );
        let remedy = "read the certificate again";
        findings.push(error(
            "shear_yield_pa",
            spec.body.shear_yield_pa,
            &expected,
            remedy,
        ));
    }
    // Half the ultimate strength is the endurance limit of a polished specimen in bending (Shigley, 9th edition, eq. 6-8).
    let most_pa = 0.55 * most_pa;
    if spec.strength_pa > most_pa {
        let expected = format!("at most {most_pa:.3e} Pa in torsion for this steel");
        let remedy = "residual stress of a treatment goes into the surface, not into the strength";
        findings.push(warning("strength_pa", spec.strength_pa, &expected, remedy));
    }
}

fn torques(spec: &Spec, findings: &mut Vec<Finding>) {
    let twist_rad = spec
        .body
        .permanent_twist_rad(spec.preset_torque_n_m, MOST_TWIST_RAD);
    if twist_rad >= MOST_TWIST_RAD {
        let plastic_n_m = spec.body.plastic_torque_n_m();
        let expected =
            format!("a torque that the body bears: it is plastic through at {plastic_n_m:.0} N.m");
        let remedy = "ask the maker for the torque of presetting";
        findings.push(error(
            "preset_torque_n_m",
            spec.preset_torque_n_m,
            &expected,
            remedy,
        ));
    }
    let slip_n_m = spec.torque_share * spec.grip_torque_n_m * spec.dynamic_factor;
    let yield_n_m = spec.body.yield_torque_n_m().max(spec.preset_torque_n_m);
    if slip_n_m > yield_n_m {
        let expected = format!(
            "a launch at the tyres' grip, {slip_n_m:.0} N.m on this shaft, below the {yield_n_m:.0} N.m at which it twists for good"
        );
        let remedy = "fit a thicker shaft or a softer clutch; measure the torque of launches";
        findings.push(warning(
            "body_diameter_m",
            spec.body.diameter_m,
            &expected,
            remedy,
        ));
    }
}

fn profile(spec: &Spec, name: &str, surface: &Surface, findings: &mut Vec<Finding>) {
    let stresses = surface.residual_stress_pa.iter().copied();
    let largest_pa = stresses.fold(0.0, |most: f64, stress| {
        if stress.abs() > most.abs() {
            stress
        } else {
            most
        }
    });
    // Work hardening lets residual stress pass the yield strength, hardly the ultimate.
    let most_pa = 1.2 * spec.ultimate_strength_pa;
    if largest_pa.abs() > most_pa {
        let field = format!("{name}.residual_stress_pa");
        let expected = format!("within {most_pa:.3e} Pa of 0: the steel bears no more");
        let remedy = "check sign and unit of the measurement";
        findings.push(error(&field, largest_pa, &expected, remedy));
    }
    let last = surface
        .depth_m
        .last()
        .zip(surface.residual_stress_pa.last());
    if let Some((depth_m, stress_pa)) = last
        && *stress_pa < 0.2 * largest_pa.min(0.0)
    {
        let field = format!("{name}.depth_m");
        let expected = format!(
            "a profile that goes on until compression ends; it still is {stress_pa:.2e} Pa there"
        );
        let remedy = "measure deeper: below the last depth there is taken to be none";
        findings.push(warning(&field, *depth_m, &expected, remedy));
    }
}

//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::material::{AUSTENITIC_LIMIT_K, option};
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.engine.check());
            findings.extend(spec.train.check());
            shape(&spec, &mut findings);
            masses(&spec, &mut findings);
            material(&spec, specimen, &mut findings);
            limits(&spec, &mut findings);
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

fn shape(spec: &Spec, findings: &mut Vec<Finding>) {
    let stem_m = 0.5 * spec.stem_diameter_m;
    if spec.neck_radius_m <= stem_m || spec.neck_radius_m >= 0.8 * spec.seat_radius_m {
        let most_m = 0.8 * spec.seat_radius_m;
        let expected = format!("more than the stem's radius, {stem_m} m, and less than {most_m} m");
        let remedy = "measure where the fillet under the head begins";
        findings.push(error(
            "neck_radius_m",
            spec.neck_radius_m,
            &expected,
            remedy,
        ));
    }
    if spec.head_thickness_m >= 0.6 * spec.seat_radius_m {
        let expected = format!(
            "less than {} m: the head is a plate",
            0.6 * spec.seat_radius_m
        );
        let remedy = "measure half way between rim and neck";
        findings.push(error(
            "head_thickness_m",
            spec.head_thickness_m,
            &expected,
            remedy,
        ));
    }
    let stem_m2 = spec.stem().area_m2;
    if spec.groove.area_m2 >= stem_m2 {
        let expected = format!("less than the stem's section, {stem_m2:.3e} m2");
        let remedy = "compute it from the diameter at the groove's bottom";
        findings.push(error(
            "groove_area_m2",
            spec.groove.area_m2,
            &expected,
            remedy,
        ));
    }
    let along_m = spec.guide_length_m + spec.port_length_m;
    if along_m >= spec.stem_length_m {
        let expected = format!("more than guide and port together, {along_m} m");
        let remedy = "measure stem, guide and port again";
        findings.push(error(
            "stem_length_m",
            spec.stem_length_m,
            &expected,
            remedy,
        ));
    }
    let lift_m = spec.train.lift.largest_m();
    if spec.tip_overhang_m <= lift_m {
        let expected = format!("more than the lift, {lift_m} m: the tip stays above the guide");
        let remedy = "measure with the valve closed";
        findings.push(error(
            "tip_overhang_m",
            spec.tip_overhang_m,
            &expected,
            remedy,
        ));
    }
}

fn masses(spec: &Spec, findings: &mut Vec<Finding>) {
    let bar_kg = spec.stem().mass_kg();
    if spec.valve_mass_kg <= bar_kg {
        let expected = format!("more than the stem alone, {bar_kg:.4} kg in this material");
        let remedy = "weigh the valve; check material, stem diameter and length";
        findings.push(error(
            "valve_mass_kg",
            spec.valve_mass_kg,
            &expected,
            remedy,
        ));
    }
    let own_kg = spec.valve_mass_kg + spec.retained_mass_kg;
    let moving_kg = spec.train.moving_mass_kg + spec.train.spring.active_mass_kg() / 3.0;
    if own_kg > 1.05 * moving_kg {
        let expected = format!("valve and retained mass within all that moves, {moving_kg:.4} kg");
        let remedy =
            "weigh the parts; moving_mass_kg holds valve, retainer, keepers and the rocker's share";
        findings.push(warning("valve_mass_kg", own_kg, &expected, remedy));
    }
}

fn material(spec: &Spec, specimen: &Specimen, findings: &mut Vec<Finding>) {
    if spec.titanium && spec.coating_thickness_m <= 0.0 {
        let expected = "above 0 for a titanium stem";
        let remedy = "coat the stem: bare titanium galls in any guide";
        findings.push(error("stem.coating_thickness_m", 0.0, expected, remedy));
    }
    let chosen = specimen.choices.get(2).copied();
    let cool = chosen == Some(option::MARTENSITIC) || spec.titanium;
    if spec.exhaust && cool {
        let limit_k = spec.material.service_k;
        let expected = format!("a material for exhaust heat; this one is for up to {limit_k:.0} K");
        let remedy = format!(
            "austenitic steel (to about {AUSTENITIC_LIMIT_K:.0} K) or nickel alloy, unless the head's temperature is measured"
        );
        findings.push(warning("material", limit_k, &expected, &remedy));
    }
}

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_lash_m >= spec.train.lash_m {
        let expected = format!("less than lash_m, {} m", spec.train.lash_m);
        let remedy = "give the least lash that keeps the valve closed when hot";
        findings.push(warning(
            "limit_lash_m",
            spec.limit_lash_m,
            &expected,
            remedy,
        ));
    }
    if spec.limit_margin_m >= spec.build_margin_m {
        let expected = format!("less than build_margin_m, {} m", spec.build_margin_m);
        let remedy = "do not build with this valve, or measure its margin again";
        findings.push(warning(
            "limit_margin_m",
            spec.limit_margin_m,
            &expected,
            remedy,
        ));
    }
}

fn residual(spec: &Spec, findings: &mut Vec<Finding>) {
    let (_, stress_pa) = spec.groove.residual.columns();
    let largest = stress_pa.iter().fold(0.0, |most: f64, s| most.max(s.abs()));
    let most_pa = 1.2 * spec.groove.ultimate_pa;
    if largest > most_pa {
        let expected = format!("within {most_pa:.3e} Pa of 0: the metal bears no more");
        let remedy = "check sign and unit of the measurement";
        findings.push(error(
            "groove.residual_stress_pa",
            largest,
            &expected,
            remedy,
        ));
    }
}

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
            findings.extend(spec.engine.check());
            geometry(&spec, &mut findings);
            alloy(&spec, &mut findings);
            skirt_surface(&spec, &mut findings);
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

/// Least clearance of a coated skirt on diameter \[m\].
const LEAST_COATED_CLEARANCE_M: f64 = 1.0e-5;

fn geometry(spec: &Spec, findings: &mut Vec<Finding>) {
    let needed_m = 2.0 * spec.skirt_coat_thickness_m + LEAST_COATED_CLEARANCE_M;
    if spec.skirt_clearance_m < needed_m {
        findings.push(error(
            "skirt_clearance_m",
            spec.skirt_clearance_m,
            &format!("at least {needed_m:.2e} m: twice the coat and 1e-5 m"),
            "measure the bare skirt; a thinner coat or a larger bore",
        ));
    }
    if spec.limit_side_clearance_m <= spec.top_side_clearance_m {
        findings.push(error(
            "limit_side_clearance_m",
            spec.limit_side_clearance_m,
            &format!(
                "more than the side clearance as built, {} m",
                spec.top_side_clearance_m
            ),
            "check the ring's width against the groove",
        ));
    }
    let room_m = 0.5 * spec.engine.bore_m;
    for (name, size_m) in [
        ("pin_diameter_m", spec.pin_diameter_m),
        ("boss_length_m", spec.boss_length_m),
        ("skirt_width_m", 0.5 * spec.skirt_width_m),
    ] {
        if size_m > room_m {
            let expected = format!("a size that fits a bore of {} m", spec.engine.bore_m);
            findings.push(error(name, size_m, &expected, "check its unit (m)"));
        }
    }
    if spec.piston_mass_kg > spec.engine.reciprocating_mass_kg {
        findings.push(error(
            "piston_mass_kg",
            spec.piston_mass_kg,
            &format!(
                "at most the reciprocating mass, {} kg",
                spec.engine.reciprocating_mass_kg
            ),
            "weigh piston and rings without pin; the reciprocating mass holds them, pin and rod share",
        ));
    }
    if spec.third_land_share > spec.second_land_share {
        findings.push(error(
            "third_land_share",
            spec.third_land_share,
            &format!("at most second_land_share, {}", spec.second_land_share),
            "pressure falls from land to land",
        ));
    }
}

fn alloy(spec: &Spec, findings: &mut Vec<Finding>) {
    let gain_pa = spec.hardness_pa - spec.soft_hardness_pa;
    if gain_pa <= 0.0 {
        findings.push(error(
            "soft_hardness_pa",
            spec.soft_hardness_pa,
            &format!("less than the new hardness, {} Pa", spec.hardness_pa),
            "1 HB is 9.807e6 Pa; check both",
        ));
    } else if spec.limit_hardness_loss_pa >= gain_pa {
        findings.push(warning(
            "limit_hardness_loss_pa",
            spec.limit_hardness_loss_pa,
            &format!("less than can be lost, {gain_pa:.3e} Pa"),
            "lower the limit: this alloy never loses as much",
        ));
    }
    if spec.boss_residual_pa >= spec.boss_tensile_pa {
        findings.push(error(
            "pin_boss.residual_stress_pa",
            spec.boss_residual_pa,
            &format!(
                "less than the tensile strength, {} Pa",
                spec.boss_tensile_pa
            ),
            "check sign (compression is negative) and unit (Pa)",
        ));
    }
}

fn skirt_surface(spec: &Spec, findings: &mut Vec<Finding>) {
    let skirt = &spec.skirt;
    let sigma_m = skirt.rq_m.hypot(spec.bore_rq_m);
    let number = sigma_m * skirt.summit_radius_m * skirt.summit_density_per_m2;
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "skirt.asperity_density_per_m2",
            skirt.summit_density_per_m2,
            &format!(
                "density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"
            ),
            "keep the default radius and density unless both were measured",
        ));
    }
}

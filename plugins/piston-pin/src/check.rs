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
            clearance(&spec, &mut findings);
            strength(&spec, &mut findings);
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

/// Largest bore of a pin over its outside: beyond it the ovalisation formula falls below that of a thin ring.
const WIDEST_BORE: f64 = 0.72;

fn geometry(spec: &Spec, findings: &mut Vec<Finding>) {
    let pin = &spec.pin;
    let widest_m = WIDEST_BORE * pin.outer_m;
    if pin.inner_m > widest_m {
        findings.push(error(
            "pin_inner_m",
            pin.inner_m,
            &format!("at most {widest_m:.4} m, 0.72 of the outside"),
            "a thinner wall is beyond the ovalisation formula",
        ));
    }
    let needed_m = pin.rod_width_m + 2.0 * pin.boss_length_m;
    if pin.length_m < needed_m * (1.0 - 1e-9) {
        findings.push(error(
            "pin_length_m",
            pin.length_m,
            &format!("at least bush and both bosses, {needed_m:.4} m"),
            "enter the length that bears in each boss",
        ));
    }
    if pin.length_m > spec.engine.bore_m {
        findings.push(error(
            "pin_length_m",
            pin.length_m,
            &format!("less than the bore, {} m", spec.engine.bore_m),
            "check its unit (m)",
        ));
    }
    if spec.piston_and_pin_mass_kg > spec.engine.reciprocating_mass_kg {
        findings.push(error(
            "piston_and_pin_mass_kg",
            spec.piston_and_pin_mass_kg,
            &format!(
                "at most the reciprocating mass, {} kg",
                spec.engine.reciprocating_mass_kg
            ),
            "the reciprocating mass holds piston, rings, pin and the rod's small-end share",
        ));
    }
    if spec.oil_patch_m > pin.rod_width_m {
        findings.push(error(
            "oil_patch_m",
            spec.oil_patch_m,
            &format!("at most the width of the bush, {} m", pin.rod_width_m),
            "the whole width is a flooded bush",
        ));
    }
}

fn clearance(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_bush_clearance_m <= spec.bush_clearance_m {
        findings.push(error(
            "limit_bush_clearance_m",
            spec.limit_bush_clearance_m,
            &format!(
                "more than the clearance as built, {} m",
                spec.bush_clearance_m
            ),
            "measure the clearance again; refit the bush",
        ));
    }
    let sigma_m = spec.pin_rq_m.hypot(spec.bush_rq_m);
    if spec.bush_clearance_m < 6.0 * sigma_m {
        findings.push(error(
            "bush_clearance_m",
            spec.bush_clearance_m,
            &format!(
                "at least six times the composite roughness, {:.2e} m",
                6.0 * sigma_m
            ),
            "a tighter pin cannot float",
        ));
    }
    let number = sigma_m * spec.summit_radius_m * spec.summit_density_per_m2;
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "bush.asperity_density_per_m2",
            spec.summit_density_per_m2,
            &format!(
                "density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"
            ),
            "keep the default radius and density unless both were measured",
        ));
    }
}

fn strength(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.pin_residual_pa >= spec.pin_tensile_pa {
        findings.push(error(
            "pin.residual_stress_pa",
            spec.pin_residual_pa,
            &format!("less than the tensile strength, {} Pa", spec.pin_tensile_pa),
            "check sign (compression is negative) and unit (Pa)",
        ));
    }
    if spec.pin_line.strength_pa() >= spec.pin_tensile_pa {
        findings.push(error(
            "pin_strength_pa",
            spec.pin_line.strength_pa(),
            &format!("less than the tensile strength, {} Pa", spec.pin_tensile_pa),
            "check both against the pin maker's data",
        ));
    }
}

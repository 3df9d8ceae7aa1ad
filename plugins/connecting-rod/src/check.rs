//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::spec::{Site, Spec};

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.engine.check());
            masses(&spec, &mut findings);
            steel(&spec, &mut findings);
            beam(&spec, &mut findings);
            build(&spec, &mut findings);
            for (name, site) in SITE_NAMES.iter().zip(&spec.sites) {
                profile(&spec, name, site, &mut findings);
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

const SITE_NAMES: [&str; 3] = ["eye", "shoulder", "spot_face"];

fn masses(spec: &Spec, findings: &mut Vec<Finding>) {
    let engine = &spec.engine;
    let shares = [
        (
            "small_end_mass_kg",
            spec.small_end_mass_kg,
            "reciprocating_mass_kg",
            engine.reciprocating_mass_kg,
        ),
        (
            "cap_mass_kg",
            spec.cap_mass_kg,
            "rotating_rod_mass_kg",
            engine.rotating_rod_mass_kg,
        ),
    ];
    for (name, share_kg, whole, whole_kg) in shares {
        if share_kg >= whole_kg {
            let expected = format!("less than {whole}, {whole_kg} kg, of which it is a part");
            findings.push(error(name, share_kg, &expected, "weigh both again"));
        }
    }
}

fn steel(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.yield_strength_pa >= spec.ultimate_strength_pa {
        let expected = format!(
            "less than ultimate_strength_pa, {:.4e} Pa",
            spec.ultimate_strength_pa
        );
        let remedy = "read the certificate again";
        findings.push(error(
            "yield_strength_pa",
            spec.yield_strength_pa,
            &expected,
            remedy,
        ));
    }
    // Half the ultimate strength is the endurance limit of a polished specimen (Shigley, 9th edition, eq. 6-8).
    let most_pa = 0.55 * spec.ultimate_strength_pa;
    if spec.strength_pa > most_pa {
        let expected = format!("at most {most_pa:.3e} Pa for this steel");
        let remedy = "residual stress of a treatment goes into the surface, not into the strength";
        findings.push(warning("strength_pa", spec.strength_pa, &expected, remedy));
    }
    // 1 HV for each 3.2 to 3.3 MPa of ultimate strength (ISO 18265, in the mean; from memory).
    let hardness_pa = spec.ultimate_strength_pa / 3.25e6 * 9.806_65e6;
    if !(0.7..=1.4).contains(&(spec.core_hardness_pa / hardness_pa)) {
        let expected = format!("about {hardness_pa:.2e} Pa at this ultimate strength");
        let remedy = "check hardness and certificate against each other";
        findings.push(warning(
            "core_hardness_pa",
            spec.core_hardness_pa,
            &expected,
            remedy,
        ));
    }
}

fn beam(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.swing_gyration_m >= spec.half_depth_m {
        let expected = format!("less than half_depth_m, {} m", spec.half_depth_m);
        let remedy = "compute it from the section again";
        findings.push(error(
            "swing_gyration_m",
            spec.swing_gyration_m,
            &expected,
            remedy,
        ));
    }
    for (name, site) in SITE_NAMES.iter().zip(&spec.sites).take(2) {
        if site.section_m2 < 0.5 * spec.section_m2 {
            let field = format!("{name}_section_m2");
            let expected = format!("at least half of section_m2, {} m2", spec.section_m2);
            findings.push(warning(
                &field,
                site.section_m2,
                &expected,
                "measure the beam there",
            ));
        }
    }
}

fn build(spec: &Spec, findings: &mut Vec<Finding>) {
    let built = [
        (
            "build_bend_ratio",
            spec.build_bend_ratio,
            spec.limit_bend_ratio,
        ),
        (
            "build_out_of_round_m",
            spec.build_out_of_round_m,
            spec.limit_out_of_round_m,
        ),
    ];
    for (name, value, limit) in built {
        if value > limit {
            let expected = format!("at most its limit, {limit}");
            let remedy = "measure again; do not build with this rod";
            findings.push(warning(name, value, &expected, remedy));
        }
    }
}

fn profile(spec: &Spec, name: &str, site: &Site, findings: &mut Vec<Finding>) {
    let field = format!("{name}.residual_stress_pa");
    let (depth_m, stress_pa) = site.residual.columns();
    let largest = stress_pa.iter().copied().fold(
        0.0,
        |most: f64, s| if s.abs() > most.abs() { s } else { most },
    );
    // Work hardening lets residual stress pass the yield strength, hardly the ultimate.
    let most_pa = 1.2 * spec.ultimate_strength_pa;
    if largest.abs() > most_pa {
        let expected = format!("within {most_pa:.3e} Pa of 0: the steel bears no more");
        findings.push(error(
            &field,
            largest,
            &expected,
            "check sign and unit of the measurement",
        ));
    }
    let last = depth_m.iter().zip(&stress_pa).next_back();
    if let Some((&depth_m, &stress_pa)) = last
        && stress_pa < 0.2 * largest.min(0.0)
        && stress_pa < 0.0
    {
        let expected = format!(
            "a profile that goes on until compression ends; it still is {stress_pa:.2e} Pa there"
        );
        let remedy = "measure deeper: below the last depth there is taken to be none";
        findings.push(warning(
            &format!("{name}.depth_m"),
            depth_m,
            &expected,
            remedy,
        ));
    }
}

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
    findings.extend(whole_teeth(specimen));
    match Spec::read(specimen) {
        Ok(spec) => {
            limits(&spec, &mut findings);
            case(&spec, &mut findings);
            wear(&spec, &mut findings);
            root(&spec, &mut findings);
            temperature(&spec, &mut findings);
        }
        Err(wrong) => findings.extend(wrong),
    }
    findings
}

/// The spec, if nothing refuses it.
///
/// # Errors
/// Everything wrong with it.
pub fn accepted(specimen: &Specimen) -> Result<Spec, Vec<Finding>> {
    unless_refused(check(specimen), || Spec::read(specimen))
}

fn whole_teeth(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = Vec::new();
    let columns = specimen
        .tables
        .iter()
        .flat_map(|table| table.columns.iter().take(2));
    for (name, column) in ["pinion_teeth", "wheel_teeth"].iter().zip(columns) {
        for (row, teeth) in column.iter().enumerate() {
            if (teeth - teeth.round()).abs() > 1e-9 {
                let field = format!("gears.{name}[{row}]");
                findings.push(error(
                    &field,
                    *teeth,
                    "a whole number of teeth",
                    "count them",
                ));
            }
        }
    }
    findings
}

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.limit_dog_corner_m <= spec.dog_corner_m {
        findings.push(error(
            "limit_dog_corner_m",
            spec.limit_dog_corner_m,
            &format!("more than dog_corner_m, {} m, as made", spec.dog_corner_m),
            "measure the corner of a new dog",
        ));
    }
}

/// Hardness of a carburised case that the allowable stress numbers hold for \[Pa\]: 640 HV.
const LEAST_CASE_PA: f64 = 6.28e9;

fn case(spec: &Spec, findings: &mut Vec<Finding>) {
    let surfaces = [
        ("flank", spec.flank.hardness_pa),
        ("root", spec.root.hardness_pa),
    ];
    for (surface, hardness_pa) in surfaces {
        if hardness_pa < LEAST_CASE_PA {
            findings.push(warning(
                &format!("{surface}.hardness_pa"),
                hardness_pa,
                &format!("a carburised case of at least {LEAST_CASE_PA:.2e} Pa (640 HV)"),
                "the allowable stress numbers are those of case-carburised steel: enter what this steel bears",
            ));
        }
    }
}

/// A coefficient over which wear is severe, not the mild wear that the model is for.
const SEVERE: f64 = 1.0e-4;

fn wear(spec: &Spec, findings: &mut Vec<Finding>) {
    let coefficient = spec.flank.wear_coefficient_m2_n * spec.flank.hardness_pa;
    if coefficient > SEVERE {
        findings.push(warning(
            "flank.wear_coefficient_m2_n",
            spec.flank.wear_coefficient_m2_n,
            &format!("mild wear: a coefficient times hardness of at most {SEVERE:.0e}, not {coefficient:.1e}"),
            "check the unit (m2/N)",
        ));
    }
}

fn root(spec: &Spec, findings: &mut Vec<Finding>) {
    let (_, stress_pa) = spec.root.residual.columns();
    // Residual stress cannot pass the yield strength of the case, some 0.25 of its hardness.
    let most_pa = 0.25 * spec.root.hardness_pa;
    let largest = stress_pa
        .iter()
        .copied()
        .fold(0.0, |most: f64, stress: f64| {
            if stress.abs() > most.abs() {
                stress
            } else {
                most
            }
        });
    if largest.abs() > most_pa {
        findings.push(error(
            "root.residual_stress_pa",
            largest,
            &format!("within {most_pa:.2e} Pa of 0: the case bears no more"),
            "check sign and unit of the measurement",
        ));
    }
}

/// Scuffing temperature of the last load stage, with some room.
const MOST_SCUFFING_K: f64 = 690.0;

fn temperature(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.scuffing_temp_k > MOST_SCUFFING_K {
        findings.push(warning(
            "scuffing_temp_k",
            spec.scuffing_temp_k,
            "at most 690 K: scuffing tests end at load stage 12",
            "take the temperature that the oil maker states from a scuffing test",
        ));
    }
}

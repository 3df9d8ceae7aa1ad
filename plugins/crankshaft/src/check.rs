//! A spec against the card and against itself.

use ringland_mechanics::fatigue::defect::VICKERS_PA;
use ringland_mechanics::shaft::forging_strength_pa;
use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::constants::{HARDNESS_EXPONENT, REFERENCE_HARDNESS_PA, REFERENCE_WEAR_M2_N};
use crate::spec::Spec;
use crate::strength::core_hv;
use crate::stress::NotchFactors;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.engine.check());
            throws(&spec, &mut findings);
            dimensions(&spec, &mut findings);
            strength(&spec, &mut findings);
            surfaces(&spec, &mut findings);
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

fn throws(spec: &Spec, findings: &mut Vec<Finding>) {
    let (cylinders, throws) = (spec.engine.cylinders, spec.throws() as f64);
    if (cylinders - throws).abs() > 1e-9 {
        findings.push(error(
            "throws",
            throws,
            &format!("one row for each of {cylinders} cylinders"),
            "enter one firing angle for each throw, from the front; two rods on one pin are not modelled",
        ));
    }
}

/// Shortest main journal between webs \[m\].
const LEAST_JOURNAL_M: f64 = 5.0e-3;

fn dimensions(spec: &Spec, findings: &mut Vec<Finding>) {
    let least_m = spec.pin_length_m + 2.0 * spec.web_thickness_m + LEAST_JOURNAL_M;
    if spec.main_spacing_m < least_m {
        findings.push(error(
            "main_spacing_m",
            spec.main_spacing_m,
            &format!("at least {least_m:.4} m: pin, two webs and a main journal"),
            "measure between the middles of neighbouring main bearings",
        ));
    }
    if spec.bearing_length_m > spec.pin_length_m {
        findings.push(error(
            "bearing_length_m",
            spec.bearing_length_m,
            &format!("at most the pin's length, {} m", spec.pin_length_m),
            "measure the shell",
        ));
    }
    if let Err(unknown) = NotchFactors::new(spec, 0.0) {
        let field = match unknown.field {
            "diameter_ratio" => "nose_diameter_m",
            "radius_ratio" => "nose_fillet_m",
            other => other.split(' ').next().unwrap_or(other),
        };
        findings.push(error(
            field,
            unknown.value,
            &format!("{} of {}", unknown.expected, unknown.field),
            "check the dimension; stress concentration is not known outside",
        ));
    }
    if spec.damper_ring_inertia_kg_m2 < 1.0e-4 {
        findings.push(warning(
            "damper_ring_inertia_kg_m2",
            spec.damper_ring_inertia_kg_m2,
            "a damper ring of at least 1e-4 kg.m2",
            "without a damper the crank's torsional vibration has only its own damping: have it measured",
        ));
    }
}

fn strength(spec: &Spec, findings: &mut Vec<Finding>) {
    let forged = forging_strength_pa(
        1.05,
        spec.tensile_strength_pa,
        spec.pin_diameter_m,
        spec.pin_fillet_m,
    );
    match forged {
        Ok(forged_pa) if spec.strength_pa > forged_pa => findings.push(warning(
            "strength_pa",
            spec.strength_pa,
            &format!("at most {forged_pa:.3e} Pa, which the form of IACS UR M53 gives a grain-flow forging of this steel"),
            "enter the strength of the bare core; treatments belong to the fillet's surface",
        )),
        Ok(_) => {}
        Err(unknown) => findings.push(error(
            "tensile_strength_pa",
            unknown.value,
            unknown.expected,
            "check the dimension or the steel",
        )),
    }
}

fn surfaces(spec: &Spec, findings: &mut Vec<Finding>) {
    let core_pa = core_hv(spec) * VICKERS_PA;
    let fillet = &spec.fillet;
    if fillet.hardness_pa < 0.9 * core_pa {
        findings.push(warning(
            "fillet.hardness_pa",
            fillet.hardness_pa,
            &format!("about {core_pa:.3e} Pa or more, the core's by its tensile strength"),
            "check hardness against tensile strength: a softened fillet has been overheated",
        ));
    }
    if fillet.hardness_pa > 1.3 * core_pa && fillet.case_depth_m <= 0.0 {
        findings.push(warning(
            "fillet.case_depth_m",
            fillet.case_depth_m,
            "the depth of the case that a hardness so far above the core's belongs to",
            "section a sample; without a depth the hardness is not credited",
        ));
    }
    if fillet.case_depth_m > 0.5 * spec.pin_fillet_m {
        findings.push(warning(
            "fillet.case_depth_m",
            fillet.case_depth_m,
            "a case shallower than half the fillet radius",
            "check the depth; the stress gradient of the fillet is not meant for so deep a place",
        ));
    }
    let (_, stresses) = fillet.residual.columns();
    let most_pa = 1.2 * spec.tensile_strength_pa.max(fillet.hardness_pa / 3.0);
    if let Some(stress) = stresses.iter().find(|stress| stress.abs() > most_pa) {
        findings.push(warning(
            "fillet.residual_stress_pa",
            *stress,
            &format!("within {most_pa:.3e} Pa, what the steel bears"),
            "check the unit of the profile",
        ));
    }
    journal(spec, findings);
}

/// Departure of a pin's wear coefficient from what its hardness lets expect that is still taken without a word.
const WEAR_FACTOR: f64 = 5.0;

fn journal(spec: &Spec, findings: &mut Vec<Finding>) {
    let journal = &spec.journal;
    let core_pa = core_hv(spec) * VICKERS_PA;
    if journal.hardness_pa < 0.9 * core_pa {
        findings.push(warning(
            "journal.hardness_pa",
            journal.hardness_pa,
            &format!("about {core_pa:.3e} Pa or more, the core's by its tensile strength"),
            "a soft journal has been overheated: crack check, and test its hardness again",
        ));
    }
    let softer = REFERENCE_HARDNESS_PA / journal.hardness_pa;
    let usual = REFERENCE_WEAR_M2_N * libm::pow(softer, HARDNESS_EXPONENT);
    let off = journal.wear_coefficient_m2_n / usual;
    if !(1.0 / WEAR_FACTOR..=WEAR_FACTOR).contains(&off) {
        findings.push(warning(
            "journal.wear_coefficient_m2_n",
            journal.wear_coefficient_m2_n,
            &format!("about {usual:.1e} m2/N for this hardness, within a factor of {WEAR_FACTOR}"),
            "check hardness and wear coefficient against each other",
        ));
    }
    if journal.ra_m > spec.limit_journal_ra_m {
        findings.push(warning(
            "journal.ra_m",
            journal.ra_m,
            &format!("at most {} m", spec.limit_journal_ra_m),
            "polish the journals",
        ));
    }
}

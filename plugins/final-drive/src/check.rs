//! A spec against the card and against itself.

use ringland_mechanics::contact::line_contact;
use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::gears::{DRIVE, Gears};
use crate::spec::{Face, Spec};

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            limits(&spec, &mut findings);
            roughness(&spec, &mut findings);
            face("pinion_flank", &spec.pinion, &mut findings);
            face("ring_flank", &spec.ring, &mut findings);
            match Gears::new(&spec) {
                Ok(gears) => stresses(&spec, &gears, &mut findings),
                Err(wrong) => findings.extend(wrong),
            }
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

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.backlash_room_m() < LEAST_ROOM_M {
        findings.push(error(
            "limit_backlash_m",
            spec.limit_backlash_m,
            &format!(
                "at least {LEAST_ROOM_M} m over the backlash as set, {} m",
                spec.backlash_m
            ),
            "set the backlash closer, or check the limit",
        ));
    }
}

/// Least backlash that a pair must be able to gain \[m\].
const LEAST_ROOM_M: f64 = 1.0e-5;

fn stresses(spec: &Spec, gears: &Gears, findings: &mut Vec<Finding>) {
    let flank = &gears.flanks[DRIVE];
    let torque_n_m = spec.rated_torque_n_m;
    let contact_pa = flank.contact_stress_pa(spec, torque_n_m);
    if contact_pa > STATIC_CONTACT * spec.contact_limit_pa {
        findings.push(warning(
            "rated_torque_n_m",
            torque_n_m,
            &format!(
                "a contact stress of at most {STATIC_CONTACT} of the strength, not {:.2}",
                contact_pa / spec.contact_limit_pa
            ),
            "check torque, diameter and face: such flanks yield",
        ));
    }
    let [pinion_pa, ring_pa] = flank.root_stress_pa(spec, torque_n_m);
    let root = pinion_pa.max(ring_pa) / spec.root_limit_pa;
    if root > STATIC_ROOT {
        findings.push(warning(
            "rated_torque_n_m",
            torque_n_m,
            &format!("a root stress of at most {STATIC_ROOT} of the strength, not {root:.2}"),
            "check torque, module and face: such teeth break within a few launches",
        ));
    }
    let load_n_m = spec.load_factor()
        * flank
            .contact
            .middle_load_n_m(flank.normal_per_torque * torque_n_m);
    let hertz = line_contact(
        load_n_m,
        flank.contact.radius_m,
        spec.effective_modulus_pa(),
    );
    let least_m = CASE_DEPTHS * hertz.shear_depth_m;
    for (surface, face) in [("pinion_flank", &spec.pinion), ("ring_flank", &spec.ring)] {
        if face.case_depth_m < least_m {
            findings.push(warning(
                &format!("{surface}.case_depth_m"),
                face.case_depth_m,
                &format!("at least {least_m:.2e} m, twice the depth of the largest shear"),
                "check the case depth: a case too thin is crushed, which the model does not know",
            ));
        }
    }
}

/// Contact stress over strength that hardened flanks stand for few passes: the static end of their line.
const STATIC_CONTACT: f64 = 1.6;
/// The same of roots.
const STATIC_ROOT: f64 = 2.5;
/// Case over the depth of the largest shear. Common practice, no source.
const CASE_DEPTHS: f64 = 2.0;

fn roughness(spec: &Spec, findings: &mut Vec<Finding>) {
    let number = spec.rough(1.0).roughness_number();
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "pinion_flank.asperity_density_per_m2",
            spec.asperity_density_per_m2,
            &format!("density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"),
            "change radius and density with the roughness: a finer surface has rounder or denser summits",
        ));
    }
}

/// A coefficient over which wear is severe, not the mild wear that the model is for.
const SEVERE: f64 = 1.0e-4;
/// 58 HRC, about 653 HV \[Pa\].
const CASE_HARDNESS_PA: f64 = 6.4e9;

fn face(surface: &str, face: &Face, findings: &mut Vec<Finding>) {
    let coefficient = face.wear_coefficient_m2_n * face.hardness_pa;
    if coefficient > SEVERE {
        findings.push(warning(
            &format!("{surface}.wear_coefficient_m2_n"),
            face.wear_coefficient_m2_n,
            &format!("mild wear: a coefficient times hardness of at most {SEVERE:.0e}, not {coefficient:.1e}"),
            "check the unit (m2/N)",
        ));
    }
    if face.hardness_pa < CASE_HARDNESS_PA {
        findings.push(warning(
            &format!("{surface}.hardness_pa"),
            face.hardness_pa,
            &format!("a case-hardened flank, {CASE_HARDNESS_PA:.1e} Pa (58 HRC) or more"),
            "lower the strength against pitting to that of the material",
        ));
    }
}

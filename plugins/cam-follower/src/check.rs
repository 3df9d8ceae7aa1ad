//! A spec against the card and against itself.

use ringland_engine::valvetrain::ROLLER;
use ringland_mechanics::contact::line_contact;
use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::spec::{Face, Spec};

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.train.check());
            roller(&spec, &mut findings);
            pressure(&spec, &mut findings);
            roughness(&spec, &mut findings);
            wear("lobe", &spec.lobe, &mut findings);
            wear("follower_face", &spec.follower, &mut findings);
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

fn roller(spec: &Spec, findings: &mut Vec<Finding>) {
    let bore_m = 2.0 * spec.roller_bore_radius_m;
    let outer_m = 2.0 * spec.train.follower_radius_m;
    if spec.train.follower_option == ROLLER && bore_m > 0.9 * outer_m {
        findings.push(error(
            "roller_bore_m",
            bore_m,
            &format!("at most nine tenths of the roller's diameter of {outer_m} m"),
            "enter the bore in which the needles run",
        ));
    }
}

/// The spring alone at full lift: the pressure of a slow engine.
fn pressure(spec: &Spec, findings: &mut Vec<Finding>) {
    let train = &spec.train;
    let spring_n = train.seat_load_n + train.spring.rate_n_m() * train.lift.largest_m();
    let (start_rad, span_rad) = train.lift.span_rad();
    let nose = (0..=180)
        .map(|step| {
            train
                .lift
                .at(start_rad + span_rad * f64::from(step) / 180.0)
        })
        .max_by(|a, b| a.lift_m.total_cmp(&b.lift_m))
        .unwrap_or_default();
    let radius_m = train.contact(&nose, 1.0).equivalent_radius_m.max(1.0e-4);
    let load_n_m = spec.line_load_factor * train.rocker_ratio * spring_n / spec.contact_width_m;
    let pressure_pa = line_contact(load_n_m, radius_m, spec.rough(1.0).modulus_pa).peak_pressure_pa;
    if pressure_pa > 2.5e9 {
        findings.push(warning(
            "contact_width_m",
            spec.contact_width_m,
            &format!(
                "a Hertz pressure of at most 2.5 GPa at the nose of a slow engine, not {:.2} GPa",
                1.0e-9 * pressure_pa
            ),
            "check width, spring and ratio: such a lobe yields",
        ));
    }
}

fn roughness(spec: &Spec, findings: &mut Vec<Finding>) {
    let number = spec.rough(1.0).roughness_number();
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "lobe.asperity_density_per_m2",
            spec.asperity_density_per_m2,
            &format!("density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"),
            "change radius and density with the roughness: a finer surface has rounder or denser summits",
        ));
    }
}

/// A coefficient over which wear is severe, not the mild wear that the model is for.
const SEVERE: f64 = 1.0e-4;

fn wear(surface: &str, face: &Face, findings: &mut Vec<Finding>) {
    let coefficient = face.wear_coefficient_m2_n * face.hardness_pa;
    if coefficient > SEVERE {
        findings.push(warning(
            &format!("{surface}.wear_coefficient_m2_n"),
            face.wear_coefficient_m2_n,
            &format!("mild wear: a coefficient times hardness of at most {SEVERE:.0e}, not {coefficient:.1e}"),
            "check the unit (m2/N)",
        ));
    }
}

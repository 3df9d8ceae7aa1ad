//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::operating_map::layer;
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
            surfaces(&spec, &mut findings);
            feed(&spec, &mut findings);
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

fn geometry(spec: &Spec, findings: &mut Vec<Finding>) {
    let ratio = spec.film_width_m / spec.journal_diameter_m;
    if !(0.15..=1.5).contains(&ratio) {
        findings.push(error(
            "film_width_m",
            spec.film_width_m,
            "0.15 to 1.5 of the journal's diameter",
            "enter the width of the running surface and the diameter of the same journal",
        ));
    }
    let relative = spec.diametral_clearance_m / spec.journal_diameter_m;
    if !(4.0e-4..=3.0e-3).contains(&relative) {
        findings.push(error(
            "diametral_clearance_m",
            spec.diametral_clearance_m,
            "0.0004 to 0.003 of the journal's diameter",
            "check the unit; practice is about 0.001 of the diameter",
        ));
    }
    if 2.0 * spec.feed_radius_m > 2.0 * spec.engine.stroke_m {
        findings.push(error(
            "feed_radius_m",
            spec.feed_radius_m,
            "a radius, not above the stroke",
            "enter half of the main journal's diameter",
        ));
    }
    let lining_m = spec.overlay_thickness_m + spec.shell.coating_thickness_m;
    if spec.limit_wear_m > lining_m {
        findings.push(error(
            "limit_wear_m",
            spec.limit_wear_m,
            &format!("at most the overlay with its coating, {lining_m:.2e} m"),
            "no shell may wear through to its lining",
        ));
    }
}

fn surfaces(spec: &Spec, findings: &mut Vec<Finding>) {
    let contact = spec.contact(1.0);
    if 8.0 * contact.sigma_m > spec.clearance_m() {
        findings.push(error(
            "shell.rq_m",
            spec.shell.rq_m,
            "a composite roughness of at most an eighth of the radial clearance",
            "check the unit of roughness and clearance",
        ));
    }
    let number = contact.roughness_number();
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "shell.asperity_density_per_m2",
            spec.shell.asperity_density_per_m2,
            &format!(
                "density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"
            ),
            "keep the default radius and density unless both were measured",
        ));
    }
}

/// Pressure that common practice has at rated speed must reach the journal.
fn feed(spec: &Spec, findings: &mut Vec<Finding>) {
    let speed = spec.engine.rated_speed_rad_s;
    let filled = layer(spec, speed, 5.0e5);
    if filled < 0.5 {
        findings.push(warning(
            "feed_radius_m",
            spec.feed_radius_m,
            &format!("a gap filled by 5 bar at rated speed; this one holds {filled:.2} clearances"),
            "check feed_radius_m and rated_speed_rad_s; such a crank needs more pressure or another feed",
        ));
    }
}

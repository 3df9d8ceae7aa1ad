//! A spec against the card and against itself.

use std::f64::consts::PI;

use ringland_mechanics::rolling_bearing::Cleaning;
use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::operating_map::highest_static_share;
use crate::spec::{Build, Place, Spec};

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            geometry(&spec, &mut findings);
            setting(&spec, &mut findings);
            gears(&spec, &mut findings);
            if findings.is_empty() {
                strength(&spec, &mut findings);
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

/// Smallest contact angle of a set pair \[rad\].
const LEAST_ANGLE_RAD: f64 = 0.15;

fn geometry(spec: &Spec, findings: &mut Vec<Finding>) {
    for (bearing, name) in spec.bearings.iter().zip(["a", "b"]) {
        let ring_m = bearing.elements.round() * bearing.element_m;
        if ring_m > PI * bearing.pitch_m * 0.99 {
            findings.push(error(
                &format!("{name}_elements"),
                bearing.elements,
                &format!(
                    "at most {:.1} of that diameter on that pitch circle",
                    PI * bearing.pitch_m * 0.99 / bearing.element_m
                ),
                "count again, measure element and pitch diameter",
            ));
        }
        if bearing.element_m > 0.45 * bearing.pitch_m {
            findings.push(error(
                &format!("{name}_element_m"),
                bearing.element_m,
                &format!(
                    "at most {:.4} m, 0.45 of the pitch diameter",
                    0.45 * bearing.pitch_m
                ),
                "measure element and pitch diameter again",
            ));
        }
        if spec.build.paired() && bearing.contact_angle_rad < LEAST_ANGLE_RAD {
            findings.push(error(
                &format!("{name}_contact_angle_rad"),
                bearing.contact_angle_rad,
                &format!("at least {LEAST_ANGLE_RAD} rad for bearings set against each other"),
                "take the angle from the bearing's list, or choose another kind",
            ));
        }
        if bearing.fatigue_limit_n > 0.25 * bearing.static_rating_n {
            findings.push(error(
                &format!("{name}_fatigue_limit_n"),
                bearing.fatigue_limit_n,
                &format!(
                    "at most {:.0} N, a quarter of C0",
                    0.25 * bearing.static_rating_n
                ),
                "about C0/22 for balls, C0/8.2 for rollers",
            ));
        }
    }
}

fn setting(spec: &Spec, findings: &mut Vec<Finding>) {
    if !spec.build.paired() && spec.play_m < 0.0 {
        findings.push(error(
            "play_m",
            spec.play_m,
            "0 or more: radial clearance of bearings that are not set against each other",
            "give the clearance left in service, fits and heat taken off",
        ));
    }
    let greased = spec.cleaning == Cleaning::Grease;
    if greased && spec.place != Place::Hub {
        findings.push(warning(
            "lubrication",
            "grease",
            "oil for a place in a gearbox or final drive",
            "oil washes grease out: choose how the oil is kept clean",
        ));
    }
    if spec.place == Place::Hub && !spec.build.paired() {
        findings.push(error(
            "kind",
            if spec.build == Build::DeepGroove {
                "deep_groove"
            } else {
                "cylindrical"
            },
            "a set pair for a wheel hub",
            "choose angular_ball or taper",
        ));
    }
}

fn gears(spec: &Spec, findings: &mut Vec<Finding>) {
    for (row, pair) in spec.gears.windows(2).enumerate() {
        if pair[1].ratio >= pair[0].ratio {
            findings.push(error(
                "gears",
                format!("row {}: ratio {}", row + 1, pair[1].ratio).as_str(),
                "ratios that fall from gear to gear",
                "give the gears in order, first gear first",
            ));
        }
    }
}

/// Least static safety at full torque or in a hard corner: common practice, no source.
const LEAST_SAFETY: f64 = 0.8;

fn strength(spec: &Spec, findings: &mut Vec<Finding>) {
    match highest_static_share(spec) {
        Ok(share) if share * LEAST_SAFETY > 1.0 => findings.push(warning(
            "a_static_rating_n",
            1.0 / share,
            &format!(
                "a static safety of at least {LEAST_SAFETY} at full torque or in a corner of 1.2 g"
            ),
            "check geometry and ratings of both bearings: this load dents raceways in every turn",
        )),
        Ok(_) => {}
        Err(found) => {
            findings.push(error(
                found.field,
                found.value,
                found.expected,
                "measure the bearing again",
            ));
        }
    }
}

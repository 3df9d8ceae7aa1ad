//! A spec against the card and against itself.

use ringland_mechanics::guide::WornDepths;
use ringland_plugin::{
    Finding, Severity, Specimen, check_against_card, error, unless_refused, warning,
};

use crate::card;
use crate::constants as c;
use crate::heat;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.train.check());
            let before = findings.len();
            sizes(&spec, &mut findings);
            limits(&spec, &mut findings);
            surfaces(&spec, &mut findings);
            // Heat and press fit of a guide that cannot be built say nothing.
            if findings[before..]
                .iter()
                .all(|found| found.severity != Severity::Error)
            {
                hot(&spec, &mut findings);
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

/// Least wall of a guide or a boss over its inside.
const LEAST_WALL: f64 = 1.1;

fn sizes(spec: &Spec, findings: &mut Vec<Finding>) {
    let own = &spec.own;
    let walls = [
        (
            "guide_outer_m",
            own.guide_outer_m,
            spec.bore_diameter_m(),
            "bore",
        ),
        ("boss_outer_m", own.boss_outer_m, own.guide_outer_m, "guide"),
    ];
    for (field, outer_m, inner_m, name) in walls {
        let least_m = LEAST_WALL * inner_m;
        if outer_m < least_m {
            let expected = format!("at least {least_m:.4} m, 1.1 times the {name}");
            findings.push(error(field, outer_m, &expected, "measure both again"));
        }
    }
    let lift_m = spec.train.lift.largest_m();
    if own.tip_overhang_m <= lift_m {
        findings.push(error(
            "tip_overhang_m",
            own.tip_overhang_m,
            &format!("more than the lift of {lift_m:.4} m: the retainer would meet the guide"),
            "measure from the guide's top to the tip with the valve closed",
        ));
    }
    let sigma_m = spec.oil.sigma_m;
    if own.clearance_m < 6.0 * sigma_m {
        findings.push(error(
            "clearance_m",
            own.clearance_m,
            &format!(
                "at least six times the composite roughness, {:.2e} m",
                6.0 * sigma_m
            ),
            "a stem this tight cannot slide",
        ));
    }
}

fn limits(spec: &Spec, findings: &mut Vec<Finding>) {
    let own = &spec.own;
    if own.limit_clearance_m <= own.clearance_m {
        findings.push(error(
            "limit_clearance_m",
            own.limit_clearance_m,
            &format!("more than the clearance as built, {} m", own.clearance_m),
            "measure the clearance again; fit a new guide",
        ));
    }
    let bell = spec.bell_mouth(0.0);
    let new_m = bell.wobble_m(&WornDepths::default(), own.gauge_below_m + c::WOBBLE_LIFT_M);
    if own.limit_wobble_m <= new_m {
        findings.push(error(
            "limit_wobble_m",
            own.limit_wobble_m,
            &format!("more than the wobble of the new guide, {new_m:.2e} m"),
            "check where wobble is measured (gauge_below_m), or set the limit for that place",
        ));
    }
}

fn surfaces(spec: &Spec, findings: &mut Vec<Finding>) {
    let number = spec.bore.wear_coefficient_m2_n * spec.bore.hardness_pa;
    let (least, most) = c::USUAL_WEAR;
    if !(least..=most).contains(&number) {
        findings.push(warning(
            "bore.wear_coefficient_m2_n",
            spec.bore.wear_coefficient_m2_n,
            &format!(
                "times the hardness {least:.0e} to {most:.0e}, not {number:.1e}: a guide with oil"
            ),
            "fit it to this shop's teardowns; a bench coefficient is no substitute",
        ));
    }
    if spec.pair_rank < c::POOR_RANK {
        findings.push(warning(
            "guide_alloy",
            spec.alloy.name,
            &format!("a pair of rank {} or better, not {}", c::POOR_RANK, spec.pair_rank),
            "this pair galls easily (common practice, no source): coat the stem or choose another alloy",
        ));
    }
}

fn hot(spec: &Spec, findings: &mut Vec<Finding>) {
    let own = &spec.own;
    let heat = heat::full_load(spec);
    let hot_m = heat::hot_clearance_m(spec, &heat);
    let least_m = own.limit_hot_clearance_m;
    if hot_m < least_m {
        let expected = format!(
            "a clearance that leaves at least {least_m:.1e} m at full load, where the stem is {:.0} K at the guide's bottom: it leaves {hot_m:.1e} m",
            heat.stem_bottom_k
        );
        let remedy = "open the guide: a tight stem sticks and the valve meets the piston";
        // A stem larger than its guide cannot run; a tight one may by the maker's own minimum.
        findings.push(if hot_m <= 0.0 {
            error("clearance_m", own.clearance_m, &expected, remedy)
        } else {
            warning("clearance_m", own.clearance_m, &expected, remedy)
        });
    }
    let press_pa = spec
        .pressed()
        .pressure_pa(heat.bore_bottom_k - c::COLD_K, heat.boss_k - c::COLD_K);
    if press_pa <= 0.0 {
        findings.push(warning(
            "interference_m",
            own.interference_m,
            "an interference that holds the guide at full load",
            "a guide that comes loose walks out of the head: press it tighter",
        ));
    }
}

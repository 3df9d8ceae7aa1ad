//! A spec against the card and against itself.

use ringland_mechanics::spring::wire::torsional_strength_pa;
use ringland_plugin::{Finding, Specimen, check_against_card, error, unless_refused, warning};

use crate::card;
use crate::constants::LEAST_CLEARANCE_M;
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
            stress(&spec, &mut findings);
            wire(&spec, &mut findings);
            profile(&spec, &mut findings);
            build(&spec, &mut findings);
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

/// Without surge the spring must stand its full lift.
fn stress(spec: &Spec, findings: &mut Vec<Finding>) {
    let spring = &spec.train.spring;
    let open_n = spec.train.seat_load_n + spring.rate_n_m() * spec.train.lift.largest_m();
    let stress_pa = spring.shear_stress_pa(open_n);
    let most_pa = torsional_strength_pa(spec.state.tensile_pa);
    if stress_pa >= most_pa {
        let expected = format!(
            "a shear stress at full lift below {most_pa:.3e} Pa, 0.67 of the tensile strength; {open_n:.0} N give {stress_pa:.3e} Pa"
        );
        let remedy = "measure wire and coil again; check lift, seat load and the wire's strength";
        findings.push(error("wire_m", spring.wire_m, &expected, remedy));
    }
}

fn wire(spec: &Spec, findings: &mut Vec<Finding>) {
    let state = &spec.state;
    // 1 HV for each 3.2 to 3.3 MPa of tensile strength (ISO 18265, in the mean; from memory).
    let hardness_pa = state.tensile_pa / 3.25e6 * 9.806_65e6;
    if !(0.75..=1.35).contains(&(state.core_hardness_pa / hardness_pa)) {
        let expected = format!("about {hardness_pa:.2e} Pa at this tensile strength");
        let remedy = "check hardness and certificate against each other";
        let field = "core_hardness_pa";
        findings.push(warning(field, state.core_hardness_pa, &expected, remedy));
    }
    if spec.wire.sensitivities()[0] > 0.6 {
        let expected = "less than 0.6 of the ultimate strength in torsion";
        let remedy = "residual stress of a treatment goes into the surface, not into the strength";
        findings.push(warning("strength_pa", state.strength_pa, expected, remedy));
    }
    if state.surface_hardness_pa < 0.9 * state.core_hardness_pa {
        let expected = format!(
            "at least nine tenths of the core's {:.2e} Pa",
            state.core_hardness_pa
        );
        let remedy = "decarburised wire: do not build with it";
        let field = "wire_surface.hardness_pa";
        findings.push(warning(field, state.surface_hardness_pa, &expected, remedy));
    }
}

fn profile(spec: &Spec, findings: &mut Vec<Finding>) {
    let field = "wire_surface.residual_stress_pa";
    let residual = &spec.state.residual;
    if residual.is_empty() {
        let expected = "a profile over depth: race springs are peened";
        let remedy = "have it measured, or take it from the peener's process; without one the spring counts as not peened";
        findings.push(warning(field, "none", expected, remedy));
        return;
    }
    let (depth_m, stress_pa) = residual.columns();
    let largest_pa = stress_pa
        .iter()
        .fold(0.0, |most: f64, pa| most.max(pa.abs()));
    if largest_pa > 0.85 * spec.state.tensile_pa {
        let expected = format!("at most {:.2e} Pa either way", 0.85 * spec.state.tensile_pa);
        findings.push(error(
            field,
            largest_pa,
            &expected,
            "check unit and sign; measure it again",
        ));
    }
    if stress_pa.first().is_some_and(|pa| *pa > 0.0) {
        let expected = "compression at the surface";
        let remedy = "check the sign: tension is positive and lets cracks start";
        findings.push(warning(field, stress_pa[0], expected, remedy));
    }
    let last_pa = stress_pa.last().copied().unwrap_or(0.0);
    if last_pa < -0.25 * largest_pa {
        let expected = "a profile that goes on until the compression is gone";
        let remedy =
            "measure deeper: below its last node the wire counts as free of residual stress";
        findings.push(warning(
            "wire_surface.depth_m",
            depth_m[depth_m.len() - 1],
            expected,
            remedy,
        ));
    }
}

fn build(spec: &Spec, findings: &mut Vec<Finding>) {
    if spec.coil_clearance_m < LEAST_CLEARANCE_M {
        let expected = format!("at least {LEAST_CLEARANCE_M} m (common practice, no source)");
        let remedy = "measure solid length and lift; another spring or installed height";
        findings.push(warning(
            "coil_clearance_m",
            spec.coil_clearance_m,
            &expected,
            remedy,
        ));
    }
    let limit = spec.limit_seat_load_loss_fraction;
    if spec.alarm_seat_load_loss_fraction > limit {
        let expected = format!("at most the limit, {limit}");
        findings.push(warning(
            "alarm_seat_load_loss_fraction",
            spec.alarm_seat_load_loss_fraction,
            &expected,
            "let the alarm come before the limit",
        ));
    }
}

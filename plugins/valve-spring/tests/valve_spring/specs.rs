//! What is refused, and what is told of a spec.

use ringland_plugin::Model;
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::spec::{NUMBERS, Spec};
use ringland_trials::{engine, laws, with};

use crate::springs::{delivered, delivered_spec, fine_spec, moderate_spec};

#[test]
fn nothing_is_wrong_with_the_demo_springs() {
    for specimen in [delivered_spec(), fine_spec(), moderate_spec()] {
        laws::nothing_is_wrong::<ValveSpring>(&specimen);
    }
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<ValveSpring>();
}

/// The train's own numbers come first and are pinned where they are read.
#[test]
fn numbers_are_read_in_order() {
    assert_eq!(ValveSpring::card().numbers.len(), NUMBERS);
    let read = |specimen: &ringland_plugin::Specimen| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<ValveSpring, Spec>(
        read,
        &[
            ("wire_m", |s| s.train.spring.wire_m),
            ("seat_load_n", |s| s.train.seat_load_n),
            ("ultimate_strength_pa", |s| s.state.tensile_pa),
            ("strength_pa", |s| s.state.strength_pa),
            ("slope", |s| s.state.slope),
            ("strength_scatter", |s| s.strength_scatter),
            ("core_hardness_pa", |s| s.state.core_hardness_pa),
            ("inclusion_root_area_m", |s| s.state.inclusion_root_area_m),
            ("coil_clearance_m", |s| s.coil_clearance_m),
            ("relaxation_fraction", |s| s.relaxation.lost_share),
            ("relaxation_activation_j_mol", |s| {
                s.relaxation.activation_j_mol
            }),
            ("relaxation_stress_exponent", |s| {
                s.relaxation.stress_exponent
            }),
            ("hysteresis_fraction", |s| s.hysteresis_fraction),
            ("heat_transfer_w_m2_k", |s| s.heat_transfer_w_m2_k),
            ("limit_seat_load_loss_fraction", |s| {
                s.limit_seat_load_loss_fraction
            }),
            ("alarm_seat_load_loss_fraction", |s| {
                s.alarm_seat_load_loss_fraction
            }),
            ("wire_surface.ra_m", |s| s.state.ra_m),
            ("wire_surface.hardness_pa", |s| s.state.surface_hardness_pa),
        ],
    );
}

#[test]
fn a_spec_is_checked_against_itself() {
    let spec = delivered_spec();
    let told = |name: &str, value: f64, expected: &[&str]| {
        laws::findings_are::<ValveSpring>(&with::<ValveSpring>(&spec, name, value), expected);
    };
    told("wire_m", 2.9e-3, &["seat_load_n", "wire_m"]);
    told("core_hardness_pa", 4.0e9, &["core_hardness_pa"]);
    told("strength_pa", 8.9e8, &["strength_pa"]);
    told(
        "wire_surface.hardness_pa",
        5.0e9,
        &["wire_surface.hardness_pa"],
    );
    told("coil_clearance_m", 0.5e-3, &["coil_clearance_m"]);
    told(
        "alarm_seat_load_loss_fraction",
        0.2,
        &["alarm_seat_load_loss_fraction"],
    );
}

#[test]
fn a_profile_is_checked() {
    let with_profile = |change: &dyn Fn(&mut Vec<f64>, &mut Vec<f64>)| {
        let mut specimen = delivered_spec();
        let wire = &mut specimen.surfaces[0];
        change(&mut wire.depth_m, &mut wire.residual_stress_pa);
        specimen
    };
    let stress = "wire_surface.residual_stress_pa";
    let none = with_profile(&|depth, pa| {
        depth.clear();
        pa.clear();
    });
    laws::findings_are::<ValveSpring>(&none, &[stress]);
    let turned = with_profile(&|_, pa| pa.iter_mut().for_each(|pa| *pa = -*pa));
    laws::findings_are::<ValveSpring>(&turned, &[stress]);
    let large = with_profile(&|_, pa| pa.iter_mut().for_each(|pa| *pa *= 3.0));
    laws::findings_are::<ValveSpring>(&large, &[stress]);
    let cut = with_profile(&|depth, pa| {
        depth.truncate(6);
        pa.truncate(6);
    });
    laws::findings_are::<ValveSpring>(&cut, &["wire_surface.depth_m"]);
}

#[test]
fn bad_calls_are_refused() {
    let event =
        engine::with_over_rev::<ValveSpring>(&engine::event::<ValveSpring>(), 1.0, 9000.0, 50.0);
    laws::bad_duty_is_refused(delivered(), &event);
    laws::bad_requests_are_refused(delivered(), &event);
    laws::bad_conditions_and_maps_are_refused(delivered(), &event);
}

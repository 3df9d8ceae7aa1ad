//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::{mechanism, reading, slot};
use ringland_plugin_axle_shaft::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with, with_all};

use crate::scenario::{bare, event, treated, untreated};

#[test]
fn the_default_and_the_treated_spec_have_nothing_wrong() {
    laws::nothing_is_wrong::<AxleShaft>(&untreated());
    laws::nothing_is_wrong::<AxleShaft>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(AxleShaft::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("body_diameter_m", |s| s.body.diameter_m),
        ("bore_m", |s| s.body.bore_m),
        ("body_length_m", |s| s.body.length_m),
        ("torque_share", |s| s.torque_share),
        ("spline_module_m", |s| s.spline.module_m),
        ("spline_teeth", |s| s.spline.teeth),
        ("spline_root_m", |s| s.spline.root_radius_m),
        ("spline_length_m", |s| s.spline.length_m),
        ("spline_bearing_share", |s| s.spline.bearing_share),
        ("groove_diameter_m", |s| s.groove_diameter_m),
        ("groove_depth_m", |s| s.groove_depth_m),
        ("groove_radius_m", |s| s.groove_radius_m),
        ("groove_torque_share", |s| s.groove_torque_share),
        ("shoulder_diameter_m", |s| s.shoulder_diameter_m),
        ("shoulder_radius_m", |s| s.shoulder_radius_m),
        ("ultimate_strength_pa", |s| s.ultimate_strength_pa),
        ("shear_yield_pa", |s| s.body.shear_yield_pa),
        ("shear_modulus_pa", |s| s.body.shear_modulus_pa),
        ("hardening_ratio", |s| s.body.hardening_ratio),
        ("strength_pa", |s| s.strength_pa),
        ("slope", |s| s.slope),
        ("strength_scatter", |s| s.strength_scatter),
        ("preset_torque_n_m", |s| s.preset_torque_n_m),
        ("first_gear_ratio", |s| s.first_gear_ratio),
        ("final_drive_ratio", |s| s.final_drive_ratio),
        ("grip_torque_n_m", |s| s.grip_torque_n_m),
        ("dynamic_factor", |s| s.dynamic_factor),
        ("build_runout_m", |s| s.build_runout_m),
        ("limit_twist_rad", |s| s.limit_twist_rad),
        ("limit_pins_m", |s| s.limit_pins_m),
        ("limit_runout_m", |s| s.limit_runout_m),
        ("spline.ra_m", |s| s.finishes[0].ra_m),
        ("spline.boundary_friction", |s| s.friction),
        ("spline.wear_coefficient_m2_n", |s| s.wear_m2_n),
        ("body.ra_m", |s| s.finishes[1].ra_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<AxleShaft, _>(read, entries);
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_readings_and_mechanisms_stand_where_they_are_read() {
    let card = AxleShaft::card();
    for (name, index) in [
        ("spline_surface_damage", 0),
        ("spline_core_damage", 1),
        ("groove_surface_damage", 2),
        ("shoulder_surface_damage", 4),
        ("highest_torque_n_m", slot::HIGHEST),
        ("highest_reverse_torque_n_m", slot::REVERSE),
        ("spline_set_pa", slot::SET),
        ("shoulder_set_pa", slot::SET + 2),
        ("flank_wear_m", slot::WEAR),
        ("launches", slot::LAUNCHES),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("twist_rad", reading::TWIST),
        ("pins_loss_m", reading::PINS),
        ("runout_m", reading::RUNOUT),
        ("highest_torque_n_m", reading::HIGHEST),
        ("yield_share", reading::YIELD_SHARE),
        ("spline_set_pa", reading::SPLINE_SET),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    for (name, index) in [
        ("spline_fatigue", mechanism::SPLINE),
        ("groove_fatigue", mechanism::GROOVE),
        ("shoulder_fatigue", mechanism::SHOULDER),
        ("twist", mechanism::TWIST),
        ("spline_wear", mechanism::WEAR),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(card.mechanisms.len(), mechanism::COUNT);
    assert_eq!(card.component_type, "axle_shaft");
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("spline_root_m", 0.7e-3),
        ("spline_teeth", 30.5),
        ("groove_diameter_m", 0.034),
        ("shear_yield_pa", 1.1e9),
        ("strength_pa", 6.5e8),
        ("preset_torque_n_m", 1.9e4),
        ("build_runout_m", 5.0e-4),
    ];
    let specimen = with_all::<AxleShaft>(&untreated(), &changes);
    let names = changes.map(|(name, _)| name);
    let findings = laws::findings_are::<AxleShaft>(&specimen, &names);
    let strength = &findings[4];
    assert_eq!(strength.severity, Severity::Warning);
    let hard = with_all::<AxleShaft>(&untreated(), &[("dynamic_factor", 2.5)]);
    laws::findings_are::<AxleShaft>(&hard, &["body_diameter_m"]);
    let tube = with::<AxleShaft>(&untreated(), "bore_m", 0.026);
    laws::findings_are::<AxleShaft>(&tube, &["bore_m", "body_diameter_m"]);
    for (name, value) in [
        ("shoulder_diameter_m", 0.0295),
        ("shoulder_radius_m", 9.0e-3),
    ] {
        let specimen = with::<AxleShaft>(&untreated(), name, value);
        laws::findings_are::<AxleShaft>(&specimen, &[name]);
    }
}

/// A measured profile that no steel bears, and one that stops while it is still in compression.
#[test]
fn impossible_profiles_are_named() {
    let mut torn = untreated();
    torn.surfaces[0].depth_m = vec![0.0];
    torn.surfaces[0].residual_stress_pa = vec![2.5e9];
    torn.surfaces[1].depth_m = vec![0.0, 5.0e-5];
    torn.surfaces[1].residual_stress_pa = vec![-5.0e8, -6.0e8];
    laws::findings_are::<AxleShaft>(&torn, &["spline.residual_stress_pa", "body.depth_m"]);
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(bare(), &event());
}

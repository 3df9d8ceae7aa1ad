//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_piston_pin::PistonPin;
use ringland_plugin_piston_pin::spec::{NUMBERS, Spec};
use ringland_trials::{engine, fields, laws, with_all};

use crate::scenario::{coated, event, event_with, plain, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    laws::nothing_is_wrong::<PistonPin>(&untreated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(PistonPin::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("piston_and_pin_mass_kg", |s| s.piston_and_pin_mass_kg),
        ("pin_outer_m", |s| s.pin.outer_m),
        ("boss_length_m", |s| s.pin.boss_length_m),
        ("oil_patch_m", |s| s.oil_patch_m),
        ("bush_modulus_pa", |s| s.bush_modulus_pa),
        ("pin_strength_pa", |s| s.pin_line.strength_pa()),
        ("pin_slope", |s| s.pin_line.slope()),
        ("limit_bush_clearance_m", |s| s.limit_bush_clearance_m),
        ("limit_scuff_w_m2", |s| s.limit_scuff_w_m2),
        ("pin.rq_m", |s| s.pin_rq_m),
        ("pin.boundary_friction", |s| s.boundary_friction),
        ("pin.wear_coefficient_m2_n", |s| s.pin_wear.0),
        ("pin.coating_thickness_m", |s| s.coating_m),
        ("bush.wear_coefficient_m2_n", |s| s.bush_wear.0),
        ("bush.asperity_radius_m", |s| s.summit_radius_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<PistonPin, _>(read, entries);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("pin_inner_m", 0.017),
        ("pin_length_m", 0.050),
        ("piston_and_pin_mass_kg", 0.9),
        ("oil_patch_m", 0.03),
        ("limit_bush_clearance_m", 10e-6),
        ("pin_tensile_pa", 0.51e9),
        ("bush.asperity_density_per_m2", 1.0e12),
    ];
    let specimen = with_all::<PistonPin>(&untreated(), &changes);
    let expected = [
        "pin_inner_m",
        "pin_length_m",
        "piston_and_pin_mass_kg",
        "oil_patch_m",
        "limit_bush_clearance_m",
        "bush.asperity_density_per_m2",
        "pin_strength_pa",
    ];
    let findings = laws::findings_are::<PistonPin>(&specimen, &expected);
    assert_eq!(findings[5].severity, Severity::Warning);
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<PistonPin>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_input_is_refused(plain(), &event);
}

/// Far off the map the answer stays sound and says so; so do knock and heat.
#[test]
fn extremes_are_answered_with_a_note() {
    let mut extreme = event_with("knock_level", 50.0);
    extreme.points[0][0] = 2400.0;
    extreme.points[1][0] = 4000.0;
    extreme.points[1][1] = -900.0;
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 20);
    let notes = fields(&forecast.notes);
    for field in ["event", "event.knock_level", "pin_crack"] {
        assert!(notes.contains(&field), "{field}");
    }
}

/// A new bush starts anew; the pin keeps what it has seen.
#[test]
fn a_new_bush_keeps_the_pin() {
    let used = coated().after(&event());
    let renewed = coated().rework(&used, "new_bush");
    assert_eq!(renewed[0], 0.0);
    assert_eq!(renewed[1..], used[1..]);
}

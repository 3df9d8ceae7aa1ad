//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_piston::Piston;
use ringland_plugin_piston::spec::{NUMBERS, Spec};
use ringland_trials::{Record, engine, fields, laws, with_all};

use crate::scenario::{event, event_with, plain, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    laws::nothing_is_wrong::<Piston>(&untreated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(Piston::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("piston_mass_kg", |s| s.piston_mass_kg),
        ("skirt_clearance_m", |s| s.skirt_clearance_m),
        ("skirt_oil_film_m", |s| s.skirt_oil_film_m),
        ("ring_thickness_m", |s| s.ring_thickness_m),
        ("third_land_share", |s| s.third_land_share),
        ("jet_cooling_k", |s| s.jet_cooling_k),
        ("hardness_pa", |s| s.hardness_pa),
        ("boss_strength_pa", |s| s.boss_line.strength_pa()),
        ("boss_slope", |s| s.boss_line.slope()),
        ("bore_modulus_pa", |s| s.bore_modulus_pa),
        ("limit_side_clearance_m", |s| s.limit_side_clearance_m),
        ("limit_pin_bore_m", |s| s.limit_pin_bore_m),
        ("top_groove.rpk_m", |s| s.top_groove.rpk_m),
        ("second_groove.wear_coefficient_m2_n", |s| {
            s.second_groove.wear_m2_n
        }),
        ("skirt.boundary_friction", |s| s.skirt.boundary_friction),
        ("skirt_coat.coating_thickness_m", |s| {
            s.skirt_coat_thickness_m
        }),
        ("skirt_coat.wear_coefficient_m2_n", |s| {
            s.skirt_coat.wear_m2_n
        }),
        ("bore.rq_m", |s| s.bore_rq_m),
        ("pin_boss.wear_coefficient_m2_n", |s| s.pin_bore_wear_m2_n),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<Piston, _>(read, entries);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("limit_side_clearance_m", 0.04e-3),
        ("piston_mass_kg", 0.9),
        ("third_land_share", 0.5),
        ("soft_hardness_pa", 0.8e9),
        ("hardness_pa", 0.7e9),
        ("skirt_coat.coating_thickness_m", 40e-6),
        ("skirt.asperity_density_per_m2", 1.0e12),
    ];
    let specimen = with_all::<Piston>(&untreated(), &changes);
    let expected = [
        "skirt_clearance_m",
        "limit_side_clearance_m",
        "piston_mass_kg",
        "third_land_share",
        "soft_hardness_pa",
        "skirt.asperity_density_per_m2",
    ];
    let findings = laws::findings_are::<Piston>(&specimen, &expected);
    assert_eq!(findings[5].severity, Severity::Warning);
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<Piston>(&event(), 3.0, 9500.0, 300.0);
    let event = Record::edit::<Piston>(&event).shock("knock_burst", &[5.0, 4.0, 400.0]);
    laws::bad_input_is_refused(plain(), &event.duty());
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
    for field in [
        "event",
        "event.knock_level",
        "groove_temp_k",
        "micro_welding_index",
    ] {
        assert!(notes.contains(&field), "{field}");
    }
}

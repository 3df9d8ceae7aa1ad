//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::card::slot;
use ringland_plugin_cylinder_bore::spec::{NUMBERS, Spec};
use ringland_trials::{engine, fields, laws, with_all};

use crate::scenario::{duty, event, plain, treated, untreated};

#[test]
fn the_specs_of_the_scenario_have_nothing_wrong() {
    laws::nothing_is_wrong::<CylinderBore>(&untreated());
    laws::nothing_is_wrong::<CylinderBore>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(CylinderBore::card().numbers.len(), NUMBERS);
    assert_eq!(CylinderBore::card().condition.len(), slot::COUNT);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.rings.pack.bore_m),
        ("oil_pole_k", |s| s.rings.pack.oil.pole_k),
        ("clearance_m", |s| s.clearance_m),
        ("shift_m", |s| s.shift_m),
        ("thrust_share", |s| s.thrust_share),
        ("limit_taper_m", |s| s.limit_taper_m),
        ("limit_roundness_m", |s| s.limit_roundness_m),
        ("limit_oil_retention_m", |s| s.limit_oil_retention_m),
        ("limit_clearance_growth_m", |s| s.limit_clearance_growth_m),
        ("limit_removed_m", |s| s.limit_removed_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<CylinderBore, _>(read, entries);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("top_gap_m", 0.15e-3),
        ("bore.rpk_m", 0.03e-6),
        ("shift_m", 8.0e-5),
    ];
    let specimen = with_all::<CylinderBore>(&untreated(), &changes);
    let findings = laws::findings_are::<CylinderBore>(&specimen, &changes.map(|change| change.0));
    assert_eq!(findings[0].severity, Severity::Error);
    assert_eq!(findings[2].severity, Severity::Warning);
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<CylinderBore>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_input_is_refused(plain(), &event);
}

/// Far off the map the answer stays sound and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let mut extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    extreme.mates = vec![1.0];
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(fields(&forecast.notes).contains(&"event"));
}

//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_ring_pack::RingPack;

use ringland_plugin_ring_pack::spec::{NUMBERS, Spec};
use ringland_trials::{engine, fields, laws, with_all};

use crate::scenario::{duty, event, plain, treated, untreated};

#[test]
fn the_specs_of_the_scenario_have_nothing_wrong() {
    laws::nothing_is_wrong::<RingPack>(&untreated());
    laws::nothing_is_wrong::<RingPack>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(RingPack::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.rings.pack.bore_m),
        ("rod_length_m", |s| s.rings.pack.rod_length_m),
        ("top_width_m", |s| s.rings.pack.rings[0].width_m),
        ("top_tension_n", |s| s.rings.pack.rings[0].tension_n),
        ("top_gap_m", |s| s.rings.pack.top_gap_m),
        ("second_crown_offset_m", |s| {
            s.rings.pack.rings[1].crown_offset_m
        }),
        ("second_gap_m", |s| s.rings.pack.second_gap_m),
        ("oil_ring_tension_n", |s| {
            2.0 * s.rings.pack.rings[2].tension_n
        }),
        ("rail_crown_radius_m", |s| {
            s.rings.pack.rings[2].crown_radius_m
        }),
        ("minimum_gap_m", |s| s.rings.minimum_gap_m),
        ("land_clearance_m", |s| s.rings.pack.land_clearance_m),
        ("piston_tilt_rad", |s| s.rings.pack.piston_tilt_rad),
        ("full_load_imep_pa", |s| s.rings.pack.full_load_imep_pa),
        ("groove_rise_k", |s| s.rings.pack.groove_rise_k),
        ("oil_pole_k", |s| s.rings.pack.oil.pole_k),
        ("limit_gap_growth_m", |s| s.limit_gap_growth_m),
        ("limit_contact_band_fraction", |s| {
            s.limit_contact_band_fraction
        }),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<RingPack, _>(read, entries);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("top_gap_m", 0.15e-3),
        ("second_gap_m", 0.32e-3),
        ("rod_length_m", 0.09),
        ("top_thickness_m", 6.5e-3),
    ];
    let specimen = with_all::<RingPack>(&untreated(), &changes);
    let expected = ["top_gap_m", "second_gap_m", "rod_length_m", "top_tension_n"];
    let findings = laws::findings_are::<RingPack>(&specimen, &expected);
    assert!(findings[0].remedy.contains("seize"));
    assert_eq!(findings[3].severity, Severity::Warning);
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<RingPack>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_input_is_refused(plain(), &event);
}

/// Far off the map the answer stays sound and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(fields(&forecast.notes).contains(&"event"));
}

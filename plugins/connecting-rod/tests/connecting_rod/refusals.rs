//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_connecting_rod::ConnectingRod;
use ringland_plugin_connecting_rod::card::{mechanisms, reading, slot};
use ringland_plugin_connecting_rod::spec::{NUMBERS, Spec};
use ringland_trials::{engine, laws, with_all};

use crate::scenario::{event, plain, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    laws::nothing_is_wrong::<ConnectingRod>(&untreated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(ConnectingRod::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("small_end_mass_kg", |s| s.small_end_mass_kg),
        ("cap_mass_kg", |s| s.cap_mass_kg),
        ("section_m2", |s| s.section_m2),
        ("swing_gyration_m", |s| s.swing_gyration_m),
        ("pin_gyration_m", |s| s.pin_gyration_m),
        ("half_depth_m", |s| s.half_depth_m),
        ("ultimate_strength_pa", |s| s.ultimate_strength_pa),
        ("yield_strength_pa", |s| s.yield_strength_pa),
        ("modulus_pa", |s| s.modulus_pa),
        ("core_hardness_pa", |s| s.core_hardness_pa),
        ("inclusion_root_area_m", |s| s.inclusion_root_area_m),
        ("strength_pa", |s| s.strength_pa),
        ("slope", |s| s.slope),
        ("strength_scatter", |s| s.strength_scatter),
        ("eye_section_m2", |s| s.sites[0].section_m2),
        ("eye_notch_factor", |s| s.sites[0].notch_factor),
        ("eye_fillet_m", |s| s.sites[0].fillet_m),
        ("eye_compression_share", |s| s.sites[0].compression_share),
        ("shoulder_section_m2", |s| s.sites[1].section_m2),
        ("shoulder_notch_factor", |s| s.sites[1].notch_factor),
        ("shoulder_fillet_m", |s| s.sites[1].fillet_m),
        ("spot_face_section_m2", |s| s.sites[2].section_m2),
        ("spot_face_notch_factor", |s| s.sites[2].notch_factor),
        ("spot_face_fillet_m", |s| s.sites[2].fillet_m),
        ("prying_factor", |s| s.prying_factor),
        ("build_bend_ratio", |s| s.build_bend_ratio),
        ("build_out_of_round_m", |s| s.build_out_of_round_m),
        ("limit_bend_ratio", |s| s.limit_bend_ratio),
        ("limit_out_of_round_m", |s| s.limit_out_of_round_m),
        ("limit_length_change_m", |s| s.limit_length_change_m),
        ("limit_buckling_margin", |s| s.limit_buckling_margin),
        ("limit_speed_rad_s", |s| s.limit_speed_rad_s),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<ConnectingRod, _>(read, entries);
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = ConnectingRod::card();
    assert_eq!(card.slot_index("eye_surface_damage"), Some(0));
    assert_eq!(card.slot_index("shoulder_core_damage"), Some(3));
    assert_eq!(card.slot_index("spot_face_core_damage"), Some(5));
    assert_eq!(card.slot_index("load_cycles"), Some(slot::CYCLES));
    assert_eq!(card.slot_index("highest_speed_rad_s"), Some(slot::SPEED));
    assert_eq!(
        card.slot_index("highest_compression_n"),
        Some(slot::COMPRESSION)
    );
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("bend_ratio", reading::BEND),
        ("out_of_round_m", reading::OUT_OF_ROUND),
        ("length_change_m", reading::LENGTH_CHANGE),
        ("buckling_margin", reading::BUCKLING_MARGIN),
        ("highest_speed_rad_s", reading::HIGHEST_SPEED),
        ("tension_n", reading::TENSION),
        ("eye_stress_pa", reading::EYE_STRESS),
        ("eye_start_depth_m", reading::EYE_DEPTH),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), 3);
    assert_eq!(card.channel_index("knock_level"), Some(2));
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("rod_length_m", 0.09),
        ("small_end_mass_kg", 0.6),
        ("cap_mass_kg", 0.5),
        ("yield_strength_pa", 1.3e9),
        ("strength_pa", 8.0e8),
        ("core_hardness_pa", 6.0e9),
        ("swing_gyration_m", 1.2e-2),
        ("eye_section_m2", 0.9e-4),
        ("build_bend_ratio", 1.0e-3),
    ];
    let specimen = with_all::<ConnectingRod>(&untreated(), &changes);
    let findings = laws::findings_are::<ConnectingRod>(&specimen, &changes.map(|change| change.0));
    assert_eq!(findings[4].severity, Severity::Warning);
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<ConnectingRod>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_input_is_refused(plain(), &event);
}

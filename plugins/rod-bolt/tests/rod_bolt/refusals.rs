//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::card::{mechanism, reading, slot};
use ringland_plugin_rod_bolt::spec::Spec;
use ringland_trials::{fields, laws};

use crate::scenario::{changed, duty, plain, stretched, torqued, with_missed_shift};

#[test]
fn the_default_spec_has_nothing_wrong() {
    laws::nothing_is_wrong::<RodBolt>(&stretched());
    laws::nothing_is_wrong::<RodBolt>(&torqued());
}

#[test]
fn numbers_are_read_in_card_order() {
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("exhaust_pressure_pa", |s| s.engine.exhaust_pressure_pa),
        ("bolts_per_rod", |s| s.bolts_per_rod),
        ("cap_mass_kg", |s| s.cap_mass_kg),
        ("thread_diameter_m", |s| s.thread_diameter_m),
        ("thread_pitch_m", |s| s.thread_pitch_m),
        ("shank_diameter_m", |s| s.shank_diameter_m),
        ("shank_length_m", |s| s.shank_length_m),
        ("free_thread_m", |s| s.free_thread_m),
        ("bearing_diameter_m", |s| s.bearing_diameter_m),
        ("hole_diameter_m", |s| s.hole_diameter_m),
        ("boss_diameter_m", |s| s.boss_diameter_m),
        ("load_introduction", |s| s.load_introduction),
        ("load_offset_m", |s| s.load_offset_m),
        ("edge_distance_m", |s| s.edge_distance_m),
        ("bolt_modulus_pa", |s| s.bolt_modulus_pa),
        ("rod_modulus_pa", |s| s.rod_modulus_pa),
        ("bolt_expansion_per_k", |s| s.bolt_expansion_per_k),
        ("rod_expansion_per_k", |s| s.rod_expansion_per_k),
        ("assembly_temp_k", |s| s.assembly_temp_k),
        ("yield_strength_pa", |s| s.yield_strength_pa),
        ("tensile_strength_pa", |s| s.tensile_strength_pa),
        ("tightening_stretch_m", |s| s.tightening_stretch_m),
        ("tightening_torque_n_m", |s| s.tightening_torque_n_m),
        ("specified_friction", |s| s.specified_friction),
        ("embedding_m", |s| s.embedding_m),
        ("stretch_ln_sd", |s| s.stretch_ln_sd),
        ("torque_ln_sd", |s| s.torque_ln_sd),
        ("tightenings_per_build", |s| s.tightenings_per_build),
        ("tightening_interval_s", |s| s.tightening_interval_s),
        ("redline_rad_s", |s| s.redline_rad_s),
        ("limit_permanent_stretch_m", |s| s.limit_permanent_stretch_m),
        ("limit_tightenings", |s| s.limit_tightenings),
        ("limit_over_redline", |s| s.limit_over_redline),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<RodBolt, _>(read, entries);
}

/// Outputs are filled by fixed index: the indices are those of the card.
#[test]
fn outputs_are_in_card_order() {
    let card = RodBolt::card();
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(card.mechanisms.len(), mechanism::COUNT);
    for (name, index) in [
        ("assembly_preload_n", slot::ASSEMBLY_PRELOAD),
        ("embedding_m", slot::EMBEDDING),
        ("peak_load_n", slot::PEAK_LOAD),
        ("opening_load_n", slot::OPENING_LOAD),
        ("kept_stretch_m", slot::KEPT_STRETCH),
        ("tightenings", slot::TIGHTENINGS),
        ("running_s", slot::RUNNING),
        ("highest_speed_rad_s", slot::HIGHEST_SPEED),
        ("damage_5_sd_below", slot::FIRST_DAMAGE),
        ("damage_median", slot::FIRST_DAMAGE + 5),
    ] {
        assert_eq!(card.slot_index(name), Some(index));
    }
    for (name, index) in [
        ("least_preload_n", reading::LEAST_PRELOAD),
        ("least_stretch_m", reading::LEAST_STRETCH),
        ("permanent_stretch_m", reading::PERMANENT_STRETCH),
        ("tightenings", reading::TIGHTENINGS),
        ("highest_speed_rad_s", reading::HIGHEST_SPEED),
        ("loosening_torque_n_m", reading::LOOSENING_TORQUE),
        ("damaging_preload_n", reading::DAMAGING_PRELOAD),
        ("opening_preload_n", reading::OPENING_PRELOAD),
        ("stress_use", reading::STRESS_USE),
    ] {
        assert_eq!(card.reading_index(name), Some(index));
    }
    for (name, index) in [
        ("fatigue", mechanism::FATIGUE),
        ("opening", mechanism::OPENING),
        ("stretch", mechanism::STRETCH),
        ("reuse", mechanism::REUSE),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index));
    }
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let wrong = changed(&[
        ("rod_length_m", 0.09),
        ("hole_diameter_m", 9.0e-3),
        ("cap_mass_kg", 0.5),
        ("tensile_strength_pa", 1.38e9),
        ("limit_tightenings", 2.0),
    ]);
    let expected = [
        "rod_length_m",
        "hole_diameter_m",
        "hole_diameter_m",
        "cap_mass_kg",
        "tensile_strength_pa",
        "limit_tightenings",
    ];
    let findings = RodBolt::check(wrong.clone());
    assert_eq!(fields(&findings)[..6], expected);
    assert!(RodBolt::prepare(wrong).is_err());
}

/// Too tight is refused where it yields, told where it comes near; too loose is told.
#[test]
fn a_preload_out_of_reason_is_told() {
    for (stretch_m, severity, says) in [
        (0.35e-3, Severity::Error, "yields the bolt"),
        (0.25e-3, Severity::Warning, "90 % of yield"),
        (0.10e-3, Severity::Warning, "60 to 75 %"),
        (0.05e-3, Severity::Warning, "stay closed"),
    ] {
        let findings = RodBolt::check(changed(&[("tightening_stretch_m", stretch_m)]));
        let found = findings.iter().find(|f| f.expected.contains(says));
        let found = found.unwrap_or_else(|| panic!("{stretch_m}: {findings:?}"));
        assert_eq!(
            (found.field.as_str(), found.severity),
            ("tightening_stretch_m", severity)
        );
    }
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(plain(), &with_missed_shift(9500.0));
}

/// Far off the map the answer stays sound and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(fields(&forecast.notes).contains(&"event"));
}

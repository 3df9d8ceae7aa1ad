//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_connecting_rod::ConnectingRod;
use ringland_plugin_connecting_rod::card::{mechanisms, reading, slot};
use ringland_plugin_connecting_rod::spec::{NUMBERS, Spec};

use crate::scenario::{event, plain, request, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(ConnectingRod::check(untreated()), vec![]);
}

/// The positional reading of the spec follows the card: each number changed has to arrive in its field and no other.
#[test]
fn numbers_are_read_in_card_order() {
    let card = ConnectingRod::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let index = card.number_index(name).unwrap();
        let mut specimen = untreated();
        specimen.numbers[index] *= 1.01;
        let value = of(&Spec::read(&specimen).unwrap());
        assert!(
            (value / specimen.numbers[index] - 1.0).abs() < 1e-12,
            "{name}"
        );
    };
    read("bore_m", |s| s.engine.bore_m);
    read("small_end_mass_kg", |s| s.small_end_mass_kg);
    read("cap_mass_kg", |s| s.cap_mass_kg);
    read("section_m2", |s| s.section_m2);
    read("swing_gyration_m", |s| s.swing_gyration_m);
    read("pin_gyration_m", |s| s.pin_gyration_m);
    read("half_depth_m", |s| s.half_depth_m);
    read("ultimate_strength_pa", |s| s.ultimate_strength_pa);
    read("yield_strength_pa", |s| s.yield_strength_pa);
    read("modulus_pa", |s| s.modulus_pa);
    read("core_hardness_pa", |s| s.core_hardness_pa);
    read("inclusion_root_area_m", |s| s.inclusion_root_area_m);
    read("strength_pa", |s| s.strength_pa);
    read("slope", |s| s.slope);
    read("strength_scatter", |s| s.strength_scatter);
    read("eye_section_m2", |s| s.sites[0].section_m2);
    read("eye_notch_factor", |s| s.sites[0].notch_factor);
    read("eye_fillet_m", |s| s.sites[0].fillet_m);
    read("eye_compression_share", |s| s.sites[0].compression_share);
    read("shoulder_section_m2", |s| s.sites[1].section_m2);
    read("shoulder_notch_factor", |s| s.sites[1].notch_factor);
    read("shoulder_fillet_m", |s| s.sites[1].fillet_m);
    read("spot_face_section_m2", |s| s.sites[2].section_m2);
    read("spot_face_notch_factor", |s| s.sites[2].notch_factor);
    read("spot_face_fillet_m", |s| s.sites[2].fillet_m);
    read("prying_factor", |s| s.prying_factor);
    read("build_bend_ratio", |s| s.build_bend_ratio);
    read("build_out_of_round_m", |s| s.build_out_of_round_m);
    read("limit_bend_ratio", |s| s.limit_bend_ratio);
    read("limit_out_of_round_m", |s| s.limit_out_of_round_m);
    read("limit_length_change_m", |s| s.limit_length_change_m);
    read("limit_buckling_margin", |s| s.limit_buckling_margin);
    read("limit_speed_rad_s", |s| s.limit_speed_rad_s);
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
    let card = ConnectingRod::card();
    let at = |name| card.number_index(name).unwrap();
    let mut specimen = untreated();
    specimen.numbers[at("bore_m")] = f64::NAN;
    specimen.numbers[at("slope")] = 90.0;
    let fields: Vec<String> = ConnectingRod::check(specimen)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["bore_m", "slope"]);

    let mut specimen = untreated();
    specimen.numbers[at("rod_length_m")] = 0.09;
    specimen.numbers[at("small_end_mass_kg")] = 0.6;
    specimen.numbers[at("cap_mass_kg")] = 0.5;
    specimen.numbers[at("yield_strength_pa")] = 1.3e9;
    specimen.numbers[at("strength_pa")] = 8.0e8;
    specimen.numbers[at("core_hardness_pa")] = 6.0e9;
    specimen.numbers[at("swing_gyration_m")] = 1.2e-2;
    specimen.numbers[at("eye_section_m2")] = 0.9e-4;
    specimen.numbers[at("build_bend_ratio")] = 1.0e-3;
    let findings = ConnectingRod::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "rod_length_m",
            "small_end_mass_kg",
            "cap_mass_kg",
            "yield_strength_pa",
            "strength_pa",
            "core_hardness_pa",
            "swing_gyration_m",
            "eye_section_m2",
            "build_bend_ratio"
        ]
    );
    assert_eq!(findings[4].severity, Severity::Warning);
    assert!(ConnectingRod::prepare(specimen).is_err());
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[2][1] = 1e9;
    bad.time_s[3] = -1.0;
    let (specimen, map) = (model.specimen.clone(), model.map.clone());
    let advanced = ConnectingRod::advance(specimen, map, model.begin(), vec![bad]);
    let fields: Vec<String> = advanced.unwrap_err().into_iter().map(|f| f.field).collect();
    assert_eq!(
        fields,
        [
            "duty.time_s[3]",
            "duty.engine_speed_rad_s[2]",
            "duty.knock_level[1]"
        ]
    );
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let (specimen, map) = (|| model.specimen.clone(), || model.map.clone());
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    wrong.ahead_events[0] = -1.0;
    let refused = ConnectingRod::forecast(specimen(), map(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events", "ahead_events"]);
    let mut worn = model.begin();
    worn[0] = f64::NAN;
    let advanced = ConnectingRod::advance(specimen(), map(), worn.clone(), vec![]);
    assert_eq!(
        advanced.unwrap_err()[0].field,
        "condition.eye_surface_damage"
    );
    assert!(ConnectingRod::forecast(specimen(), map(), request(worn, event())).is_err());
    let advanced = ConnectingRod::advance(specimen(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(ConnectingRod::begin(specimen(), map(), vec![None; 5]).is_err());
    let mut short = specimen();
    short.numbers.pop();
    assert!(ConnectingRod::advance(short, map(), model.begin(), vec![]).is_err());
}

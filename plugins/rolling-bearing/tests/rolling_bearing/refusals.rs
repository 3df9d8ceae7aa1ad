//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_rolling_bearing::RollingBearing;
use ringland_plugin_rolling_bearing::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_rolling_bearing::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::sets::{self, all, cleaner, event, superfinished};

#[test]
fn the_sets_that_are_tried_have_nothing_wrong() {
    for set in [sets::shaft(), sets::pinion(), sets::hub()] {
        for specimen in [superfinished(&set), cleaner(&set), set.clone()] {
            laws::nothing_is_wrong::<RollingBearing>(&specimen);
        }
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(RollingBearing::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("a_rating_n", |s| s.bearings[0].rating_n),
        ("a_roller_length_m", |s| s.bearings[0].roller_length_m),
        ("b_static_rating_n", |s| s.bearings[1].static_rating_n),
        ("b_fatigue_limit_n", |s| s.bearings[1].fatigue_limit_n),
        ("b_pitch_m", |s| s.bearings[1].pitch_m),
        ("b_element_m", |s| s.bearings[1].element_m),
        ("b_elements", |s| s.bearings[1].elements),
        ("b_contact_angle_rad", |s| s.bearings[1].contact_angle_rad),
        ("spread_m", |s| s.spread_m),
        ("play_m", |s| s.play_m),
        ("pressure_angle_rad", |s| s.pressure_angle_rad),
        ("helix_angle_rad", |s| s.helix_angle_rad),
        ("final_drive_ratio", |s| s.final_drive_ratio),
        ("pinion_pitch_m", |s| s.pinion_pitch_m),
        ("pinion_cone_rad", |s| s.pinion_cone_rad),
        ("pinion_overhang_m", |s| s.pinion_overhang_m),
        ("wheel_load_n", |s| s.wheel_load_n),
        ("lateral_transfer_kg", |s| s.lateral_transfer_kg),
        ("tyre_radius_m", |s| s.tyre_radius_m),
        ("wheel_offset_m", |s| s.wheel_offset_m),
        ("impact_mass_kg", |s| s.impact_mass_kg),
        ("full_torque_n_m", |s| s.full_torque_n_m),
        ("grip_torque_n_m", |s| s.grip_torque_n_m),
        ("viscosity_40c_m2_s", |s| s.oil.viscosity_m2_s(313.15)),
        ("cleanliness_code", |s| s.cleanliness_code),
        ("temp_rise_k", |s| s.temp_rise_k),
        ("limiting_speed_rad_s", |s| s.limiting_speed_rad_s),
        ("drag_friction", |s| s.drag_friction),
        ("limit_play_growth_m", |s| s.limit_play_growth_m),
        ("limit_dent", |s| s.limit_dent),
        ("raceway.wear_coefficient_m2_n", |s| s.wear_m2_n),
    ];
    laws::numbers_are_read_in_order::<RollingBearing, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = RollingBearing::card();
    for (name, index) in [
        ("play_growth_m", slot::GROWTH),
        ("a_fatigue", slot::FATIGUE),
        ("b_fatigue", slot::FATIGUE + 1),
        ("spall_hazard", slot::SPALL),
        ("a_dented", slot::DENTED),
        ("b_dented", slot::DENTED + 1),
        ("deepest_dent", slot::DEEPEST),
        ("dents", slot::DENTS),
        ("grease_dose", slot::GREASE),
        ("cage_hazard", slot::CAGE),
        ("turns", slot::TURNS),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("play_growth_m", reading::GROWTH),
        ("preload_n", reading::PRELOAD),
        ("preload_drag_n_m", reading::DRAG),
        ("fatigue_sum", reading::FATIGUE),
        ("deepest_dent", reading::DENT),
        ("grease_dose", reading::GREASE),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    assert_eq!(card.mechanism_index("cage"), Some(mechanism::CAGE));
    assert_eq!(card.mechanism_index("dents"), Some(mechanism::DENTS));
}

#[test]
fn bad_input_is_refused() {
    for set in all() {
        laws::bad_input_is_refused(set, &event());
    }
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("a_elements", 30.0),
        ("b_element_m", 0.03),
        ("b_fatigue_limit_n", 9.0e3),
        ("play_m", -10.0e-6),
    ];
    let mut specimen = with_all::<RollingBearing>(&sets::shaft(), &changes);
    specimen.choices[2] = 2;
    specimen.tables[0].columns[0][3] = 1.7;
    let named = [
        "a_elements",
        "b_elements",
        "b_element_m",
        "b_fatigue_limit_n",
        "play_m",
        "lubrication",
        "gears",
    ];
    let findings = laws::findings_are::<RollingBearing>(&specimen, &named);
    assert_eq!(findings[0].severity, Severity::Error);
    assert_eq!(findings[5].severity, Severity::Warning);
    let thin = with_all::<RollingBearing>(&sets::shaft(), &[("viscosity_100c_m2_s", 90.0e-6)]);
    laws::findings_are::<RollingBearing>(&thin, &["viscosity_100c_m2_s"]);
    let mut plain = sets::hub();
    plain.choices[1] = 3;
    plain.numbers[17] = 0.0;
    laws::findings_are::<RollingBearing>(&plain, &["kind"]);
    let weak = with_all::<RollingBearing>(&sets::shaft(), &[("a_static_rating_n", 4.0e3)]);
    laws::findings_are::<RollingBearing>(&weak, &["a_static_rating_n"]);
    let flat = with_all::<RollingBearing>(&sets::pinion(), &[("a_contact_angle_rad", 0.05)]);
    laws::findings_are::<RollingBearing>(&flat, &["a_contact_angle_rad"]);
}

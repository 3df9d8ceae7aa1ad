//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_gear_set::GearSet;
use ringland_plugin_gear_set::card::{mechanism, mechanisms, reading, shock};
use ringland_plugin_gear_set::condition::{SCUFF, slot};
use ringland_plugin_gear_set::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::boxes::{event, ground, peened, plain, superfinished};

#[test]
fn the_boxes_that_are_tried_have_nothing_wrong() {
    for specimen in [
        ground(),
        superfinished(),
        peened(&ground()),
        peened(&superfinished()),
    ] {
        laws::nothing_is_wrong::<GearSet>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(GearSet::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("module_m", |s| s.rack.module_m),
        ("pressure_angle_rad", |s| s.rack.pressure_angle_rad),
        ("helix_angle_rad", |s| s.rack.helix_angle_rad),
        ("addendum", |s| s.rack.addendum),
        ("dedendum", |s| s.rack.dedendum),
        ("root_radius", |s| s.rack.root_radius),
        ("centre_distance_m", |s| s.centre_distance_m),
        ("contact_strength_pa", |s| s.contact_strength_pa),
        ("root_strength_pa", |s| s.root_strength_pa),
        ("contact_strength_scatter", |s| s.contact_strength_scatter),
        ("root_strength_scatter", |s| s.root_strength_scatter),
        ("application_factor", |s| s.application_factor),
        ("face_load_factor", |s| s.face_load_factor),
        ("transverse_load_factor", |s| s.transverse_load_factor),
        ("base_pitch_deviation_m", |s| s.deviations.base_pitch_m),
        ("profile_deviation_m", |s| s.deviations.profile_m),
        ("tip_relief_m", |s| s.deviations.tip_relief_m),
        ("oil_factor_pa_s", |s| s.oil.factor_pa_s),
        ("oil_slope_k", |s| s.oil.slope_k),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("pressure_viscosity_per_pa", |s| s.pressure_viscosity_per_pa),
        ("oil_friction_factor", |s| s.oil_friction_factor),
        ("supply_factor", |s| s.supply_factor),
        ("scuffing_temp_k", |s| s.scuffing_temp_k),
        ("dog_inertia_kg_m2", |s| s.dog_inertia_kg_m2),
        ("dog_wear_m_j", |s| s.dog_wear_m_j),
        ("dog_speed_share", |s| s.dog_speed_share),
        ("dog_corner_m", |s| s.dog_corner_m),
        ("limit_dog_corner_m", |s| s.limit_dog_corner_m),
        ("backlash_m", |s| s.backlash_m),
        ("limit_backlash_growth_m", |s| s.limit_backlash_growth_m),
        ("flank.ra_m", |s| s.flank.ra_m),
        ("flank.hardness_pa", |s| s.flank.hardness_pa),
        ("flank.wear_coefficient_m2_n", |s| {
            s.flank.wear_coefficient_m2_n
        }),
        ("root.ra_m", |s| s.root.ra_m),
        ("root.hardness_pa", |s| s.root.hardness_pa),
    ];
    laws::numbers_are_read_in_order::<GearSet, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = GearSet::card();
    for (name, index) in [
        ("gear_1_pinion_pitting", slot::PITTING),
        ("gear_1_wheel_pitting", slot::PITTING + 1),
        ("gear_2_pinion_root", slot::OF_GEAR + slot::ROOT),
        ("gear_2_wheel_root", slot::OF_GEAR + slot::ROOT + 1),
        ("gear_3_dog_wear_m", 2 * slot::OF_GEAR + slot::DOG),
        (
            "gear_6_backlash_growth_m",
            5 * slot::OF_GEAR + slot::BACKLASH,
        ),
        ("scuff_severity", SCUFF),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("pitting_sum", reading::PITTING),
        ("root_sum", reading::ROOT),
        ("scuff_severity", reading::SCUFF),
        ("dog_corner_m", reading::DOG_CORNER),
        ("backlash_m", reading::BACKLASH),
        ("contact_temp_k", reading::CONTACT_TEMP),
        ("film_ratio", reading::FILM),
        ("gear_4_pitting_sum", reading::GEAR_PITTING + 3),
        ("gear_6_root_sum", reading::GEAR_ROOT + 5),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    assert_eq!(card.mechanism_index("dog_wear"), Some(mechanism::DOG));
    assert_eq!(card.shock_index("launch"), Some(shock::LAUNCH));
    assert_eq!(card.shock_index("shift"), Some(shock::SHIFT));
    assert_eq!(card.operation_index("gear_1_renewed"), Some(2));
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(plain(), &event());
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("limit_dog_corner_m", 2.0e-4),
        ("flank.hardness_pa", 5.0e9),
        ("root.hardness_pa", 5.0e9),
        ("flank.wear_coefficient_m2_n", 5.0e-14),
        ("scuffing_temp_k", 700.0),
    ];
    let specimen = with_all::<GearSet>(&ground(), &changes);
    let names: Vec<&str> = changes.iter().map(|change| change.0).collect();
    let findings = laws::findings_are::<GearSet>(&specimen, &names);
    assert_eq!(findings[0].severity, Severity::Error);
}

/// Every pair that does not mesh is named by its row, and teeth are whole.
#[test]
fn pairs_that_do_not_mesh_are_refused() {
    let mut specimen = ground();
    specimen.tables[0].columns[0][1] = 17.5;
    specimen.tables[0].columns[1][3] = 40.0;
    specimen.tables[0].columns[3][0] = 1.3;
    laws::findings_are::<GearSet>(
        &specimen,
        &[
            "gears.pinion_teeth[1]",
            "gears.pinion_shift[0]",
            "gears.pinion_teeth[3]",
        ],
    );
}

//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_dry_clutch::DryClutch;
use ringland_plugin_dry_clutch::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_dry_clutch::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::clutches::{carbon, coated, event, organic, sintered, usual};

#[test]
fn the_clutches_that_are_tried_have_nothing_wrong() {
    for specimen in [sintered(), coated(), organic(), carbon()] {
        laws::nothing_is_wrong::<DryClutch>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(DryClutch::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("outer_diameter_m", |s| 2.0 * s.face.outer_m),
        ("inner_diameter_m", |s| 2.0 * s.face.inner_m),
        ("pad_share", |s| s.pad_share),
        ("lining_m", |s| s.lining_m),
        ("core_m", |s| s.core_m),
        ("floater_m", |s| s.floater_m),
        ("pressure_plate_m", |s| s.pressure_plate_m),
        ("flywheel_m", |s| s.flywheel_m),
        ("hot_band_factor", |s| s.hot_band_factor),
        ("side_imbalance", |s| s.side_imbalance),
        ("clamp_n", |s| s.clamp_n),
        ("diaphragm_height_m", |s| s.diaphragm.height_m),
        ("diaphragm_thickness_m", |s| s.diaphragm.thickness_m),
        ("diaphragm_deflection_m", |s| s.diaphragm.deflection_m),
        ("finger_ratio", |s| s.finger_ratio),
        ("engine_torque_n_m", |s| s.engine_torque_n_m),
        ("driven_inertia_kg_m2", |s| s.driveline.driven_kg_m2),
        ("load_inertia_kg_m2", |s| s.driveline.load_kg_m2),
        ("driveline_stiffness_n_m", |s| s.driveline.stiffness_n_m),
        ("driveline_damping_n_m_s", |s| s.driveline.damping_n_m_s),
        ("cooling_w_m2_k", |s| s.cooling_w_m2_k),
        ("cooled_area_m2", |s| s.cooled_area_m2),
        ("housing_rise_k", |s| s.housing_rise_k),
        ("spline_radius_m", |s| s.spline_radius_m),
        ("spline_area_m2", |s| s.spline_area_m2),
        ("axis_offset_m", |s| s.axis_offset_m),
        ("limit_stack_wear_m", |s| s.limit_stack_wear_m),
        ("limit_cone_m", |s| s.limit_cone_m),
        ("limit_finger_m", |s| s.limit_finger_m),
        ("limit_plate_k", |s| s.limit_plate_k),
        ("limit_spline_wear_m", |s| s.limit_spline_wear_m),
        ("friction_face.boundary_friction", |s| s.friction),
        ("friction_face.friction_slope_s_m", |s| s.slope_s_m),
        ("friction_face.wear_coefficient_m2_n", |s| s.wear_m2_n),
        ("friction_face.running_in_multiplier", |s| s.running_in),
        ("lugs.wear_coefficient_m2_n", |s| s.spline_wear_m2_n),
        ("lugs.coating_thickness_m", |s| s.coating_m),
    ];
    laws::numbers_are_read_in_order::<DryClutch, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = DryClutch::card();
    for (name, index) in [
        ("stack_wear_m", slot::STACK_WEAR),
        ("glaze_dose", slot::GLAZE),
        ("floater_set", slot::FLOATER_SET),
        ("pressure_plate_set", slot::PLATE_SET),
        ("heat_check_damage", slot::HEAT_CHECK),
        ("spline_wear_m", slot::SPLINE_WEAR),
        ("slip_energy_j", slot::ENERGY),
        ("hottest_plate_k", slot::HOTTEST),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("stack_wear_m", reading::STACK_WEAR),
        ("cone_m", reading::CONE),
        ("finger_shift_m", reading::FINGER),
        ("capacity_n_m", reading::CAPACITY),
        ("heat_check_m", reading::HEAT_CHECK),
        ("hottest_plate_k", reading::HOTTEST),
        ("judder_index", reading::JUDDER),
        ("spline_wear_m", reading::SPLINE_WEAR),
        ("clamp_n", reading::CLAMP),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(
        (card.condition.len(), card.readings.len()),
        (slot::COUNT, reading::COUNT)
    );
    for (name, index) in [
        ("stack_wear", mechanism::STACK_WEAR),
        ("capacity", mechanism::CAPACITY),
        ("warp", mechanism::WARP),
        ("heat_cracks", mechanism::HEAT_CRACKS),
        ("splines", mechanism::SPLINES),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    assert_eq!(card.shock_index("launch"), Some(0));
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<DryClutch>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("discs", 2.4),
        ("inner_diameter_m", 0.139),
        ("clamp_n", 2500.0),
        ("diaphragm_deflection_m", 1.0e-3),
        ("limit_stack_wear_m", 5.0e-3),
    ];
    let specimen = with_all::<DryClutch>(&sintered(), &changes);
    let names: Vec<&str> = changes.iter().map(|change| change.0).collect();
    let findings = laws::findings_are::<DryClutch>(&specimen, &names);
    assert!(
        findings
            .iter()
            .filter(|found| found.severity == Severity::Error)
            .count()
            >= 4
    );
}

/// What is odd but possible is a warning.
#[test]
fn a_weak_clutch_is_warned_of() {
    let specimen = with_all::<DryClutch>(&sintered(), &[("clamp_n", 5000.0)]);
    let findings = laws::findings_are::<DryClutch>(&specimen, &["clamp_n"]);
    assert_eq!(findings[0].severity, Severity::Warning);
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    laws::bad_duty_is_refused(usual(), &event());
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(usual(), &event());
    laws::bad_conditions_and_maps_are_refused(usual(), &event());
}

//! What is refused, and how it says so.

use ringland_engine::OIL_NUMBERS;
use ringland_engine::valvetrain::NUMBERS;
use ringland_plugin::{Model, Severity};
use ringland_plugin_cam_follower::CamFollower;
use ringland_plugin_cam_follower::card::{mechanism, mechanisms, reading, shock};
use ringland_plugin_cam_follower::spec::{OWN_NUMBERS, Spec};
use ringland_plugin_cam_follower::turn::STATIONS;
use ringland_trials::{engine, laws, with_all};

use crate::trains::{
    bucket, coated, event, fine_peened, flat, heavy_roller, roller, slider, superfinished,
};

#[test]
fn the_trains_that_are_tried_have_nothing_wrong() {
    for train in [roller(), heavy_roller(), bucket(), slider()] {
        for specimen in [
            superfinished(&train),
            fine_peened(&train),
            coated(&train),
            train.clone(),
        ] {
            laws::nothing_is_wrong::<CamFollower>(&specimen);
        }
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(
        CamFollower::card().numbers.len(),
        NUMBERS + OIL_NUMBERS + OWN_NUMBERS
    );
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("rocker_ratio", |s| s.train.rocker_ratio),
        ("seat_load_n", |s| s.train.seat_load_n),
        ("oil_slope_k", |s| s.oil.slope_k),
        ("contact_width_m", |s| s.contact_width_m),
        ("line_load_factor", |s| s.line_load_factor),
        ("modulus_pa", |s| s.modulus_pa),
        ("pressure_viscosity_per_pa", |s| s.pressure_viscosity_per_pa),
        ("bulk_rise_k", |s| s.bulk_rise_k),
        ("roller_bore_m", |s| 2.0 * s.roller_bore_radius_m),
        ("needle_friction", |s| s.needle_friction),
        ("limit_lobe_wear_m", |s| s.limit_lobe_wear_m),
        ("limit_follower_wear_m", |s| s.limit_follower_wear_m),
        ("limit_lash_growth_m", |s| s.limit_lash_growth_m),
        ("limit_contact_temp_k", |s| s.limit_contact_temp_k),
        ("lobe.rq_m", |s| s.lobe.rq_m),
        ("lobe.hardness_pa", |s| s.lobe.hardness_pa),
        ("lobe.boundary_friction", |s| s.lobe.boundary_friction),
        ("lobe.wear_coefficient_m2_n", |s| {
            s.lobe.wear_coefficient_m2_n
        }),
        ("lobe.running_in_multiplier", |s| {
            s.lobe.running_in_multiplier
        }),
        ("lobe.asperity_radius_m", |s| s.asperity_radius_m),
        ("lobe.asperity_density_per_m2", |s| {
            s.asperity_density_per_m2
        }),
        ("follower_face.rq_m", |s| s.follower.rq_m),
        ("follower_face.hardness_pa", |s| s.follower.hardness_pa),
        ("follower_face.boundary_friction", |s| {
            s.follower.boundary_friction
        }),
        ("follower_face.wear_coefficient_m2_n", |s| {
            s.follower.wear_coefficient_m2_n
        }),
        ("follower_face.running_in_multiplier", |s| {
            s.follower.running_in_multiplier
        }),
        ("follower_face.coating_thickness_m", |s| {
            s.coating_thickness_m
        }),
    ];
    laws::numbers_are_read_in_order::<CamFollower, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = CamFollower::card();
    for (name, index) in [
        ("lobe_wear_1_m", 0),
        ("lobe_wear_11_m", STATIONS - 1),
        ("lobe_pitting_1", STATIONS),
        ("follower_wear_m", 2 * STATIONS),
        ("follower_pitting", 2 * STATIONS + 1),
        ("scuff_severity", 2 * STATIONS + 2),
        ("lash_growth_m", 2 * STATIONS + 3),
        ("cam_turns", 2 * STATIONS + 4),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("lobe_wear_m", reading::LOBE_WEAR),
        ("lift_loss_m", reading::LIFT_LOSS),
        ("follower_wear_m", reading::FOLLOWER_WEAR),
        ("lash_growth_m", reading::LASH_GROWTH),
        ("lobe_pitting_sum", reading::LOBE_PITTING),
        ("follower_pitting_sum", reading::FOLLOWER_PITTING),
        ("scuff_severity", reading::SCUFF),
        ("peak_pressure_pa", reading::PEAK_PRESSURE),
        ("nose_film_ratio", reading::NOSE_FILM),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    assert_eq!(card.mechanism_index("scuff"), Some(mechanism::SCUFF));
    assert_eq!(card.shock_index("over_rev"), Some(shock::OVER_REV));
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<CamFollower>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("roller_bore_m", 0.018),
        ("contact_width_m", 3.0e-3),
        ("lobe.asperity_density_per_m2", 8.0e10),
        ("lobe.wear_coefficient_m2_n", 5.0e-14),
        ("follower_face.wear_coefficient_m2_n", 5.0e-14),
    ];
    let changes = [changes.as_slice(), &[("line_load_factor", 3.0)]].concat();
    let specimen = with_all::<CamFollower>(&roller(), &changes);
    let names: Vec<&str> = changes[..5].iter().map(|change| change.0).collect();
    let findings = laws::findings_are::<CamFollower>(&specimen, &names);
    assert_eq!(findings[0].severity, Severity::Error);
    assert!(
        findings[1..]
            .iter()
            .all(|finding| finding.severity == Severity::Warning)
    );
}

/// A lift table that is no lift curve is refused by its row.
#[test]
fn a_broken_lift_table_is_refused() {
    let mut specimen = roller();
    specimen.tables[0].columns[0][40] = specimen.tables[0].columns[0][39];
    let findings = laws::findings_are::<CamFollower>(&specimen, &["lift"]);
    assert!(findings[0].value.contains("row 40"), "{findings:?}");
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    let event = engine::with_over_rev::<CamFollower>(&event(), 3.0, 9000.0, 300.0);
    laws::bad_duty_is_refused(flat(), &event);
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(flat(), &event());
    laws::bad_conditions_and_maps_are_refused(flat(), &event());
}

//! What is refused, and how it says so.

use ringland_plugin::Model;
use ringland_plugin_cv_joint::CvJoint;
use ringland_plugin_cv_joint::card::{mechanism, reading, slot};
use ringland_plugin_cv_joint::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with, with_all};

use crate::scenario::{bare, event, treated, untreated};

#[test]
fn the_default_and_the_treated_spec_have_nothing_wrong() {
    laws::nothing_is_wrong::<CvJoint>(&untreated());
    laws::nothing_is_wrong::<CvJoint>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(CvJoint::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("torque_share", |s| s.torque_share),
        ("ball_m", |s| s.joint.ball_m),
        ("pitch_radius_m", |s| s.joint.pitch_radius_m),
        ("offset_m", |s| s.joint.offset_m),
        ("pressure_angle_rad", |s| s.joint.pressure_angle_rad),
        ("conformity", |s| s.joint.conformity),
        ("capacity_n_m", |s| s.capacity_n_m),
        ("heat_transfer_w_k", |s| s.heat_transfer_w_k),
        ("grease_life_s", |s| s.grease_life_s),
        ("grease_limit_k", |s| s.grease_limit_k),
        ("window_contact_m2", |s| s.window_contact_m2),
        ("build_play_m", |s| s.build_play_m),
        ("limit_play_m", |s| s.limit_play_m),
        ("limit_window_m", |s| s.limit_window_m),
        ("limit_surface_k", |s| s.limit_surface_k),
        ("track.ra_m", |s| s.track_ra_m),
        ("track.hardness_pa", |s| s.track_hardness_pa),
        ("track.boundary_friction", |s| s.track_friction),
        ("track.wear_coefficient_m2_n", |s| s.track_wear_m2_n),
        ("ball.ra_m", |s| s.ball_ra_m),
        ("ball.hardness_pa", |s| s.ball_hardness_pa),
        ("ball.wear_coefficient_m2_n", |s| s.ball_wear_m2_n),
        ("window.boundary_friction", |s| s.window_friction),
        ("window.wear_coefficient_m2_n", |s| s.window_wear_m2_n),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<CvJoint, _>(read, entries);
}

/// Balls come whole.
#[test]
fn balls_are_counted() {
    let eight = Spec::read(&with::<CvJoint>(&untreated(), "balls", 8.0)).unwrap();
    assert!((eight.joint.balls - 8.0).abs() < 1e-12);
}

/// The oil has no field of its own: each of its two points is read where it stands.
#[test]
fn the_oil_goes_through_its_points() {
    let oil = Spec::read(&untreated()).unwrap().oil;
    assert!((oil.viscosity_m2_s(313.15) / 1.5e-4 - 1.0).abs() < 1e-9);
    assert!((oil.viscosity_m2_s(373.15) / 1.45e-5 - 1.0).abs() < 1e-9);
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_readings_and_mechanisms_stand_where_they_are_read() {
    let card = CvJoint::card();
    for (name, index) in [
        ("drive_pitting", slot::DRIVE_PITTING),
        ("coast_pitting", slot::COAST_PITTING),
        ("ball_pitting", slot::BALL_PITTING),
        ("drive_wear_m", slot::DRIVE_WEAR),
        ("coast_wear_m", slot::COAST_WEAR),
        ("ball_wear_m", slot::BALL_WEAR),
        ("window_wear_m", slot::WINDOW_WEAR),
        ("grease_dose", slot::GREASE),
        ("highest_pressure_pa", slot::PRESSURE),
        ("boot_hazard", slot::BOOT),
        ("turns", slot::TURNS),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("radial_play_m", reading::PLAY),
        ("window_wear_m", reading::WINDOW),
        ("grease_dose", reading::GREASE),
        ("surface_temp_k", reading::SURFACE),
        ("highest_pressure_pa", reading::PRESSURE),
        ("boot_tear_m", reading::BOOT_TEAR),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    for (name, index) in [
        ("pitting", mechanism::PITTING),
        ("track_wear", mechanism::WEAR),
        ("window_wear", mechanism::WINDOW),
        ("grease_life", mechanism::GREASE),
        ("indentation", mechanism::INDENTATION),
        ("boot", mechanism::BOOT),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(card.mechanisms.len(), mechanism::COUNT);
    assert_eq!(card.component_type, "cv_joint");
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("limit_play_m", 3.0e-5),
        ("build_play_m", 5.0e-5),
        ("track.ra_m", 1.2e-6),
        ("grease_limit_k", 380.0),
    ];
    let specimen = with_all::<CvJoint>(&untreated(), &changes);
    laws::findings_are::<CvJoint>(&specimen, &["limit_play_m", "track.ra_m", "grease_limit_k"]);
    for (name, value) in [
        ("balls", 6.5),
        ("ball_m", 0.033),
        ("offset_m", 0.0118),
        ("oil_100c_m2_s", 3.0e-6 * 0.5),
    ] {
        let specimen = with::<CvJoint>(&untreated(), name, value);
        laws::findings_are::<CvJoint>(&specimen, &[name]);
    }
    let thick = [("oil_40c_m2_s", 2.0e-5), ("oil_100c_m2_s", 5.0e-5)];
    let specimen = with_all::<CvJoint>(&untreated(), &thick);
    laws::findings_are::<CvJoint>(&specimen, &["oil_100c_m2_s"]);
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(bare(), &event());
}

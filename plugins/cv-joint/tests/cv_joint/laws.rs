//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model};
use ringland_plugin_cv_joint::CvJoint;
use ringland_plugin_cv_joint::card::{operation, slot};
use ringland_trials::{Record, changed, driveline, first, laws, with};

use crate::scenario::{Prepared, bare, event, smooth, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<CvJoint>().strategy()
}

fn starts(model: &Prepared) -> BoxedStrategy<Vec<f64>> {
    model.any_used(&[
        ("drive_pitting", 0.0..3.0),
        ("ball_pitting", 0.0..2.0),
        ("coast_wear_m", 0.0..1.0e-4),
        ("grease_dose", 0.0..1.0),
        ("highest_pressure_pa", 0.0..5.0e9),
    ])
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [bare(), smooth()] {
        laws::slots_follow_their_trends(model, &starts(model), &any_duty());
        laws::cut_records_add_up(model, &starts(model), &any_duty(), 1e-9);
    }
}

#[test]
fn the_order_of_records_does_not_matter() {
    laws::order_of_records_does_not_matter(bare(), &starts(bare()), &any_duty(), 1e-9);
    laws::order_within_a_record_does_not_matter(bare(), &starts(bare()), &any_duty(), 1e-9);
}

fn run(torque_n_m: f64, time_s: f64, speed_rad_s: f64, angle_rad: f64, air_k: f64) -> Vec<f64> {
    let record = Record::of::<CvJoint>(&[time_s])
        .channel("axle_torque_n_m", torque_n_m)
        .channel("wheel_speed_left_rad_s", speed_rad_s)
        .channel("wheel_speed_right_rad_s", speed_rad_s)
        .channel("joint_angle_rad", angle_rad)
        .channel("ambient_temp_k", air_k);
    bare().after(&record.duty())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More torque, time, warmer air never spare anything. (More speed or angle at a given time makes the balls roll faster on a thicker film: see below.)
    #[test]
    fn more_of_anything_never_spares(torque in 100.0..5500.0_f64, angle in 0.01..0.3_f64, more in 1.01..1.3_f64) {
        let usual = run(torque, 600.0, 80.0, angle, 298.15);
        for more in [
            run(torque * more, 600.0, 80.0, angle, 298.15),
            run(torque, 600.0 * more, 80.0, angle, 298.15),
            run(torque, 600.0, 80.0, angle, 298.15 + 20.0 * (more - 1.0)),
        ] {
            for (index, (more, usual)) in more.iter().zip(&usual).enumerate() {
                prop_assert!(*more >= usual * (1.0 - 1e-12), "{index}: {more} {usual}");
            }
        }
    }

    /// More speed for a time, or more angle, never spares tracks, grease and boot of ground tracks: their film is too thin to gain by.
    #[test]
    fn speed_and_angle_never_spare(torque in 300.0..5500.0_f64, angle in 0.02..0.25_f64, more in 1.01..1.3_f64) {
        let usual = run(torque, 600.0, 80.0, angle, 298.15);
        for more in [
            run(torque, 600.0, 80.0 * more, angle, 298.15),
            run(torque, 600.0, 80.0, angle * more, 298.15),
        ] {
            for index in [slot::DRIVE_PITTING, slot::BALL_PITTING, slot::GREASE, slot::PRESSURE, slot::BOOT] {
                prop_assert!(more[index] >= usual[index] * (1.0 - 1e-12), "{index}: {} {}", more[index], usual[index]);
            }
        }
    }

    /// The two directions of torque load the two flanks alike.
    #[test]
    fn coast_is_drive_on_the_other_flanks(torque in 100.0..3000.0_f64, angle in 0.0..0.4_f64) {
        let drive = run(torque, 600.0, 80.0, angle, 298.15);
        let coast = run(-torque, 600.0, 80.0, angle, 298.15);
        prop_assert_eq!(drive[slot::DRIVE_PITTING], coast[slot::COAST_PITTING]);
        prop_assert_eq!(drive[slot::DRIVE_WEAR], coast[slot::COAST_WEAR]);
        prop_assert_eq!(drive[slot::BALL_PITTING], coast[slot::BALL_PITTING]);
        prop_assert_eq!(coast[slot::DRIVE_PITTING], 0.0);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(bare(), &bare().after(&event()), &event());
}

/// A smaller, tighter, hotter, rougher or softer joint never lasts longer, each where it counts.
#[test]
fn a_worse_joint_never_lasts_longer() {
    let usual = bare().after(&event());
    for (name, by, index) in [
        ("capacity_n_m", 0.9, slot::DRIVE_PITTING),
        ("torque_share", 1.2, slot::DRIVE_PITTING),
        ("torque_share", 1.2, slot::DRIVE_WEAR),
        ("conformity", 1.02, slot::PRESSURE),
        ("pitch_radius_m", 0.95, slot::PRESSURE),
        ("ball_m", 0.9, slot::PRESSURE),
        ("heat_transfer_w_k", 0.8, slot::GREASE),
        ("grease_life_s", 0.8, slot::GREASE),
        ("window_contact_m2", 0.8, slot::WINDOW_WEAR),
        ("track.boundary_friction", 1.3, slot::GREASE),
        ("track.ra_m", 1.5, slot::DRIVE_WEAR),
        ("track.wear_coefficient_m2_n", 1.5, slot::DRIVE_WEAR),
        ("ball.wear_coefficient_m2_n", 1.5, slot::BALL_WEAR),
        ("window.wear_coefficient_m2_n", 1.5, slot::WINDOW_WEAR),
        ("window.boundary_friction", 1.5, slot::GREASE),
    ] {
        let worse = Prepared::new(changed::<CvJoint>(&untreated(), name, by)).after(&event());
        assert!(
            worse[index] > usual[index],
            "{name}: {} {}",
            worse[index],
            usual[index]
        );
    }
    // A softer track takes a set at a lower torque.
    let soft = bare().with(with::<CvJoint>(&untreated(), "track.hardness_pa", 5.5e9));
    let set = |model: &Prepared| {
        let forecast = model.forecast(&model.begin(), &event());
        forecast.mechanisms[4].risk_next_event
    };
    assert!(set(&soft) > 0.5 && set(bare()) < 0.05);
}

/// Play, windows and grease at exactly their limits.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let worn_m = 2.0e-4 * libm_cos(0.698);
    let worn = bare().begin_with(&[("drive_wear_m", worn_m * (1.0 + 1e-12))]);
    laws::limit_reached_leaves_no_life(bare(), "track_wear", &worn, &event(), 1.0..=1.0);
    let window = bare().begin_with(&[("window_wear_m", 1.5e-4)]);
    laws::limit_reached_leaves_no_life(bare(), "window_wear", &window, &event(), 1.0..=1.0);
    let spent = bare().begin_with(&[("grease_dose", 1.0)]);
    laws::limit_reached_leaves_no_life(bare(), "grease_life", &spent, &event(), 1.0..=1.0);
    // What is left of the spread is that from joint to joint: half have pitted, half have not.
    let pitted = bare().begin_with(&[("coast_pitting", 3.245)]);
    laws::limit_reached_leaves_no_life(bare(), "pitting", &pitted, &event(), 0.488..=0.512);
}

fn libm_cos(angle_rad: f64) -> f64 {
    angle_rad.cos()
}

/// Each operation resets what its card says and leaves the rest.
#[test]
fn operations_reset_what_they_say() {
    let used = bare().after(&event());
    let rework = |operation| {
        let (specimen, map) = (bare().specimen.clone(), bare().map.clone());
        CvJoint::rework(specimen, map, used.clone(), operation).unwrap()
    };
    let reindexed = rework(operation::REINDEXED);
    for (index, (after, before)) in reindexed.iter().zip(&used).enumerate() {
        let reset = [slot::BALL_PITTING, slot::BALL_WEAR].contains(&index);
        assert_eq!(*after, if reset { 0.0 } else { *before });
    }
    let other = rework(operation::OTHER_FLANKS);
    assert_eq!(other[slot::DRIVE_PITTING], used[slot::COAST_PITTING]);
    assert_eq!(other[slot::COAST_WEAR], used[slot::DRIVE_WEAR]);
    let greased = rework(operation::REGREASED);
    assert!(used[slot::GREASE] > 0.0 && greased[slot::GREASE] == 0.0);
    assert_eq!(greased[slot::DRIVE_WEAR], used[slot::DRIVE_WEAR]);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = bare().after(&event());
    laws::nothing_adds_nothing(bare(), &used, &driveline::duty::<CvJoint>(&[]));
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(smooth(), &event());
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let begun = bare().begin();
    for mechanism in ["pitting", "boot"] {
        laws::nearer_horizon_cuts_the_same_lives(bare(), mechanism, &begun, &event(), (45.0, 0.01));
    }
}

/// From new to past the limits.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = bare().ageing(&event(), 20, 5);
    laws::risk_agrees_with_lives(bare(), &conditions, &event(), 0.01);
}

/// Far beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let record = Record::of::<CvJoint>(&[1.0e7, 10.0])
        .column("axle_torque_n_m", &[6.0e4, -3.0e4])
        .channel("wheel_speed_left_rad_s", 600.0)
        .channel("wheel_speed_right_rad_s", 600.0)
        .channel("joint_angle_rad", 0.8)
        .channel("ambient_temp_k", 340.0)
        .cycles("axle_torque_n_m", &[[9.0e4, 1.5e4, 1.0e9]]);
    let extreme = record.shock("impact", &[0.01, 500.0]).duty();
    let forecast = laws::slots_stay_within_the_card(bare(), &bare().begin(), &extreme, 50);
    assert!(first(&forecast).iter().all(|life| *life < 1.0));
    let notes = ringland_trials::fields(&forecast.notes);
    for name in [
        "pitting",
        "track_wear",
        "window_wear",
        "grease_life",
        "indentation",
        "surface_temp_k",
        "event.joint_angle_rad",
    ] {
        assert!(notes.contains(&name), "{notes:?}");
    }
}

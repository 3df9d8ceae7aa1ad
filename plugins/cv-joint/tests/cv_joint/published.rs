//! Published values through the plugin's own code path.

use ringland_plugin_cv_joint::CvJoint;
use ringland_plugin_cv_joint::card::slot;
use ringland_plugin_cv_joint::condition::Joint;
use ringland_trials::{Record, with_all};

use crate::scenario::{Prepared, untreated};

/// Hertz contact of 5000 N on radii of 5 and 150 mm, steel of 206 GPa and 0.3: half axes 2540.464 and 286.211 um, 3283.308 MPa, worked out from elliptic integrals with a
/// general numerical library (scipy). The joint has just those radii between ball and inner track.
#[test]
fn the_contact_on_the_inner_track_is_hertzian() {
    let (ball_m, angle_rad) = (7.0e-3, 0.7_f64);
    // 1/5 − 1/7 per mm along the track; across it f/(f − 1) = 150/7.
    let reach_m = ball_m * angle_rad.cos();
    let arc_m = reach_m + angle_rad.cos() / (1.0 / 5.0e-3 - 1.0 / ball_m);
    let offset_m = 1.0e-3;
    let specimen = with_all::<CvJoint>(
        &untreated(),
        &[
            ("ball_m", 2.0 * ball_m),
            (
                "pitch_radius_m",
                (arc_m * arc_m - offset_m * offset_m).sqrt(),
            ),
            ("offset_m", offset_m),
            ("pressure_angle_rad", angle_rad),
            ("conformity", 150.0 / 143.0),
        ],
    );
    let prepared = Prepared::new(specimen);
    let joint = Joint::new(&prepared.specimen, &prepared.map).unwrap();
    let inner = joint.unit[1];
    let size = 5000.0_f64.cbrt();
    for (found, published) in [
        (inner.long_m * size, 2540.464e-6),
        (inner.short_m * size, 286.211e-6),
        (inner.peak_pressure_pa * size, 3283.308e6),
    ] {
        assert!(
            (found / published - 1.0).abs() < 1e-6,
            "{found} {published}"
        );
    }
    // And the condition holds it: the straight joint shares evenly, so 6 R sin(α) times 5000 N of torque.
    let pitch_m = joint.spec.joint.pitch_radius_m;
    let axle_n_m = 2.0 * 5000.0 * 6.0 * pitch_m * angle_rad.sin();
    let record = Record::of::<CvJoint>(&[1.0])
        .channel("axle_torque_n_m", axle_n_m)
        .channel("wheel_speed_left_rad_s", 10.0)
        .channel("wheel_speed_right_rad_s", 10.0)
        .channel("joint_angle_rad", 0.0);
    let after = prepared.after(&record.duty());
    assert!((after[slot::PRESSURE] / 3283.308e6 - 1.0).abs() < 1e-6);
}

/// Rating life of ISO 281 with p = 3: a ratio of 35.1/5 gives 345.948408 times that of a ratio of 1 (arithmetic of the formula). The straight joint's level is that of the textbook
/// formula, 470756 h at one turn a minute (from memory).
#[test]
fn rated_life_goes_with_the_cube() {
    let specimen = with_all::<CvJoint>(&untreated(), &[("capacity_n_m", 351.0)]);
    let prepared = Prepared::new(specimen);
    let speed_rad_s = 1200.0 * std::f64::consts::PI / 30.0;
    let record = Record::of::<CvJoint>(&[3600.0])
        .channel("axle_torque_n_m", 2.0 * 50.0)
        .channel("wheel_speed_left_rad_s", speed_rad_s)
        .channel("wheel_speed_right_rad_s", speed_rad_s)
        .channel("joint_angle_rad", 0.0);
    let after = prepared.after(&record.duty());
    let hours = 470_756.0 / 1200.0 * 345.948_408;
    assert!((after[slot::DRIVE_PITTING] * hours - 1.0).abs() < 1e-6);
}

//! What the model must do by its physics, worked by hand.

use ringland_mechanics::clutch::judder::{FrictionCurve, Motion, Slipping, friction_damping_n_m_s};
use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::card::{reading, slot};
use ringland_plugin_limited_slip::duty::film_lost;
use ringland_plugin_limited_slip::pack::{
    breakaway_n_m, chatter_index, lock_n_m, ramp_n, spring_n,
};
use ringland_plugin_limited_slip::plate_heat::{Grid, burst};
use ringland_plugin_limited_slip::readings::warp_m;
use ringland_trials::with_all;

use crate::differentials::{at, ground, prepared, spec, usual};

/// A wedge by hand: 2460 N.m on 45 mm ramps of 45 degrees press 27 333 N on each stack; 8 faces of friction 0.10 at 45.5 mm lock 995 N.m, 40 %.
#[test]
fn ramps_lock_as_a_wedge_and_coast_less() {
    let spec = spec(&ground());
    let force_n = ramp_n(&spec, 2460.0);
    assert!((force_n - 2460.0 / 0.09).abs() < 1e-6);
    assert!((lock_n_m(&spec, 0.10, force_n) - 994.93).abs() < 0.01);
    // tan 60 degrees
    assert!((force_n / ramp_n(&spec, -2460.0) - 3.0_f64.sqrt()).abs() < 1e-12);
}

/// Heat is the lock torque times half the difference between the wheels' speeds, summed over both sides: two clutches of half the lock torque, each at
/// half of the difference.
#[test]
fn heat_is_lock_torque_times_half_the_wheels_difference() {
    let spec = spec(&ground());
    let duty = at(1.0 / 60.0, 100.0, 2.0);
    let axle_n_m = duty.points[0][0];
    let lock_n_m = lock_n_m(&spec, 0.10, spring_n(&spec, 0.0) + ramp_n(&spec, axle_n_m));
    let energy_j = usual().after(&duty)[slot::ENERGY];
    assert!(
        (energy_j / (lock_n_m * 1.0) - 1.0).abs() < 1e-5,
        "{energy_j} {lock_n_m}"
    );
    let sides = 2.0 * (0.5 * lock_n_m) * (0.5 * 2.0);
    assert!((energy_j / sides - 1.0).abs() < 1e-5);
}

/// Wear unloads the springs along their curve: breakaway falls with every micrometre, and at twice the deflection it is gone.
#[test]
fn worn_plates_unload_the_springs() {
    let spec = spec(&ground());
    let new_n_m = breakaway_n_m(&spec, 0.0);
    assert!((85.0..95.0).contains(&new_n_m), "{new_n_m}");
    assert!(breakaway_n_m(&spec, 0.2e-3) < new_n_m);
    assert_eq!(breakaway_n_m(&spec, 2.0 * spec.spring_deflection_m), 0.0);
}

/// The wear rate is lower with worn springs, by what the springs' share of the force has lost.
#[test]
fn wear_slows_as_the_springs_give_way() {
    let duty = at(1.0, 0.0, 2.0);
    let spec = spec(&ground());
    let grown = |wear_m: f64| {
        let start = usual().begin_with(&[("stack_wear_m", wear_m)]);
        usual().then(&start, &duty)[slot::STACK_WEAR] - wear_m
    };
    let expected = spring_n(&spec, 0.4e-3) / spring_n(&spec, 0.0);
    let found = grown(0.4e-3) / grown(0.0);
    assert!((found / expected - 1.0).abs() < 2e-3, "{found} {expected}");
}

/// A long burst ends at the steady rise, flux over heat transfer; a short one at a thin plate's: flux times time over its heat capacity.
#[test]
fn bursts_lie_between_their_limits() {
    let grid = Grid {
        cells: 8,
        steps: 400,
    };
    let spec = |corner_s, cooling| {
        spec(&with_all::<LimitedSlip>(
            &ground(),
            &[("corner_s", corner_s), ("cooling_w_m2_k", cooling)],
        ))
    };
    let long = burst(&spec(30.0, 1.0e4), grid);
    assert!((long.peak * 1.0e4 - 1.0).abs() < 0.01, "{}", long.peak);
    let adiabatic = burst(&spec(3.0, 50.0), grid);
    let capacity = 1.0e-3 * 7800.0 * 490.0 + 0.3e-3 * 6000.0 * 400.0 + 0.7e-3 * 7800.0 * 490.0;
    let rise = 3.0 / capacity;
    assert!(
        (adiabatic.peak / rise - 1.0).abs() < 0.05,
        "{} {rise}",
        adiabatic.peak
    );
}

/// Modifier and ramp load: less modifier, more clamp load or less damping raise the index in proportion.
#[test]
fn chatter_goes_by_slope_load_and_damping() {
    let plain = spec(&ground());
    let stiff = spec(&with_all::<LimitedSlip>(
        &ground(),
        &[("shaft_damping_n_m_s", 2.0)],
    ));
    let index = |spec, left| chatter_index(spec, left, 0.0);
    assert!(index(&plain, 1.0) < 1.0 && index(&plain, 0.0) > 1.0);
    assert!((index(&plain, 0.0) / index(&stiff, 0.0) - 2.0).abs() < 1e-2);
    // -0.002 against -0.022 s/m
    assert!((index(&plain, 0.0) / index(&plain, 1.0) - 11.0).abs() < 1e-9);
}

/// Kingsbury's share is 1 - 1/e at its temperature; a warp's waves follow the root of the strain.
#[test]
fn film_and_warp_follow_their_laws() {
    assert!((film_lost(523.15) - (1.0 - (-1.0_f64).exp())).abs() < 1e-12);
    assert!(film_lost(383.15) < 1e-3);
    let spec = spec(&ground());
    assert!((warp_m(&spec, 4e-6) / warp_m(&spec, 1e-6) - 2.0).abs() < 1e-12);
}

/// A wheel that spins at 60 rad/s against the other under full torque for minutes heats the faces until they score.
#[test]
fn a_spinning_wheel_scores_the_plates() {
    let model = prepared(ground());
    let forecast = model.forecast(&model.begin(), &at(2.0, 400.0, 60.0));
    let flatness = &forecast.readings[reading::FLATNESS];
    assert!(
        flatness.median[1] > flatness.limit.unwrap(),
        "{:?}",
        flatness.median
    );
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
}

/// The index against the side's motion in time, whole friction curve: with modifier a vibration of the hub decays, without it grows, at the linear rates.
#[test]
fn motion_in_time_agrees_with_the_index() {
    let mut spec = spec(&ground());
    spec.side.load_kg_m2 = f64::INFINITY;
    let clamp_n = spring_n(&spec, 0.0) + ramp_n(&spec, spec.chatter_torque_n_m);
    for (left, slope_s_m) in [(1.0, -0.002), (0.0, -0.022)] {
        let clutch = Slipping {
            driveline: spec.side,
            friction: FrictionCurve {
                rest: 0.12,
                sliding: 0.12,
                fall_m_s: 0.01,
                slope_s_m,
            },
            faces: 0.5 * spec.faces,
            clamp_n,
            radius_m: spec.radius_m(),
            drive_rad_s: 0.9,
        };
        let feeds = friction_damping_n_m_s(clutch.faces, clamp_n, clutch.radius_m, slope_s_m);
        let growth_per_s = spec.side.growth_rate_per_s(feeds).unwrap();
        let start = Motion {
            twist_rad: clutch.steady_twist_rad() + 1.0e-5,
            speed_rad_s: 0.0,
        };
        let last = *clutch.run(start, 1.0e-5, 2000).last().unwrap();
        let grown =
            clutch.envelope_rad(last, growth_per_s) / clutch.envelope_rad(start, growth_per_s);
        println!(
            "growth {growth_per_s:.1} 1/s, in time {:.1} 1/s",
            grown.ln() / 0.02
        );
        assert!(
            (grown.ln() / (0.02 * growth_per_s) - 1.0).abs() < 1e-3,
            "{grown} {growth_per_s}"
        );
        assert_eq!(growth_per_s > 0.0, chatter_index(&spec, left, 0.0) > 1.0);
    }
}

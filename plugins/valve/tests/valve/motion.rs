//! Float and surge: lands harder past the limiter, and not in step with speed.

use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin_valve::Valve;
use ringland_plugin_valve::card::slot;
use ringland_plugin_valve::groove::forces_n;
use ringland_plugin_valve::maps::{Maps, turn};
use ringland_plugin_valve::spec::Spec;
use ringland_trials::engine::rad_s;
use ringland_trials::with;

use crate::scenario::{duty, exhaust, plain, prepared};

/// Wear of one turn's landings over speed rises and falls with the harmonics of the spring, and leaps when the valve floats.
#[test]
fn landings_are_not_in_step_with_speed() {
    let spec = Spec::read(&exhaust()).unwrap();
    let maps = Maps::read(&plain().map, &spec).unwrap();
    let at = |rpm: f64| maps.turn_at(rad_s(rpm), spec.train.seat_load_n).0;
    let speeds: Vec<f64> = (0..80).map(|k| 4000.0 + 50.0 * f64::from(k)).collect();
    let landings: Vec<f64> = speeds.iter().map(|rpm| at(*rpm).seating_m_s).collect();
    let falls = landings.windows(2).filter(|pair| pair[1] < pair[0]).count();
    assert!(falls >= 5, "{falls} falls");
    let (usual, floating) = (at(8000.0), at(10_500.0));
    println!(
        "landing at 8000 1/min {:.2} m/s, groove {:.0} MPa; at 10 500 {:.2} m/s, {:.0} MPa, loft {:.2} mm",
        usual.seating_m_s,
        1e-6 * usual.groove_stress_pa,
        floating.seating_m_s,
        1e-6 * floating.groove_stress_pa,
        1e3 * floating.loft_m
    );
    assert!(
        usual.seating_m_s < 0.8 && usual.loft_m < 0.02e-3,
        "{usual:?}"
    );
    assert!(
        floating.seating_m_s > 1.0 && floating.loft_m > 0.2e-3,
        "{floating:?}"
    );
    let damage = |rpm: f64| plain().after(&duty(&[(rpm, 200.0, 1.0)]))[slot::GROOVE] / rpm;
    let ratio = damage(10_500.0) / damage(8000.0);
    println!("groove damage of a floating turn over one at 8000 1/min: {ratio:.2e}");
    assert!(ratio > 100.0, "{ratio}");
}

/// Newton: while the valve is open the groove carries mass times acceleration of what hangs on it; closed, the spring; a landing adds its wave.
#[test]
fn forces_in_the_groove_are_those_of_the_motion() {
    let spec = Spec::read(&exhaust()).unwrap();
    let cycle = TrainSolver::new(&spec.train)
        .cycle(rad_s(7000.0), 400.0)
        .unwrap();
    let impact_n_s_m = spec.stem().peak_n_s_m();
    let forces = forces_n(&spec, impact_n_s_m, &cycle);
    let landings = cycle.motion.impacts_m_s.len();
    assert_eq!(forces.len(), cycle.instants.len() + 2 * landings);
    let nose = cycle
        .instants
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.point.lift_m.total_cmp(&b.1.point.lift_m))
        .unwrap();
    let pull = -0.045 * nose.1.point.acceleration_m_s2;
    assert!(pull > 0.0 && (forces[nose.0] - pull).abs() < 1e-9, "{pull}");
    assert!((forces[0] / 400.0 - 1.0).abs() < 0.3, "{}", forces[0]);
    let peak = 400.0 + impact_n_s_m * cycle.motion.seating_velocity_m_s();
    assert!((forces[cycle.instants.len()] - peak).abs() < 1e-9);
}

/// A stem that is stopped by its head pulls about `V √(k m)`: 0.4 m/s on 65 MN/m and 35 g are 0.60 kN (worked by hand); the waves of the stem's own
/// mass add a third or so.
#[test]
fn a_landing_pulls_a_little_more_than_the_lumped_stop() {
    let spec = Spec::read(&exhaust()).unwrap();
    let stem = spec.stem();
    assert!(
        (stem.stiffness_n_m() / 65.0e6 - 1.0).abs() < 0.05,
        "{}",
        stem.stiffness_n_m()
    );
    let lumped_n = 0.4 * stem.lumped_n_s_m();
    assert!((lumped_n / 603.0 - 1.0).abs() < 0.03, "{lumped_n}");
    let ratio = stem.peak_n_s_m() / stem.lumped_n_s_m();
    println!("waves over lumped stop: {ratio:.2}");
    assert!((1.0..1.6).contains(&ratio), "{ratio}");
}

/// A heavier valve floats sooner and lands harder.
#[test]
fn a_heavier_train_floats_sooner() {
    let heavy = prepared(with::<Valve>(&exhaust(), "moving_mass_kg", 0.14));
    let fast = duty(&[(8600.0, 200.0, 5.0)]);
    assert!(heavy.after(&fast)[slot::RECESSION] > plain().after(&fast)[slot::RECESSION]);
}

/// What the maps keep of a turn is what the turn has.
#[test]
fn nodes_hold_what_was_solved() {
    let spec = Spec::read(&exhaust()).unwrap();
    let maps = Maps::read(&plain().map, &spec).unwrap();
    let speed = ringland_plugin_valve::maps::TURN_GRID.speed_rad_s(&spec.train, 100);
    let cycle = TrainSolver::new(&spec.train)
        .cycle(speed, spec.train.seat_load_n)
        .unwrap();
    let (found, off) = maps.turn_at(speed, spec.train.seat_load_n);
    let solved = turn(&spec, spec.stem().peak_n_s_m(), &cycle).unwrap();
    assert!(!off && (found.groove / solved.groove - 1.0).abs() < 1e-9);
    assert!((found.closed_share - solved.closed_share).abs() < 1e-9);
    assert!(
        (0.5..0.75).contains(&found.closed_share),
        "{}",
        found.closed_share
    );
}

//! Surge: damage that rises and falls with speed.

use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::spec::Spec;
use ringland_plugin_valve_spring::turn::Turn;
use ringland_trials::engine::{duty, rad_s};
use ringland_trials::with;

use crate::springs::{Springs, delivered, delivered_spec};

fn turn(spec: &Spec, rpm: f64) -> Turn {
    let solver = TrainSolver::new(&spec.train);
    Turn::of(
        spec,
        &solver.cycle(rad_s(rpm), spec.train.seat_load_n).unwrap(),
    )
    .unwrap()
}

fn damage(spec: &Spec, rpm: f64) -> f64 {
    spec.wire.damage(turn(spec, rpm).utilisation[0])
}

/// Speed \[1/min\] of the crank at which a harmonic of the cam meets the spring's natural frequency.
fn meeting_rpm(spec: &Spec, harmonic: f64) -> f64 {
    spec.train.spring.natural_frequency_rad_s() / harmonic * 2.0 * 30.0 / std::f64::consts::PI
}

/// The table of the README.
#[test]
fn damage_over_speed() {
    let spec = Spec::read(&delivered_spec()).unwrap();
    println!(
        "1/min  f/f_cam  damage of a turn: surface, core  closure mm  stress MPa  hotter K  loft mm"
    );
    for step in 0..=30 {
        let rpm = 5000.0 + 125.0 * f64::from(step);
        let at = turn(&spec, rpm);
        let [surface, core] = at.utilisation.map(|u| spec.wire.damage(u));
        let order = spec.train.spring.natural_frequency_rad_s() / (0.5 * rad_s(rpm));
        println!(
            "{rpm:5.0}  {order:5.2}  {surface:.2e} {core:.2e}  {:5.2}  {:5.0}  {:4.1}  {:.3}",
            1e3 * at.closure_m,
            1e-6 * at.highest_pa,
            at.rise_k,
            1e3 * at.loft_m
        );
    }
}

/// Amplitude of a harmonic of the lift \[m\].
fn harmonic_m(spec: &Spec, order: f64) -> f64 {
    let angle = |k: i32| std::f64::consts::TAU * f64::from(k) / 3600.0;
    let sum = |of: fn(f64) -> f64| {
        let each =
            (-1800..1800).map(|k| spec.train.lift.at(angle(k)).lift_m * of(order * angle(k)));
        each.sum::<f64>() / 1800.0
    };
    sum(f64::sin).hypot(sum(f64::cos))
}

/// Within 2 % of the speeds at which the harmonics 9, 10, 12 and 13 of the cam meet the natural frequency there is a peak of damage, higher than at the
/// speeds of half harmonics to both sides (A. M. Wahl, Mechanical Springs: resonance of the coil with a harmonic of the lift; the place is the law, the height is
/// the model's). The 11th has no peak of its own: this lobe has little of it.
#[test]
fn harmonics_of_the_cam_meet_the_spring() {
    let spec = Spec::read(&delivered_spec()).unwrap();
    let peak_and_beside = |harmonic: f64| {
        let meeting = meeting_rpm(&spec, harmonic);
        let near = (-4..=4).map(|k| damage(&spec, meeting * (1.0 + 0.005 * f64::from(k))));
        let peak = near.fold(0.0, f64::max);
        let beside = [0.5, -0.5].map(|by| damage(&spec, meeting_rpm(&spec, harmonic + by)));
        let lift_um = 1e6 * harmonic_m(&spec, harmonic);
        println!(
            "harmonic {harmonic} ({lift_um:.1} um) at {meeting:.0} 1/min: {peak:.2e}, beside it {:.2e} and {:.2e}",
            beside[0], beside[1]
        );
        peak / beside[0].max(beside[1])
    };
    for harmonic in [9.0, 10.0, 12.0, 13.0] {
        assert!(peak_and_beside(harmonic) > 1.15, "harmonic {harmonic}");
    }
    peak_and_beside(11.0);
    assert!(harmonic_m(&spec, 11.0) < 0.7 * harmonic_m(&spec, 12.0));
}

/// A spring of another wire resonates where its own frequency says.
#[test]
fn the_peak_moves_with_the_natural_frequency() {
    let peak_rpm = |wire_m: f64| {
        let spec = Spec::read(&with::<ValveSpring>(&delivered_spec(), "wire_m", wire_m)).unwrap();
        let meeting = meeting_rpm(&spec, 10.0);
        let speeds = (-12..=12).map(|k| meeting * (1.0 + 0.003 * f64::from(k)));
        let peak = speeds
            .max_by(|a, b| damage(&spec, *a).total_cmp(&damage(&spec, *b)))
            .unwrap();
        (peak, meeting)
    };
    for wire_m in [3.75e-3, 3.8e-3, 3.85e-3] {
        let (peak, meeting) = peak_rpm(wire_m);
        assert!(
            (peak / meeting - 1.0).abs() < 0.025,
            "{wire_m}: {peak} {meeting}"
        );
    }
}

/// More speed can spare the springs: an event at 8400 1/min does less than one of as many turns at 8000, by several times.
#[test]
fn life_is_not_monotonic_in_speed() {
    let springs = delivered();
    let minutes = 20.0;
    let slower = springs.after(&duty::<ValveSpring>(&[(8000.0, 300.0, minutes)]));
    let faster = springs.after(&duty::<ValveSpring>(&[(
        8400.0,
        300.0,
        minutes * 8000.0 / 8400.0,
    )]));
    println!("8000 1/min over 8400: {:.1}", slower[0] / faster[0]);
    assert!(slower[0] > 2.0 * faster[0], "{slower:?} {faster:?}");
}

/// More damping takes the peaks down and leaves the valleys (textbook; common experience with damper coils).
#[test]
fn damping_takes_the_peaks_down() {
    let damped = |ratio: f64| {
        let specimen = with::<ValveSpring>(&delivered_spec(), "spring_damping_ratio", ratio);
        Spec::read(&specimen).unwrap()
    };
    let (little, much) = (damped(0.01), damped(0.04));
    let meeting = meeting_rpm(&little, 10.0);
    assert!(damage(&little, meeting) > 3.0 * damage(&much, meeting));
    let (rough, calm): (Springs, Springs) = (
        Springs::new(with::<ValveSpring>(
            &delivered_spec(),
            "spring_damping_ratio",
            0.015,
        )),
        Springs::new(with::<ValveSpring>(
            &delivered_spec(),
            "spring_damping_ratio",
            0.03,
        )),
    );
    let event = ringland_trials::engine::event::<ValveSpring>();
    assert!(rough.after(&event)[0] > 1.5 * calm.after(&event)[0]);
}

//! Checks of the motion: statics, impulses, harmonics, resonance, convergence, float.

use std::f64::consts::TAU;

use super::*;
use crate::cam::EventLift;
use crate::spring::Spring;

const SPRING: Spring = Spring {
    wire_m: 3.8e-3,
    coil_m: 22.0e-3,
    active_coils: 4.6,
    shear_modulus_pa: 7.85e10,
    density_kg_m3: 7850.0,
};

fn train() -> Train {
    let law = EventLift {
        max_lift_m: 12.6e-3,
        half_duration_rad: 1.24,
        ramp_height_m: 0.45e-3,
        ramp_slope_m: 0.9e-3,
        exponents: [8, 16, 26],
    };
    let (angle_rad, lift_m) = law.table(181);
    Train {
        lift: LiftCurve::new(&angle_rad, &lift_m).unwrap(),
        moving_mass_kg: 0.11,
        stiffness_n_m: 2.0e7,
        damping_ratio: 0.08,
        lash_m: 0.2e-3,
        seat_stiffness_n_m: 6.5e7,
        seat_damping_ratio: 0.25,
        spring: SpringModes::new(
            SPRING.rate_n_m(),
            SPRING.active_mass_kg(),
            SPRING.natural_frequency_rad_s(),
            0.02,
        ),
        seat_load_n: 400.0,
    }
}

fn rpm(crank: f64) -> f64 {
    0.5 * crank * PI / 30.0
}

/// Range of the coil force at the seat.
fn seat_range_n(motion: &Motion) -> f64 {
    let at_seat = motion.points.iter().map(|p| p.coil_n[0]);
    at_seat.clone().fold(f64::MIN, f64::max) - at_seat.fold(f64::MAX, f64::min)
}

/// Turned slowly, the valve follows the cam less lash and the compression of the train, and the coil carries rate times lift.
#[test]
fn a_slow_cam_is_statics() {
    let train = train();
    let motion = train.turn(10.0).unwrap();
    assert!(motion.repeats && motion.loft_m == 0.0);
    for point in motion.points.iter().filter(|p| p.lift_m > 1.0e-3) {
        let spring_n = train.seat_load_n + SPRING.rate_n_m() * point.lift_m;
        let follows_m = point.asked.lift_m - train.lash_m - spring_n / train.stiffness_n_m;
        assert!((point.lift_m - follows_m).abs() < 2.0e-6, "{point:?}");
        assert!(
            point
                .coil_n
                .iter()
                .all(|n| (n / spring_n - 1.0).abs() < 0.01),
            "{point:?}"
        );
    }
    let closed = &motion.points[0];
    assert!((closed.seat_n / train.seat_load_n - 1.0).abs() < 1.0e-3 && closed.train_n == 0.0);
}

/// A motion that repeats has no mean acceleration: over a turn, train and seat give what the spring takes.
#[test]
fn impulses_add_up_over_a_turn() {
    for speed in [3000.0, 6000.0, 8100.0, 8600.0] {
        let motion = train().turn_in_steps(rpm(speed), 2).unwrap();
        let mean =
            |of: fn(&Point) -> f64| motion.points.iter().map(of).sum::<f64>() / TURN_POINTS as f64;
        let (pushed, sprung) = (mean(|p| p.train_n + p.seat_n), mean(|p| p.retainer_n));
        assert!(
            (pushed / sprung - 1.0).abs() < 0.01,
            "{speed}: {pushed} {sprung}"
        );
    }
}

/// The classical harmonic sum: each harmonic of the lift drives each mode as an oscillator of one degree of freedom
/// (textbook; worked here from the lift alone, without integration in time). Between a stiff train and no lash the valve follows the cam.
#[test]
fn surge_agrees_with_the_harmonics_of_the_lift() {
    let stiff = Train {
        stiffness_n_m: 1.0e8,
        lash_m: 0.0,
        damping_ratio: 0.3,
        ..train()
    };
    for speed in [7000.0, 7700.0, 8100.0] {
        let omega = rpm(speed);
        let (motion, expected) = (stiff.turn(omega).unwrap(), harmonic_range_n(&stiff, omega));
        let ratio = seat_range_n(&motion) / expected;
        assert!((ratio - 1.0).abs() < 0.04, "{speed}: {ratio}");
    }
}

/// Range of the coil force at the seat when the retainer follows the lift exactly.
fn harmonic_range_n(train: &Train, cam_rad_s: f64) -> f64 {
    let count = 1440_u32;
    let turn = |i: u32| TAU * f64::from(i) / f64::from(count);
    let lift: Vec<f64> = (0..count).map(|i| train.lift.at(turn(i)).lift_m).collect();
    let mut force_n: Vec<f64> = lift.iter().map(|x| SPRING.rate_n_m() * x).collect();
    for j in 1..120_u32 {
        let phase = |i: usize| f64::from(j) * turn(i as u32);
        let sums = lift.iter().enumerate().fold((0.0, 0.0), |(c, s), (i, x)| {
            (c + x * phase(i).cos(), s + x * phase(i).sin())
        });
        let (cosine_m, sine_m) = (
            2.0 * sums.0 / f64::from(count),
            2.0 * sums.1 / f64::from(count),
        );
        let omega = f64::from(j) * cam_rad_s;
        for n in 1..=MODES {
            let natural = n as f64 * SPRING.natural_frequency_rad_s();
            let drive =
                -omega * omega * 2.0 / (n as f64 * PI) * if n % 2 == 0 { 1.0 } else { -1.0 };
            let (real, imaginary) = (
                natural * natural - omega * omega,
                2.0 * 0.02 * natural * omega,
            );
            let gain =
                drive * SPRING.rate_n_m() * n as f64 * PI / (real * real + imaginary * imaginary);
            for (i, force_n) in force_n.iter_mut().enumerate() {
                // (c + i s) over the complex stiffness, the wave being c cos + s sin.
                let (a, b) = (
                    cosine_m * real - sine_m * imaginary,
                    cosine_m * imaginary + sine_m * real,
                );
                *force_n += gain * (a * phase(i).cos() + b * phase(i).sin());
            }
        }
    }
    force_n.iter().copied().fold(f64::MIN, f64::max)
        - force_n.iter().copied().fold(f64::MAX, f64::min)
}

/// Where a harmonic of the cam meets the spring's own frequency the coil works more than at the speeds between: ninth harmonic at
/// 607.4 Hz, 8099 1/min; tenth at 7289.
#[test]
fn surge_peaks_where_a_harmonic_meets_the_spring() {
    let train = train();
    let range = |speed: f64| seat_range_n(&train.turn(rpm(speed)).unwrap());
    let natural_hz = SPRING.natural_frequency_rad_s() / TAU;
    assert!((natural_hz - 607.4).abs() < 0.1);
    for harmonic in [9.0, 10.0] {
        let peak = 120.0 * natural_hz / harmonic;
        let above = if harmonic < 9.5 { 8600.0 } else { 7650.0 };
        let below = if harmonic < 9.5 { 7650.0 } else { 6950.0 };
        assert!(
            range(peak) > 1.05 * range(below) && range(peak) > 1.05 * range(above),
            "{harmonic}"
        );
    }
    assert!(range(8099.0) > 1.25 * range(8600.0));
}

/// Half the time step: forces change by less than 1 %, the landing by less than 3 %, up to loss of contact.
#[test]
fn the_step_is_short_enough() {
    let train = train();
    for speed in [3000.0, 6100.0, 8100.0, 8600.0] {
        let (once, twice) = (
            train.turn(rpm(speed)).unwrap(),
            train.turn_in_steps(rpm(speed), 2).unwrap(),
        );
        let range = seat_range_n(&once) / seat_range_n(&twice);
        let train_n = |motion: &Motion| motion.points.iter().map(|p| p.train_n).fold(0.0, f64::max);
        let push = train_n(&once) / train_n(&twice);
        let landing = once.seating_velocity_m_s() / twice.seating_velocity_m_s();
        assert!(
            (range - 1.0).abs() < 0.01 && (push - 1.0).abs() < 0.01 && (landing - 1.0).abs() < 0.03,
            "{speed}: {range} {push} {landing}"
        );
    }
}

/// Far beyond the limiter the valve leaves the cam and lands hard.
#[test]
fn a_train_that_floats_lands_hard() {
    let (held, floating) = (
        train().turn(rpm(8600.0)).unwrap(),
        train().turn(rpm(10_400.0)).unwrap(),
    );
    assert!(floating.loft_m > 0.3e-3 && held.loft_m < 0.05e-3);
    let hardest = |motion: &Motion| motion.impacts_m_s.iter().copied().fold(0.0, f64::max);
    assert!(hardest(&floating) > 1.5 * hardest(&held));
    // A lighter valve stays on.
    let lighter = Train {
        moving_mass_kg: 0.07,
        ..train()
    };
    let lofts = [lighter, train()].map(|train| train.turn(rpm(9800.0)).unwrap().loft_m);
    assert!(lofts[0] < 0.3 * lofts[1], "{lofts:?}");
}

#[test]
fn speeds_out_of_range_are_refused() {
    for speed in [f64::NAN, 0.0, 5000.0] {
        let refused = train().turn(speed).unwrap_err();
        assert_eq!(refused.field, "cam_speed_rad_s");
        assert!(refused.to_string().contains("10 to 1500"));
    }
}

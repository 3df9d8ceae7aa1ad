use super::*;

/// Textbook oscillator m = 1, c = 0.5, k = 400, N = 100 at a radius of 1.
fn fixed() -> Driveline {
    Driveline {
        driven_kg_m2: 1.0,
        load_kg_m2: f64::INFINITY,
        stiffness_n_m: 400.0,
        damping_n_m_s: 0.5,
    }
}

fn slipping(friction: FrictionCurve) -> Slipping {
    Slipping {
        driveline: fixed(),
        friction,
        faces: 1.0,
        clamp_n: 100.0,
        radius_m: 1.0,
        drive_rad_s: 2.0,
    }
}

fn straight(slope_s_m: f64) -> FrictionCurve {
    FrictionCurve {
        rest: 0.3,
        sliding: 0.3,
        fall_m_s: 1.0,
        slope_s_m,
    }
}

/// Growth rate −(c + N s)/2m (textbook): −0.05 and +0.05 1/s at slopes of −0.004 and −0.006 s/m; critical −0.005 s/m.
#[test]
fn growth_of_one_inertia_is_the_textbook_one() {
    for (slope_s_m, growth_per_s, index) in [(-0.004, -0.05, 0.8), (-0.006, 0.05, 1.2)] {
        let damping = friction_damping_n_m_s(1.0, 100.0, 1.0, slope_s_m);
        let growth = fixed().growth_rate_per_s(damping).unwrap();
        assert!((growth - growth_per_s).abs() < 1e-12, "{growth}");
        assert!((fixed().index(damping) - index).abs() < 1e-12);
    }
    let critical = fixed().critical_slope_s_m(1.0, 100.0, 1.0).unwrap();
    assert!((critical + 0.005).abs() < 1e-15);
}

/// Envelope ratios over 19 s worked out beforehand by another integration: 0.3866 and 2.587, against exp(∓0.95).
#[test]
fn integration_in_time_grows_as_the_linear_system() {
    for (slope_s_m, growth_per_s, ratio) in [(-0.004, -0.05, 0.3866), (-0.006, 0.05, 2.587)] {
        let clutch = slipping(straight(slope_s_m));
        let start = Motion {
            twist_rad: clutch.steady_twist_rad() + 1.0e-3,
            speed_rad_s: 0.0,
        };
        let last = *clutch.run(start, 1.0e-3, 19_000).last().unwrap();
        let grown =
            clutch.envelope_rad(last, growth_per_s) / clutch.envelope_rad(start, growth_per_s);
        assert!((grown / ratio - 1.0).abs() < 1e-3, "{grown}");
        assert!(
            (grown / (19.0 * growth_per_s).exp() - 1.0).abs() < 1e-6,
            "{grown}"
        );
    }
}

/// The Stribeck curve's own slope at the slip decides: where it is above the critical one vibration dies, where it is below it grows until the
/// faces stick, which holds the driven side at the speed of the driving one.
#[test]
fn the_whole_curve_grows_to_stick_slip_or_dies() {
    let curve = FrictionCurve {
        rest: 0.40,
        sliding: 0.30,
        fall_m_s: 0.5,
        slope_s_m: 0.0,
    };
    for (drive_rad_s, sticks) in [(0.3, true), (3.0, false)] {
        let mut clutch = slipping(curve);
        clutch.drive_rad_s = drive_rad_s;
        let damping = 100.0 * curve.slope_at_s_m(drive_rad_s);
        assert_eq!(fixed().index(damping) > 1.0, sticks);
        let start = Motion {
            twist_rad: clutch.steady_twist_rad() + 1.0e-3,
            speed_rad_s: 0.0,
        };
        let motions = clutch.run(start, 2.0e-6, 3_000_000);
        let fastest = motions
            .iter()
            .skip(2_500_000)
            .map(|m| m.speed_rad_s)
            .fold(0.0, f64::max);
        if sticks {
            assert!((fastest / drive_rad_s - 1.0).abs() < 0.01, "{fastest}");
        } else {
            assert!(fastest < 0.02, "{fastest}");
        }
    }
}

/// Two inertias: no growth at the critical damping; near `c (1 + J/J_load)²` for light damping; a heavy load is a fixed end.
#[test]
fn two_inertias_meet_the_routh_criterion_and_the_fixed_end() {
    for load_kg_m2 in [0.5, 2.0, 40.0] {
        let line = Driveline {
            load_kg_m2,
            ..fixed()
        };
        let critical = line.critical_damping_n_m_s().unwrap();
        let growth = line.growth_rate_per_s(critical).unwrap();
        assert!(growth.abs() < 1e-9, "{growth}");
        assert!(line.growth_rate_per_s(0.99 * critical).unwrap() < 0.0);
        assert!(line.growth_rate_per_s(1.01 * critical).unwrap() > 0.0);
        let whole = 1.0 + 1.0 / load_kg_m2;
        assert!(
            (critical / (-0.5 * whole * whole) - 1.0).abs() < 0.05,
            "{critical}"
        );
    }
    let heavy = Driveline {
        load_kg_m2: 1.0e9,
        ..fixed()
    };
    assert!((heavy.critical_damping_n_m_s().unwrap() + 0.5).abs() < 1e-6);
}

/// A vibration without friction's damping decays by the driveline's own: (1 + J/J_load) c / 2J (textbook, twist of two free inertias).
#[test]
fn two_free_inertias_decay_by_their_own_damping() {
    let line = Driveline {
        load_kg_m2: 2.0,
        ..fixed()
    };
    assert!((line.growth_rate_per_s(0.0).unwrap() + 1.5 * 0.25).abs() < 1e-12);
}

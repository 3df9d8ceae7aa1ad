//! What the car's logger sees behind the engine: axle torque, wheels, kerbs, the oils of gearbox and final drive. Invented, like the car.

use std::f64::consts::PI;

use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::race_car::{AXLE_GRIP_N_M, DRIVELINE_EFFICIENCY, TYRE_RADIUS_M, ratio};
use super::session::Moment;
use super::timeline::Truth;

/// Distance between the driven wheels \[m\].
const TRACK_M: f64 = 1.5;
/// A corner begins above this lateral acceleration and is over below it \[m/s²\].
const CORNER_M_S2: f64 = 3.0;
/// Share of corners that turn right.
const RIGHT: f64 = 0.65;
/// Share of corners in which a kerb is hit.
const KERB: f64 = 0.05;
/// Hop of the driven wheels as a share of their grip, at the first bite of a launch.
const HOP: f64 = 0.7;
/// A launch gives more torque than a pit exit \[N·m\].
const LAUNCH_N_M: f64 = 300.0;
const GEARBOX_C: f64 = 96.0;
const AXLE_C: f64 = 108.0;
const OIL_LAG_S: f64 = 400.0;

/// One moment of the rear end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wheels {
    /// Both driven wheels together \[N·m\].
    pub axle_torque_n_m: f64,
    /// Left \[1/min\].
    pub left_rpm: f64,
    /// Right \[1/min\].
    pub right_rpm: f64,
    /// Signed \[m/s²\].
    pub lateral_m_s2: f64,
    /// Without gravity \[m/s²\].
    pub vertical_m_s2: f64,
    /// Gearbox oil \[°C\].
    pub gearbox_c: f64,
    /// Oil of the final drive \[°C\].
    pub axle_c: f64,
}

/// The rear end as time goes on.
pub(super) struct Rear {
    random: ChaCha8Rng,
    cornering: bool,
    side: f64,
    hop: bool,
    before_s: f64,
    oils_c: [f64; 2],
}

impl Rear {
    /// Its own draws, so that what the engine's channels show does not depend on it.
    pub(super) fn new(seed: u64, ambient_c: f64) -> Self {
        Self {
            random: ChaCha8Rng::seed_from_u64(seed),
            cornering: false,
            side: 1.0,
            hop: false,
            before_s: 0.0,
            oils_c: [ambient_c.max(60.0); 2],
        }
    }

    /// The next moment; calls must go forwards.
    pub(super) fn at(&mut self, truth: &Truth) -> Wheels {
        let moment = &truth.moment;
        let entered = self.enters_corner(moment);
        let kerb = entered && self.random.random_bool(KERB);
        let lateral_m_s2 = self.side * moment.lateral_m_s2;
        let mean_rpm = moment.speed_m_s / TYRE_RADIUS_M * 30.0 / PI;
        let apart_rpm = if moment.speed_m_s > 5.0 {
            TRACK_M * lateral_m_s2 / (moment.speed_m_s * TYRE_RADIUS_M) * 30.0 / PI
        } else {
            0.0
        };
        self.warm(truth);
        Wheels {
            axle_torque_n_m: self.axle_torque_n_m(moment),
            left_rpm: mean_rpm + 0.5 * apart_rpm,
            right_rpm: mean_rpm - 0.5 * apart_rpm,
            lateral_m_s2,
            vertical_m_s2: if kerb {
                // Most are taken lightly.
                30.0 - 22.0 * self.random.random_range(0.02..1.0_f64).ln()
            } else {
                0.0
            },
            gearbox_c: self.oils_c[0],
            axle_c: self.oils_c[1],
        }
    }

    /// Random numbers for the noise of these channels.
    pub(super) fn random(&mut self) -> &mut impl Rng {
        &mut self.random
    }

    fn enters_corner(&mut self, moment: &Moment) -> bool {
        let cornering = moment.lateral_m_s2 > CORNER_M_S2;
        let entered = cornering && !self.cornering;
        self.cornering = cornering;
        if entered {
            self.side = if self.random.random_bool(RIGHT) {
                1.0
            } else {
                -1.0
            };
        }
        entered && moment.hard
    }

    fn axle_torque_n_m(&mut self, moment: &Moment) -> f64 {
        if moment.gear == 0 {
            return 0.0;
        }
        let slipping = moment.clutch_slip_rpm > 0.0;
        let torque_n_m = if slipping {
            moment.clutch_torque_n_m
        } else {
            moment.torque_n_m
        };
        let at_axle = (torque_n_m * ratio(moment.gear) * DRIVELINE_EFFICIENCY).min(AXLE_GRIP_N_M);
        self.hop = !self.hop;
        if slipping && torque_n_m > LAUNCH_N_M {
            let bite = HOP * (moment.clutch_slip_rpm / moment.rpm.max(1.0));
            return at_axle * (1.0 + if self.hop { bite } else { -bite });
        }
        at_axle
    }

    fn warm(&mut self, truth: &Truth) {
        let step_s = (truth.time_s - self.before_s).clamp(0.0, 1.0);
        self.before_s = truth.time_s;
        let cooler_k = if truth.moment.hard { 0.0 } else { 12.0 };
        for (oil_c, hot_c) in self.oils_c.iter_mut().zip([GEARBOX_C, AXLE_C]) {
            *oil_c += (hot_c - cooler_k - *oil_c) * step_s / OIL_LAG_S;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn truth(moment: Moment) -> Truth {
        Truth {
            time_s: 1.0,
            moment,
            oil_c: 100.0,
            oil_bar: 5.0,
            water_c: 90.0,
            manifold_bar: 2.0,
            burst: false,
        }
    }

    #[test]
    fn a_corner_turns_the_outer_wheel_faster_and_torque_stays_within_grip() {
        let mut rear = Rear::new(1, 20.0);
        let moment = Moment {
            rpm: 7000.0,
            torque_n_m: 430.0,
            gear: 2,
            speed_m_s: 27.0,
            lateral_m_s2: 9.0,
            hard: true,
            ..Moment::default()
        };
        let wheels = rear.at(&truth(moment));
        assert!((wheels.lateral_m_s2.abs() - 9.0).abs() < 1e-12);
        let apart = (wheels.left_rpm - wheels.right_rpm) * PI / 30.0;
        let expected = TRACK_M * wheels.lateral_m_s2 / 27.0 / TYRE_RADIUS_M;
        assert!((apart - expected).abs() < 1e-9);
        assert!((wheels.axle_torque_n_m - AXLE_GRIP_N_M).abs() < 1e-9);
        assert!(wheels.gearbox_c < GEARBOX_C && wheels.axle_c < AXLE_C);
    }
}

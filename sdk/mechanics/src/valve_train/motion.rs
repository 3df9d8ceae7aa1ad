//! The motion in time.

use std::f64::consts::PI;

use crate::cam::{Lift, LiftCurve};

use super::spring_modes::{MODES, STATIONS, SpringModes, SpringState};

/// Points of a turn that are told: half a degree of cam.
pub const TURN_POINTS: usize = 720;
/// Longest time step \[s\].
pub const STEP_S: f64 = 6.0e-6;
/// Longest time step times the highest frequency of the system.
const STEP_ANGLE: f64 = 0.18;
/// Most turns that are run until the motion repeats.
const MOST_TURNS: usize = 24;
/// Change of the surge from turn to turn, over its largest value, at which the motion repeats.
const REPEATS: f64 = 1.0e-3;
/// Slowest approach that counts as an impact on the seat \[m/s\].
const LEAST_IMPACT_M_S: f64 = 0.02;

/// A valve, its spring and its train.
#[derive(Debug, Clone, PartialEq)]
pub struct Train {
    /// Lift that the cam asks for at the valve, without lash and compliance, over cam angle.
    pub lift: LiftCurve,
    /// Mass that moves at the valve, without the spring \[kg\].
    pub moving_mass_kg: f64,
    /// Stiffness between cam and valve, at the valve \[N/m\].
    pub stiffness_n_m: f64,
    /// Share of critical damping of the mass on that stiffness.
    pub damping_ratio: f64,
    /// Lash at the valve \[m\].
    pub lash_m: f64,
    /// Stiffness of seat, head and stem in an impact \[N/m\].
    pub seat_stiffness_n_m: f64,
    /// Share of critical damping of the mass on the seat.
    pub seat_damping_ratio: f64,
    /// The spring.
    pub spring: SpringModes,
    /// Spring force on the closed valve \[N\].
    pub seat_load_n: f64,
}

/// One instant of a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Cam angle \[rad\], −π to π.
    pub cam_angle_rad: f64,
    /// What the cam asks for.
    pub asked: Lift,
    /// Lift of the valve \[m\].
    pub lift_m: f64,
    /// Its velocity, opening \[m/s\].
    pub velocity_m_s: f64,
    /// Its acceleration \[m/s²\].
    pub acceleration_m_s2: f64,
    /// Force of the train on the valve \[N\], 0 when apart.
    pub train_n: f64,
    /// Force of the spring on the retainer \[N\].
    pub retainer_n: f64,
    /// Force in the coil at each station, from seat to retainer \[N\].
    pub coil_n: [f64; STATIONS],
    /// Force of the seat on the valve \[N\], 0 when open.
    pub seat_n: f64,
}

/// One turn of the cam, repeating.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    /// Cam speed \[rad/s\].
    pub cam_speed_rad_s: f64,
    /// [`TURN_POINTS`] points, even in cam angle from −π.
    pub points: Vec<Point>,
    /// Speeds of the valve's impacts on the seat, in their order: landing first, then bounces \[m/s\].
    pub impacts_m_s: Vec<f64>,
    /// Largest gap between valve and cam while the cam holds the valve open \[m\]: how far the valve flies off.
    pub loft_m: f64,
    /// Whether the motion repeats from turn to turn.
    pub repeats: bool,
}

impl Motion {
    /// Speed of the first landing \[m/s\].
    pub fn seating_velocity_m_s(&self) -> f64 {
        self.impacts_m_s.first().copied().unwrap_or(0.0)
    }
}

/// A motion that cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotionError {
    /// Field.
    pub field: &'static str,
    /// Its value.
    pub value: f64,
    /// What was expected.
    pub expected: &'static str,
}

impl std::fmt::Display for MotionError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} is {}, expected {}",
            self.field, self.value, self.expected
        )
    }
}

impl std::error::Error for MotionError {}

/// Mass and damper constants of a train.
struct Constants {
    mass_kg: f64,
    train_n_s_m: f64,
    seat_n_s_m: f64,
}

struct State {
    lift_m: f64,
    velocity_m_s: f64,
    acceleration_m_s2: f64,
    surge: SpringState,
    surge_m_s2: [f64; MODES],
    train_n: f64,
    seat_n: f64,
}

impl Train {
    /// Runs the train at a cam speed \[rad/s\], 10 to 1500, until its motion repeats.
    ///
    /// # Errors
    /// A speed out of range, or values with which the motion is not finite.
    pub fn turn(&self, cam_speed_rad_s: f64) -> Result<Motion, MotionError> {
        self.turn_in_steps(cam_speed_rad_s, 1)
    }

    /// [`Self::turn`] with each time step cut into so many, to see what the step does.
    ///
    /// # Errors
    /// As [`Self::turn`].
    pub fn turn_in_steps(&self, cam_speed_rad_s: f64, cut: usize) -> Result<Motion, MotionError> {
        if !(10.0..=1500.0).contains(&cam_speed_rad_s) {
            let expected = "10 to 1500 rad/s";
            return Err(MotionError {
                field: "cam_speed_rad_s",
                value: cam_speed_rad_s,
                expected,
            });
        }
        let constants = self.constants();
        let mut motion = Motion {
            cam_speed_rad_s,
            points: Vec::with_capacity(TURN_POINTS),
            impacts_m_s: Vec::new(),
            loft_m: 0.0,
            repeats: false,
        };
        let mut state = self.at_rest();
        for _ in 0..MOST_TURNS {
            let before = state.surge;
            self.run(&constants, cut, &mut state, &mut motion);
            if !state.lift_m.is_finite() {
                let expected = "a finite motion: check masses and stiffnesses";
                return Err(MotionError {
                    field: "lift_m",
                    value: state.lift_m,
                    expected,
                });
            }
            let largest_m = motion
                .points
                .iter()
                .map(|p| surge_m(self, p))
                .fold(0.0, f64::max);
            let change_m: f64 = before
                .q_m
                .iter()
                .zip(&state.surge.q_m)
                .map(|(a, b)| (a - b).abs())
                .sum();
            motion.repeats = change_m <= REPEATS * largest_m;
            if motion.repeats {
                break;
            }
        }
        Ok(motion)
    }

    fn constants(&self) -> Constants {
        let mass_kg = self.moving_mass_kg + self.spring.residual_mass_kg();
        let damper = |ratio: f64, stiffness: f64| 2.0 * ratio * (stiffness * mass_kg).sqrt();
        Constants {
            mass_kg,
            train_n_s_m: damper(self.damping_ratio, self.stiffness_n_m),
            seat_n_s_m: damper(self.seat_damping_ratio, self.seat_stiffness_n_m),
        }
    }

    fn at_rest(&self) -> State {
        State {
            lift_m: -self.seat_load_n / self.seat_stiffness_n_m,
            velocity_m_s: 0.0,
            acceleration_m_s2: 0.0,
            surge: SpringState::default(),
            surge_m_s2: [0.0; MODES],
            train_n: 0.0,
            seat_n: self.seat_load_n,
        }
    }

    /// Time steps between two points that are told.
    fn steps(&self, constants: &Constants, cam_speed_rad_s: f64) -> usize {
        let stiffest = (self.seat_stiffness_n_m + self.stiffness_n_m) / constants.mass_kg;
        let highest = stiffest
            .sqrt()
            .max(MODES as f64 * self.spring.natural_frequency_rad_s());
        let longest_s = STEP_S.min(STEP_ANGLE / highest);
        let point_s = 2.0 * PI / cam_speed_rad_s / TURN_POINTS as f64;
        (point_s / longest_s).ceil().max(1.0) as usize
    }

    /// One turn, by the velocity form of Verlet's method with damping at the half step.
    fn run(&self, constants: &Constants, cut: usize, state: &mut State, motion: &mut Motion) {
        let steps = cut.max(1) * self.steps(constants, motion.cam_speed_rad_s);
        let step_rad = 2.0 * PI / (TURN_POINTS * steps) as f64;
        let step_s = step_rad / motion.cam_speed_rad_s;
        motion.points.clear();
        motion.impacts_m_s.clear();
        motion.loft_m = 0.0;
        for index in 0..TURN_POINTS * steps {
            let angle_rad = -PI + index as f64 * step_rad;
            let was_open = state.lift_m > 0.0;
            let asked = self.step(
                constants,
                state,
                angle_rad + step_rad,
                step_s,
                motion.cam_speed_rad_s,
            );
            if was_open && state.lift_m <= 0.0 && -state.velocity_m_s > LEAST_IMPACT_M_S {
                motion.impacts_m_s.push(-state.velocity_m_s);
            }
            // On the ramps there is lash to take up: that is no loss of contact.
            if asked.lift_m > 2.0 * self.lash_m && state.lift_m > 0.0 {
                let gap_m = state.lift_m - (asked.lift_m - self.lash_m);
                motion.loft_m = motion.loft_m.max(gap_m);
            }
            if (index + 1).is_multiple_of(steps) {
                motion
                    .points
                    .push(self.point(state, asked, angle_rad + step_rad));
            }
        }
    }

    fn step(
        &self,
        constants: &Constants,
        state: &mut State,
        angle_rad: f64,
        step_s: f64,
        cam_speed_rad_s: f64,
    ) -> Lift {
        let half_m_s = state.velocity_m_s + 0.5 * step_s * state.acceleration_m_s2;
        state.lift_m += step_s * half_m_s;
        for n in 0..MODES {
            state.surge.velocity_m_s[n] += 0.5 * step_s * state.surge_m_s2[n];
            state.surge.q_m[n] += step_s * state.surge.velocity_m_s[n];
        }
        let asked = self.lift.at(angle_rad);
        let gap_m = asked.lift_m - self.lash_m - state.lift_m;
        let gap_m_s = asked.slope_m * cam_speed_rad_s - half_m_s;
        let push = |depth_m: f64, rate_m_s: f64, stiffness: f64, damper: f64| {
            if depth_m > 0.0 {
                (stiffness * depth_m + damper * rate_m_s).max(0.0)
            } else {
                0.0
            }
        };
        state.train_n = push(gap_m, gap_m_s, self.stiffness_n_m, constants.train_n_s_m);
        state.seat_n = push(
            -state.lift_m,
            -half_m_s,
            self.seat_stiffness_n_m,
            constants.seat_n_s_m,
        );
        let spring_n = self.retainer_n(state);
        state.acceleration_m_s2 = (state.train_n + state.seat_n - spring_n) / constants.mass_kg;
        state.velocity_m_s = half_m_s + 0.5 * step_s * state.acceleration_m_s2;
        state.surge_m_s2 = self
            .spring
            .acceleration_m_s2(&state.surge, state.acceleration_m_s2);
        for n in 0..MODES {
            state.surge.velocity_m_s[n] += 0.5 * step_s * state.surge_m_s2[n];
        }
        asked
    }

    /// Force of the spring on the retainer without its residual mass, which moves with the valve.
    fn retainer_n(&self, state: &State) -> f64 {
        self.seat_load_n
            + self.spring.rate_n_m() * state.lift_m
            + self.spring.surge_on_retainer_n(&state.surge)
    }

    fn point(&self, state: &State, asked: Lift, cam_angle_rad: f64) -> Point {
        let even_n = self.seat_load_n + self.spring.rate_n_m() * state.lift_m;
        let coil_n = self
            .spring
            .surge_at_stations_n(&state.surge)
            .map(|surge_n| even_n + surge_n);
        Point {
            cam_angle_rad,
            asked,
            lift_m: state.lift_m,
            velocity_m_s: state.velocity_m_s,
            acceleration_m_s2: state.acceleration_m_s2,
            train_n: state.train_n,
            retainer_n: self.retainer_n(state)
                + self.spring.residual_mass_kg() * state.acceleration_m_s2,
            coil_n,
            seat_n: state.seat_n,
        }
    }
}

/// Size of the surge at a point, as a displacement \[m\].
fn surge_m(train: &Train, point: &Point) -> f64 {
    let even_n = train.seat_load_n + train.spring.rate_n_m() * point.lift_m;
    (point.coil_n[0] - even_n).abs() / train.spring.rate_n_m()
}

#[cfg(test)]
mod tests;

use std::f64::consts::TAU;

use super::{BallJoint, loads_per_n_m};

/// Mean distance of the pressure of a Hertz ellipse from its middle, along an axis, over that half axis: `∫y(1−y²)/∫(1−y²)`.
const MEAN_REACH: f64 = 3.0 / 8.0;

/// What one ball of a joint goes through in a turn at an angle. Loads and what is made of them are for each N·m of torque; every ball goes through the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// Mean load \[N/(N·m)\].
    pub mean_load: f64,
    /// Largest load \[N/(N·m)\].
    pub peak_load: f64,
    /// Mean of the cube of the load \[(N/(N·m))³\].
    pub cube_load: f64,
    /// Way of the ball along one track, there and back \[m\].
    pub travel_m: f64,
    /// Load times sliding along one track \[N·m/(N·m)\]: the two tracks move past the ball at arcs of different radii, which no rolling speed fits.
    pub slide: f64,
    /// Load to the power 4/3 times sliding by the track's turning about the contact's normal, over the half axis of the contact under one newton
    /// \[m·(N/(N·m))^(4/3)/m\]; with that half axis and torque^(4/3) it is load times sliding.
    pub pivot: f64,
    /// Load times sliding of the ball in its window \[N·m/(N·m)\].
    pub window: f64,
    /// Largest load of a ball on its window \[N/(N·m)\].
    pub window_load: f64,
    /// Load times sliding of the cage on the sphere that holds it along the axis \[N·m/(N·m)\], all balls together.
    pub sphere: f64,
}

impl Turn {
    /// Solves a turn of a joint at an angle (0 to 0.9 rad; sign does not matter) in `steps` steps from one ball to the next.
    pub fn solve(joint: &BallJoint, joint_rad: f64, steps: u32) -> Self {
        let joint_rad = joint_rad.abs();
        let samples = f64::from(steps) * joint.balls;
        let reach_m = 0.5 * joint.ball_m * libm::cos(joint.pressure_angle_rad);
        let arc_m = joint.arc_m();
        let mut turn = Self {
            mean_load: 0.0,
            peak_load: 0.0,
            cube_load: 0.0,
            travel_m: 0.0,
            slide: 0.0,
            pivot: 0.0,
            window: 0.0,
            window_load: 0.0,
            sphere: 0.0,
        };
        // Turn of a member against the cage, over the joint's speed: |u − n|.
        let rubbing = 2.0 * libm::sin(0.25 * joint_rad);
        for step in 0..steps {
            let phase_rad = TAU / joint.balls * (f64::from(step) + 0.5) / f64::from(steps);
            let mut axial = 0.0;
            for (place, load) in loads_per_n_m(joint, joint_rad, phase_rad) {
                let rate = place.track_rate.abs();
                let on_window = 2.0 * load * place.lean;
                axial += on_window;
                turn.mean_load += load / samples;
                turn.cube_load += load * load * load / samples;
                turn.peak_load = turn.peak_load.max(load);
                turn.window_load = turn.window_load.max(on_window.abs());
                turn.travel_m += TAU * arc_m * rate / samples;
                turn.slide += TAU * load * reach_m * rate / samples;
                turn.pivot +=
                    TAU * MEAN_REACH * load * libm::cbrt(load) * place.pivot.abs() / samples;
                turn.window += TAU * on_window.abs() * arc_m * rate / samples;
            }
            turn.sphere += TAU * axial.abs() * joint.pitch_radius_m * rubbing / f64::from(steps);
        }
        turn
    }

    /// Friction work of a turn over what the joint transmits in it: `2π` times the torque. `half_axes_m` are those of the outer and inner contact under one newton.
    pub fn loss(
        &self,
        joint: &BallJoint,
        half_axes_m: [f64; 2],
        friction: f64,
        torque_n_m: f64,
    ) -> f64 {
        let pivot = self.pivot * (half_axes_m[0] + half_axes_m[1]) * libm::cbrt(torque_n_m.abs());
        let each = 2.0 * self.slide + pivot + self.window;
        friction * (joint.balls * each + self.sphere) / TAU
    }
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::joint;
    use super::*;

    /// A ball swings half the joint angle to either side: `2 R_t β` there and back (the way of a trade rule, 2 R β).
    #[test]
    fn the_ball_travels_twice_the_angle() {
        let (joint, angle_rad) = (joint(), 0.105);
        let turn = Turn::solve(&joint, angle_rad, 48);
        assert!((turn.travel_m / (2.0 * joint.arc_m() * angle_rad) - 1.0).abs() < 1e-3);
    }

    /// Straight: even loads, nothing moves.
    #[test]
    fn nothing_slides_in_a_straight_joint() {
        let turn = Turn::solve(&joint(), 0.0, 8);
        assert!((turn.peak_load / turn.mean_load - 1.0).abs() < 1e-9);
        assert!((turn.cube_load / turn.mean_load.powi(3) - 1.0).abs() < 1e-9);
        assert!(turn.slide == 0.0 && turn.pivot < 1e-12 && turn.sphere == 0.0);
    }

    /// More angle, more uneven loads, more way and more loss.
    #[test]
    fn angle_makes_everything_worse() {
        let joint = joint();
        let axes = joint.unit_contacts().map(|contact| contact.long_m);
        let mut last = Turn::solve(&joint, 0.0, 12);
        for angle_rad in [0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.45] {
            let turn = Turn::solve(&joint, angle_rad, 12);
            println!(
                "{angle_rad}: peak/mean {:.3}, cube {:.3}, loss {:.5}, 2 mu tan(b/2) {:.5}",
                turn.peak_load / turn.mean_load,
                turn.cube_load / turn.mean_load.powi(3),
                turn.loss(&joint, axes, 0.07, 1000.0),
                0.14 * libm::tan(0.5 * angle_rad),
            );
            assert!(turn.cube_load > last.cube_load && turn.peak_load > last.peak_load);
            assert!(turn.travel_m > last.travel_m);
            assert!(turn.loss(&joint, axes, 0.07, 500.0) > last.loss(&joint, axes, 0.07, 500.0));
            last = turn;
        }
    }

    #[test]
    fn steps_are_fine_enough() {
        for angle_rad in [0.05, 0.105, 0.25] {
            let [coarse, fine] = [12, 48].map(|steps| Turn::solve(&joint(), angle_rad, steps));
            let change = [
                coarse.cube_load / fine.cube_load,
                coarse.slide / fine.slide,
                coarse.peak_load / fine.peak_load,
                coarse.window / fine.window,
            ];
            println!("{angle_rad}: {change:?}");
            assert!(change.iter().all(|ratio| (ratio - 1.0).abs() < 0.02));
        }
    }
}

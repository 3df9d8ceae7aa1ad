/// Speed from which on the rating counts turns alone \[1/min\].
const FAST_PER_MIN: f64 = 1000.0;
/// Rated hours at one turn a minute and unit load ratio, fast.
const FAST_HOURS: f64 = 470_756.0;
/// The same, slow, and its power of speed.
const SLOW_HOURS: (f64, f64) = (25_339.0, 0.577);

/// Rated life of a straight joint in turns, nine of ten surviving, at a torque over its dynamic capacity and a speed \[rad/s\].
///
/// `L_h = 470756/n (M_d/M)³` above 1000 1/min, `25339/n^0.577 (M_d/M)³` below (textbook of driveshafts, from memory); with
/// [`angle_factor`] beside `M_d` at an angle. Both arms agree at 1000 1/min to 1e-3.
pub fn rated_turns(torque_over_capacity: f64, speed_rad_s: f64) -> f64 {
    let per_min = speed_rad_s.abs() * 30.0 / std::f64::consts::PI;
    let hours_by_speed = if per_min >= FAST_PER_MIN {
        FAST_HOURS
    } else {
        SLOW_HOURS.0 * libm::pow(per_min, 1.0 - SLOW_HOURS.1)
    };
    60.0 * hours_by_speed / libm::pow(torque_over_capacity.abs(), 3.0)
}

/// The textbook's factor on capacity at a joint angle, `(1 − sin β) cos² β` (from memory).
pub fn angle_factor(joint_rad: f64) -> f64 {
    let (sin, cos) = libm::sincos(joint_rad.abs());
    (1.0 - sin) * cos * cos
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand from the formula: 560 N·m capacity at 1120 N·m and 1500 1/min, 39.2 h; twice the torque, an eighth.
    #[test]
    fn the_formula_by_hand() {
        let speed_rad_s = 1500.0 * std::f64::consts::PI / 30.0;
        let hours = rated_turns(2.0, speed_rad_s) / 60.0 / 1500.0;
        assert!((hours - 470_756.0 / 1500.0 / 8.0).abs() < 1e-9);
        assert!((rated_turns(1.0, 50.0) / rated_turns(2.0, 50.0) - 8.0).abs() < 1e-12);
        let at = |per_min: f64| rated_turns(1.0, per_min * std::f64::consts::PI / 30.0);
        assert!((at(999.999) / at(1000.001) - 1.0).abs() < 2e-3);
        assert!((angle_factor(0.104_72) - 0.885_77).abs() < 1e-4);
    }
}

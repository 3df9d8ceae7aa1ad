//! The race car of the demo: invented, a 2.0 l turbo with a six-speed dog box, rear drive.

use std::f64::consts::PI;

pub(super) const MASS_KG: f64 = 1160.0;
/// Share by which turning parts add to the mass that is accelerated.
const ROTATING_SHARE: f64 = 0.06;
const DRAG_AREA_M2: f64 = 0.95;
const AIR_KG_M3: f64 = 1.2;
const ROLLING: f64 = 0.018;
const GRAVITY: f64 = 9.81;
pub(super) const TYRE_RADIUS_M: f64 = 0.31;
const FINAL_DRIVE: f64 = 4.10;
const GEARS: [f64; 6] = [2.71, 2.06, 1.65, 1.36, 1.17, 1.00];
pub(super) const DRIVELINE_EFFICIENCY: f64 = 0.95;
/// Tyre scrub in a corner as a share of the cornering force.
const SCRUB: f64 = 0.11;
/// Traction limit of the driven axle as a torque.
pub(super) const AXLE_GRIP_N_M: f64 = 3390.0;
pub(super) const BRAKING_M_S2: f64 = 13.5;

pub(super) const LIMITER_RPM: f64 = 8400.0;
const LIMITER_TORQUE_N_M: f64 = 300.0;
/// Closed throttle: about −45 N·m at 6500 1/min.
const OVERRUN_N_M_PER_RPM: f64 = -45.0 / 6500.0;

const FULL_LOAD: [(f64, f64); 9] = [
    (1000.0, 120.0),
    (2000.0, 190.0),
    (3000.0, 280.0),
    (4000.0, 360.0),
    (5000.0, 415.0),
    (6250.0, 440.0),
    (7250.0, 425.0),
    (8000.0, 401.0),
    (8400.0, 388.0),
];

/// Highest gear.
pub(super) const TOP_GEAR: usize = GEARS.len();

/// Full-load torque \[N·m\] at an engine speed \[1/min\].
pub(super) fn full_load_n_m(rpm: f64) -> f64 {
    for pair in FULL_LOAD.windows(2) {
        let ((low, torque_low), (high, torque_high)) = (pair[0], pair[1]);
        if rpm <= high {
            let share = ((rpm - low) / (high - low)).max(0.0);
            return torque_low + share * (torque_high - torque_low);
        }
    }
    LIMITER_TORQUE_N_M
}

/// Engine over wheel speed in a gear (1 to 6).
pub(super) fn ratio(gear: usize) -> f64 {
    GEARS[gear.clamp(1, TOP_GEAR) - 1] * FINAL_DRIVE
}

/// Engine speed \[1/min\] at a road speed \[m/s\] in a gear.
pub(super) fn rpm(speed_m_s: f64, gear: usize) -> f64 {
    speed_m_s / TYRE_RADIUS_M * ratio(gear) * 30.0 / PI
}

/// Road speed \[m/s\] at an engine speed \[1/min\] in a gear.
pub(super) fn speed_m_s(rpm: f64, gear: usize) -> f64 {
    rpm * PI / 30.0 / ratio(gear) * TYRE_RADIUS_M
}

/// Drag, rolling and cornering resistance \[N\].
pub(super) fn resistance_n(speed_m_s: f64, lateral_m_s2: f64) -> f64 {
    0.5 * AIR_KG_M3 * DRAG_AREA_M2 * speed_m_s * speed_m_s
        + ROLLING * MASS_KG * GRAVITY
        + SCRUB * MASS_KG * lateral_m_s2
}

/// Largest acceleration \[m/s²\] in a gear with a share of the tyres' grip left for it.
pub(super) fn acceleration_m_s2(speed: f64, gear: usize, lateral_m_s2: f64, grip_left: f64) -> f64 {
    let engine_n =
        full_load_n_m(rpm(speed, gear)) * ratio(gear) * DRIVELINE_EFFICIENCY / TYRE_RADIUS_M;
    let drive_n = engine_n.min(AXLE_GRIP_N_M / TYRE_RADIUS_M * grip_left);
    (drive_n - resistance_n(speed, lateral_m_s2)) / (MASS_KG * (1.0 + ROTATING_SHARE))
}

/// Torque \[N·m\] that the engine gives for an acceleration: what the car needs, between closed throttle
/// and full load. The brakes do the rest.
pub(super) fn torque_n_m(speed: f64, gear: usize, acceleration: f64, lateral_m_s2: f64) -> f64 {
    let force = MASS_KG * (1.0 + ROTATING_SHARE) * acceleration + resistance_n(speed, lateral_m_s2);
    let rpm = rpm(speed, gear);
    let wanted = force * TYRE_RADIUS_M / (ratio(gear) * DRIVELINE_EFFICIENCY);
    wanted.clamp(OVERRUN_N_M_PER_RPM * rpm, full_load_n_m(rpm))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn speed_and_rpm_are_inverse() {
        for gear in 1..=TOP_GEAR {
            assert!((rpm(speed_m_s(7000.0, gear), gear) - 7000.0).abs() < 1e-9);
        }
    }

    /// A car held at the acceleration the engine can give needs full load.
    #[test]
    fn torque_inverts_acceleration() {
        let (speed, gear) = (45.0, 4);
        let best = acceleration_m_s2(speed, gear, 0.0, 1.0);
        let torque = torque_n_m(speed, gear, best, 0.0);
        assert!((torque - full_load_n_m(rpm(speed, gear))).abs() < 1e-9);
    }
}

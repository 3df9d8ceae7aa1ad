//! Time at one operating point.

use crate::needs::{AMBIENT_K, AXLE_OIL_K, GEARBOX_OIL_K, JOINT_ANGLE_RAD};

/// Time at one operating point. What the card does not ask for has its warm default.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Time \[s\].
    pub time_s: f64,
    /// Engine speed \[rad/s\].
    pub engine_speed_rad_s: f64,
    /// Engine torque \[N·m\], negative on overrun.
    pub engine_torque_n_m: f64,
    /// Gear: 0 neutral, -1 reverse.
    pub gear: f64,
    /// Torque of the driven axle, both wheels together \[N·m\], negative on overrun.
    pub axle_torque_n_m: f64,
    /// Speed of the left driven wheel \[rad/s\].
    pub wheel_left_rad_s: f64,
    /// Speed of the right driven wheel \[rad/s\].
    pub wheel_right_rad_s: f64,
    /// Speed of one wheel against the other \[rad/s\], signed.
    pub differential_slip_rad_s: f64,
    /// Angle of the drive-shaft joint \[rad\].
    pub joint_angle_rad: f64,
    /// Vehicle speed \[m/s\].
    pub vehicle_speed_m_s: f64,
    /// Lateral acceleration \[m/s²\], signed.
    pub lateral_m_s2: f64,
    /// Longitudinal acceleration \[m/s²\].
    pub longitudinal_m_s2: f64,
    /// Vertical acceleration \[m/s²\].
    pub vertical_m_s2: f64,
    /// Temperature of the gearbox oil \[K\].
    pub gearbox_oil_k: f64,
    /// Temperature of the oil of the final drive \[K\].
    pub axle_oil_k: f64,
    /// Temperature of the air \[K\].
    pub ambient_k: f64,
    /// Wear multiplier of contaminated oil \[1\].
    pub contamination: f64,
}

impl Default for Block {
    /// A warm, clean car at rest in neutral.
    fn default() -> Self {
        Self {
            time_s: 0.0,
            engine_speed_rad_s: 0.0,
            engine_torque_n_m: 0.0,
            gear: 0.0,
            axle_torque_n_m: 0.0,
            wheel_left_rad_s: 0.0,
            wheel_right_rad_s: 0.0,
            differential_slip_rad_s: 0.0,
            joint_angle_rad: JOINT_ANGLE_RAD,
            vehicle_speed_m_s: 0.0,
            lateral_m_s2: 0.0,
            longitudinal_m_s2: 0.0,
            vertical_m_s2: 0.0,
            gearbox_oil_k: GEARBOX_OIL_K,
            axle_oil_k: AXLE_OIL_K,
            ambient_k: AMBIENT_K,
            contamination: 1.0,
        }
    }
}

impl Block {
    /// Mean speed of the two driven wheels \[rad/s\].
    pub fn wheel_speed_rad_s(&self) -> f64 {
        0.5 * (self.wheel_left_rad_s + self.wheel_right_rad_s)
    }

    pub(crate) fn set(&mut self, channel: &str, value: f64) {
        match channel {
            "engine_speed_rad_s" => self.engine_speed_rad_s = value,
            "engine_torque_n_m" => self.engine_torque_n_m = value,
            "gear" => self.gear = value,
            "axle_torque_n_m" => self.axle_torque_n_m = value,
            "wheel_speed_left_rad_s" => self.wheel_left_rad_s = value,
            "wheel_speed_right_rad_s" => self.wheel_right_rad_s = value,
            "differential_slip_speed_rad_s" => self.differential_slip_rad_s = value,
            "joint_angle_rad" => self.joint_angle_rad = value,
            "vehicle_speed_m_s" => self.vehicle_speed_m_s = value,
            "lateral_acceleration_m_s2" => self.lateral_m_s2 = value,
            "longitudinal_acceleration_m_s2" => self.longitudinal_m_s2 = value,
            "vertical_acceleration_m_s2" => self.vertical_m_s2 = value,
            "gearbox_oil_temp_k" => self.gearbox_oil_k = value,
            "axle_oil_temp_k" => self.axle_oil_k = value,
            "ambient_temp_k" => self.ambient_k = value,
            "contamination_factor" => self.contamination = value,
            _ => {} // a channel of the plugin's own
        }
    }
}

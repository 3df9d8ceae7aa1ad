//! What a card asks for: channels with their warm defaults, shocks, and the bounds of both.

use ringland_plugin::{Bounds, ChannelNeed, ShockNeed, channel, channel_or, shock};

/// Warm gearbox oil \[K\].
pub(crate) const GEARBOX_OIL_K: f64 = 368.15;
/// Warm oil of the final drive \[K\].
pub(crate) const AXLE_OIL_K: f64 = 378.15;
/// Air of a mild day \[K\].
pub(crate) const AMBIENT_K: f64 = 298.15;
/// Joint angle at ride height, 6 degrees \[rad\].
pub(crate) const JOINT_ANGLE_RAD: f64 = 0.105;

/// The counted channel of the wheels' torque: name it in `cycles` of a card's duty.
pub const AXLE_TORQUE_CYCLES: &str = "axle_torque_n_m";

/// Channels without which a model cannot answer.
pub fn required(names: &[&str]) -> Vec<ChannelNeed> {
    names.iter().map(|name| channel(name, note(name))).collect()
}

/// Channels for which a warm default stands in.
pub fn optional(names: &[&str]) -> Vec<ChannelNeed> {
    let need = |name: &&str| channel_or(name, warm(name), note(name));
    names.iter().map(need).collect()
}

fn warm(name: &str) -> f64 {
    match name {
        "gearbox_oil_temp_k" => GEARBOX_OIL_K,
        "axle_oil_temp_k" => AXLE_OIL_K,
        "ambient_temp_k" => AMBIENT_K,
        "joint_angle_rad" => JOINT_ANGLE_RAD,
        "contamination_factor" => 1.0,
        _ => 0.0,
    }
}

fn note(name: &str) -> &'static str {
    match name {
        "engine_speed_rad_s" => "Speed of the input shaft.",
        "engine_torque_n_m" => "Torque of the input shaft. Negative on overrun: the coast flanks.",
        "gear" => "Which pair carries the torque. 0 neutral.",
        "axle_torque_n_m" => {
            "Torque of both driven wheels together, from a sensor or from engine torque and ratios. Negative on overrun."
        }
        "wheel_speed_left_rad_s" | "wheel_speed_right_rad_s" => "Turns of shaft and joint.",
        "differential_slip_speed_rad_s" => "One wheel's speed against the other's, signed.",
        "joint_angle_rad" => {
            "From ride height and suspension travel. 6 degrees stand in (assumed)."
        }
        "lateral_acceleration_m_s2" => "Cornering loads the outer wheel.",
        "longitudinal_acceleration_m_s2" => "Moves load between the axles.",
        "vertical_acceleration_m_s2" => "Wheel load.",
        "vehicle_speed_m_s" => "Air over the part.",
        "gearbox_oil_temp_k" => "Viscosity of the film; 95 degC stand in.",
        "axle_oil_temp_k" => "Viscosity of the film; 105 degC stand in.",
        "ambient_temp_k" => "Cooling; 25 degC stand in.",
        "contamination_factor" => {
            "Debris in the oil: 1 clean, 3 to 5 with visible metal (common practice, no source)."
        }
        _ => "",
    }
}

const CLUTCH: [&str; 5] = [
    "start_s",
    "duration_s",
    "energy_j",
    "peak_power_w",
    "peak_torque_n_m",
];

/// Launches from rest.
pub fn launch() -> ShockNeed {
    shock("launch", &CLUTCH)
}

/// Engagements of the clutch other than launches.
pub fn clutch_engagement() -> ShockNeed {
    shock("clutch_engagement", &CLUTCH)
}

/// Gear shifts.
pub fn shift() -> ShockNeed {
    let fields = [
        "duration_s",
        "from_gear",
        "to_gear",
        "engine_speed_step_rad_s",
        "mean_engine_torque_n_m",
    ];
    shock("shift", &fields)
}

/// Kerb and landing impacts.
pub fn impact() -> ShockNeed {
    shock("impact", &["duration_s", "peak_vertical_acceleration_m_s2"])
}

/// Bounds of channels and of fields of shocks: those of the shared vocabulary.
pub fn bounds(name: &str) -> Option<Bounds> {
    Some(match name {
        "engine_speed_rad_s" => (0.0, 2500.0),
        "engine_torque_n_m" | "mean_engine_torque_n_m" => (-1000.0, 5000.0),
        "gear" | "from_gear" | "to_gear" => (-1.0, 12.0),
        "axle_torque_n_m" => (-3.0e4, 6.0e4),
        "wheel_speed_left_rad_s" | "wheel_speed_right_rad_s" => (-20.0, 600.0),
        "differential_slip_speed_rad_s" => (-600.0, 600.0),
        "joint_angle_rad" => (-0.8, 0.8),
        "vehicle_speed_m_s" => (-5.0, 150.0),
        "lateral_acceleration_m_s2" => (-80.0, 80.0),
        "longitudinal_acceleration_m_s2" => (-120.0, 120.0),
        "vertical_acceleration_m_s2" | "peak_vertical_acceleration_m_s2" => (-500.0, 500.0),
        "gearbox_oil_temp_k" | "axle_oil_temp_k" => (230.0, 470.0),
        "ambient_temp_k" => (220.0, 340.0),
        "contamination_factor" => (1.0, 20.0),
        "start_s" => (0.0, 1.0e9),
        "duration_s" => (0.0, 3600.0),
        "energy_j" => (0.0, 1.0e8),
        "peak_power_w" => (0.0, 1.0e7),
        "peak_torque_n_m" => (0.0, 1.0e4),
        "engine_speed_step_rad_s" => (-2500.0, 2500.0),
        _ => return None,
    })
}

//! Constants of the model. How each came to its value stands on the card.

/// Cycles at which the strength is given.
pub const KNEE_CYCLES: f64 = 2.0e6;
/// Default effective torsional strength of polished metal \[Pa\], calibrated.
pub const STRENGTH_PA: f64 = 3.80e8;
/// Maximum height Rz of the profile over Ra. From memory.
pub const RZ_PER_RA: f64 = 6.0;
/// Depth to which roughness lowers strength \[m\]. Assumed.
pub const ROUGH_DEPTH_M: f64 = 2.0e-5;
/// Depth to which the start of a crack is looked for \[m\]. Assumed.
pub const DEEPEST_M: f64 = 2.0e-3;
/// Peterson's length in torsion over that in bending. From memory.
pub const TORSION_LENGTH_SHARE: f64 = 0.6;
/// Share of made-in residual stress that the hardest torque takes away, for each shear yield strength of elastic stress at the notch. Calibrated.
pub const RELAXED_PER_YIELD: f64 = 0.4;
/// Share of made-in residual stress that stays whatever the torque. Assumed.
pub const LEAST_RETAINED: f64 = 0.3;
/// Amplitude over strength beyond which a cycle is past all fatigue: the shaft breaks at once.
pub const LARGEST_UTILISATION: f64 = 20.0;
/// Speed of the wheels that stands in \[rad/s\]. Assumed.
pub const WHEEL_SPEED_RAD_S: f64 = 100.0;
/// Wear coefficient of a greased steel spline \[m²/N\]. Assumed.
pub const SPLINE_WEAR_M2_N: f64 = 2.0e-15;
/// Launch torque by the clutch over the highest counted one from which on the count is taken to have missed the launches. Assumed.
pub const MISSED_LAUNCH: f64 = 1.15;
/// Largest twist that is told \[rad\].
pub const MOST_TWIST_RAD: f64 = 3.0;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed: one load and one steel.
pub const CORRELATIONS: [f64; 5] = [0.8, 0.8, 0.8, 0.3, 0.2];

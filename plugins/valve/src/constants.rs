//! Constants of the model. How each came to its value stands on the card.

/// Cycles at which fatigue strengths are given.
pub const KNEE_CYCLES: f64 = 1.0e7;
/// 90 % quantile of the standard normal distribution: strengths of the materials are those that nine of ten valves survive.
pub const Z90: f64 = 1.281_551_565_544_600_4;
/// Maximum height Rz of the profile over Ra.
pub const RZ_PER_RA: f64 = 6.0;
/// Roughness Ra at which the materials' strengths hold \[m\].
pub const REFERENCE_RA_M: f64 = 0.8e-6;
/// Share of residual stress at the groove that stays.
pub const RETAINED: f64 = 0.7;
/// Depth to which the start of a crack is looked for \[m\].
pub const DEEPEST_M: f64 = 1.0e-3;
/// Utilisation beyond which a cycle breaks the part at once.
pub const LARGEST: f64 = 20.0;
/// Temperature of the groove \[K\].
pub const GROOVE_K: f64 = 400.0;
/// Impact wear: worn volume times hardness over impact energy.
pub const IMPACT_SHARE: f64 = 2.12e-4;
/// Default sliding wear coefficient of the seat \[m²/N\], calibrated.
pub const SEAT_WEAR_M2_N: f64 = 2.65e-14;
/// Default wear coefficient of the stem \[m²/N\].
pub const STEM_WEAR_M2_N: f64 = 1.2e-16;
/// Heat transfer from the rim through seat and insert to the coolant \[W/(m²·K)\].
pub const SEAT_W_M2_K: f64 = 7.0e3;
/// Heat transfer from port gas to an exhaust head at full load and rated speed \[W/(m²·K)\].
pub const EXHAUST_W_M2_K: f64 = 600.0;
/// The same to an intake head.
pub const INTAKE_W_M2_K: f64 = 500.0;
/// Heat transfer from stem to guide \[W/(m²·K)\].
pub const GUIDE_W_M2_K: f64 = 2.0e3;
/// Temperature of the charge in the intake port \[K\].
pub const CHARGE_K: f64 = 330.0;
/// Flow through the port without load over that at full load.
pub const IDLE_FLOW: f64 = 0.25;
/// Logarithm of mean radii of rim and centre, of equal areas each.
pub const RADIAL_LOG: f64 = 0.604;
/// Fall of temperature from centre to edge over that between the means of both halves, for a parabola.
pub const EDGE_FALL: f64 = 2.0;
/// Rise of peak pressure for each unit of knock level.
pub const KNOCK_RISE: f64 = 0.1;
/// Largest multiplier of peak pressure by knock.
pub const KNOCK_MOST: f64 = 1.6;
/// Stem temperature from which oil is lost, and at which none is left \[K\].
pub const OIL_LOSS_K: (f64, f64) = (473.15, 533.15);
/// Share of the variance of ln(rate) that is common to the mechanisms of a valve.
pub const CORRELATION: f64 = 0.3;
/// Spread of the computed head temperature \[K\].
pub const HEAD_SD_K: f64 = 30.0;

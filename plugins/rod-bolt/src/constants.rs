//! Constants of the model; their basis stands on the card.

/// Standard deviation of ln(endurance limit) between bolts.
pub const STRENGTH_LN_SD: f64 = 0.06;
/// Standard normal quantile of the share of bolts (10 %) whose strength is below the endurance line.
pub const LINE_Z: f64 = -1.281_551_565_544_6;
/// Plastic strain of the yielding part at tensile strength.
pub const UNIFORM_STRAIN: f64 = 0.05;
/// Preload factors, in standard deviations of ln(preload), at which damage is kept.
pub const KEPT_Z: [f64; 8] = [-5.0, -4.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0];
/// Yield used by tightening, with torsion, above which the reader is told.
pub const MOST_TIGHTENING_USE: f64 = 0.9;
/// Preload over yield load below which the reader is told.
pub const LEAST_PRELOAD_USE: f64 = 0.45;
/// Departure of friction from that of the torque specification above which the torque is called invalid.
pub const FRICTION_TOLERANCE: f64 = 0.05;

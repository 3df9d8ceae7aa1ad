//! The model's constants. Each stands on the card with how it came to its value.

/// Wear coefficient of a bare titanium taper on steel keepers \[m²/N\]. Calibrated.
pub const TAPER_WEAR_M2_N: f64 = 7.3e-14;
/// Wear coefficient of the keepers over that of a bare titanium taper. Assumed.
pub const KEEPER_SHARE: f64 = 0.25;
/// Wear coefficient of a bare titanium flange under a spring's end coil \[m²/N\]. Calibrated.
pub const SEAT_WEAR_M2_N: f64 = 4.4e-14;
/// Wear of a bare hardened steel over that of bare titanium. Assumed.
pub const STEEL_WEAR_SHARE: f64 = 0.6;
/// Cells along the taper, steps from one reversal of its force to the next.
pub const TAPER_CELLS: usize = 24;
/// See [`TAPER_CELLS`].
pub const TAPER_STEPS: usize = 4;
/// Smallest range of a force that counts as a reversal, over its highest value.
pub const LEAST_RANGE: f64 = 0.01;
/// Cycles at which strength is stated.
pub const KNEE_CYCLES: f64 = 1.0e7;
/// Slope of the S-N line. Assumed.
pub const SLOPE: f64 = 9.0;
/// Coefficient of variation of strength \[1\]. Assumed.
pub const STRENGTH_SCATTER: f64 = 0.08;
/// Depth to which roughness lowers strength \[m\]. Assumed.
pub const ROUGH_DEPTH_M: f64 = 20.0e-6;
/// Depth to which the start of a crack is looked for \[m\].
pub const DEEPEST_M: f64 = 0.5e-3;
/// Rz over Ra. From memory.
pub const RZ_PER_RA: f64 = 6.0;
/// Share of residual stress that stays in service. Assumed.
pub const RETAINED: f64 = 0.8;
/// Hazard of galling of bare titanium for each unit of friction work over area where most is done \[m²/J\]. Assumed.
pub const GALLING_M2_J: f64 = 5.0e-10;
/// Spread between the retainers of one engine: standard deviation of ln(wear). Assumed.
pub const RETAINER_LN_SD: f64 = 0.15;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed.
pub const CORRELATIONS: [f64; 6] = [0.5, 0.5, 0.1, 0.1, 0.3, 0.3];
/// Sink in one event that is no wear \[m\]: common practice, no source.
pub const JUMP_M: f64 = 0.05e-3;
/// Modulus of elasticity \[Pa\] and Poisson's ratio of steel keepers and stem. From memory.
pub const STEEL: (f64, f64) = (2.05e11, 0.29);

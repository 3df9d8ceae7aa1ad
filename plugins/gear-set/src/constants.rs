//! The model's constants. Each stands on the card with how it came to its value.

/// Most gears of a box.
pub const GEARS: usize = 6;
/// Default specific wear coefficient of the flanks \[m²/N\]. Assumed.
pub const WEAR_COEFFICIENT_M2_N: f64 = 3.0e-17;
/// Default rounding of a dog for each energy of engagement \[m/J\], calibrated.
pub const DOG_WEAR_M_J: f64 = 28.5e-9;
/// Scatter of ln(strength) to which the 1 % of the allowable stress numbers is taken: flanks, roots. Assumed.
pub const FLANK_LN_SD: f64 = 0.06;
/// As above, of the roots.
pub const ROOT_LN_SD: f64 = 0.07;
/// Standard normal quantile of 1 %, its sign turned.
pub const ONE_PER_CENT: f64 = 2.326_347_874_040_841;
/// Exponent of stress in pitting life between the knees.
pub const PITTING_EXPONENT: f64 = 13.2225;
/// Exponent of stress in root life between the knees.
pub const ROOT_EXPONENT: f64 = 8.7378;
/// Shape of the lives of flanks and of roots, by which the gears of a set are joined. From memory.
pub const PITTING_SHAPE: f64 = 1.8;
/// As above, of the roots.
pub const ROOT_SHAPE: f64 = 2.5;
/// Maximum height Rz of a profile over Ra. From memory: 4 to 7.
pub const RZ_PER_RA: f64 = 6.0;
/// Root-mean-square roughness over Ra. From memory.
pub const RQ_PER_RA: f64 = 1.25;
/// Density of the oil, for its kinematic viscosity \[kg/m³\]. Assumed.
pub const OIL_KG_M3: f64 = 865.0;
/// 40 degC \[K\], at which kinematic viscosity is given.
pub const FORTY_DEGC_K: f64 = 313.15;
/// Conductivity of oil \[W/(m·K)\]. From memory.
pub const OIL_CONDUCTIVITY_W_M_K: f64 = 0.13;
/// Thermal contact coefficient of case-carburised steel \[J/(m²·K·√s)\]. From memory (ISO/TS 6336-20).
pub const THERMAL_CONTACT: f64 = 13_795.0;
/// Poisson's ratio of steel.
pub const POISSON: f64 = 0.3;
/// Film and wear are followed at every fourth station.
pub const FILM_STRIDE: usize = 4;
/// Steps of the path of contact from A to B, from B to D and from D to E.
pub const STEPS: usize = 16;
/// Spread of ln(wear), ln(rounding) and ln(flash temperature) between boxes of one shop; stays when the rate is known. Assumed.
pub const BOX_LN_SD: f64 = 0.10;
/// Least torque that is followed \[N·m\].
pub const LEAST_TORQUE_N_M: f64 = 1.0;
/// Least room for a temperature that severity is counted against \[K\].
pub const LEAST_ROOM_K: f64 = 5.0;
/// Residual stress in the root of the standard's carburised test gears \[Pa\]: no gain at this one. Assumed.
pub const TEST_GEAR_RESIDUAL_PA: f64 = -2.0e8;
/// Share of residual stress that stays under load. Assumed.
pub const RETAINED: f64 = 0.75;
/// Ultimate strength over hardness of the case (ISO 18265 in the mean, from memory).
pub const STRENGTH_PER_HARDNESS: f64 = 0.33;
/// Depth to which the start of a root crack is looked for \[m\].
pub const DEEPEST_M: f64 = 4.0e-4;
/// Least and most that residual stress makes of the root's strength.
pub const RESIDUAL_FACTORS: (f64, f64) = (0.5, 1.4);
/// Share of the variance of ln(rate) common to all mechanisms of a set. Assumed.
pub const CORRELATION: f64 = 0.2;
/// Film over mean roughness at which micropitting is told of. From memory: 0.3.
pub const MICROPITTING_FILM: f64 = 0.3;

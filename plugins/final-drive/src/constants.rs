//! The model's constants. Each stands on the card with how it came to its value.

/// Default specific wear coefficient of both flanks \[m²/N\], calibrated.
pub const WEAR_COEFFICIENT_M2_N: f64 = 5.0e-17;
/// Default pinion turns in which the bearings lose 63 % of their preload, calibrated.
pub const SETTLING_TURNS: f64 = 1.702e7;
/// Default factor of uneven load over the face, calibrated.
pub const FACE_LOAD_FACTOR: f64 = 1.232;
/// Addendum and dedendum in mean normal modules. From memory: full-depth bevel teeth.
pub const ADDENDUM: f64 = 1.0;
/// See [`ADDENDUM`].
pub const DEDENDUM: f64 = 1.25;
/// Share of the face width that bears at full load. ISO 10300-1, from memory.
pub const BEARING_SHARE: f64 = 0.85;
/// Poisson's ratio of steel.
pub const POISSON: f64 = 0.3;
/// Rz over Ra. ISO 6336-2, from memory.
pub const RZ_PER_RA: f64 = 6.0;
/// Rq over Ra of normal heights: √(π/2).
pub const RQ_PER_RA: f64 = 1.253_314_137_315_500_3;
/// Friction of an elastohydrodynamic film. From memory: 0.03 to 0.06.
pub const FILM_FRICTION: f64 = 0.045;
/// Conductivity of oil \[W/(m·K)\]. From memory.
pub const OIL_CONDUCTIVITY_W_M_K: f64 = 0.13;
/// Density of the oil \[kg/m³\]. From memory.
pub const OIL_KG_M3: f64 = 870.0;
/// Bulk over oil temperature, for each kelvin of the mean flash temperature: 0.47 × 1.2 of a dip-lubricated gear. ISO/TS 6336-20, from memory.
pub const BULK_SHARE: f64 = 0.47 * 1.2;
/// Scatter of ln(strength) between pairs. Assumed.
pub const STRENGTH_LN_SD: f64 = 0.07;
/// Standard normal quantile of 99 %: a standard's strength numbers are for 1 % failures.
pub const ONE_PERCENT: f64 = 2.326_347_874_040_841;
/// Mean-stress sensitivity at the root: 0.35 Rm/GPa − 0.1 at 1200 `MPa` (FKM guideline, from memory).
pub const SENSITIVITY: f64 = 0.32;
/// Residual stress of a case as carburised, in the root limit \[Pa\]. Assumed.
pub const CASE_RESIDUAL_PA: f64 = -2.0e8;
/// Share of residual stress that stays under load. Assumed.
pub const RETAINED: f64 = 0.85;
/// Depth to which a root is followed \[m\].
pub const ROOT_DEPTH_M: f64 = 1.0e-3;
/// Nominal over local stress at a root, to which the stress falls inside. Assumed.
pub const LEAST_SHARE: f64 = 0.4;
/// Pinion turns at the peak of a counted torque cycle. Assumed.
pub const PEAK_TURNS: f64 = 1.0;
/// Pinion turns over which the freshness of the flanks falls to 1/e: 40 km are some three such. Assumed.
pub const SEATING_TURNS: f64 = 3.0e4;
/// Spread of ln(wear), ln(settling) and ln(contact temperature) between pairs of one setting. Assumed.
pub const PAIR_LN_SD: f64 = 0.15;
/// Spread of ln(stress) by the setting of the pattern. Assumed.
pub const SETTING_LN_SD: f64 = 0.03;
/// Share of the variance of ln(rate) common to all mechanisms, in card order. Assumed.
pub const CORRELATIONS: [f64; 7] = [0.3, 0.3, 0.3, 0.5, 0.6, 0.6, 0.6];
/// Least room for the contact temperature that severity is counted against \[K\].
pub const LEAST_ROOM_K: f64 = 5.0;

//! The model's constants. Each stands on the card with how it came to its value.

/// Weibull slope of the lives of rolling bearings (ISO 281:2007's reliability factor).
pub const SLOPE: f64 = 1.5;
/// Composite root-mean-square roughness \[m\] for which the reference viscosity stands: that of [`USUAL_RQ_M`] together. Assumed.
pub const USUAL_ROUGHNESS_M: f64 = 8.944_271_91e-8;
/// Usual Rq of raceways and of elements \[m\]. Assumed.
pub const USUAL_RQ_M: [f64; 2] = [0.08e-6, 0.04e-6];
/// Wear coefficient of raceways and elements together \[m²/N\]. Calibrated.
pub const WEAR_M2_N: f64 = 5.0e-18;
/// Sliding over rolling in the contacts. Assumed.
pub const SLIP: f64 = 0.01;
/// Depth of a dent over the element's diameter under the static rating (ISO 76).
pub const RATED_DENT: f64 = 1.0e-4;
/// Largest element load over that of evenly shared static rating, `Q0 = 5 C0/(Z cos α)` (ISO 76, from memory).
pub const STATIC_SHARE: f64 = 5.0;
/// Rise of the stress at a dent's shoulder for each rated dent of depth. Assumed.
pub const DENT_STRESS: f64 = 0.1;
/// Deepest dent that is followed, over the element's diameter.
pub const MOST_DENT: f64 = 1.0e-2;
/// Static safety below which an impact counts as a dent: common practice, no source.
pub const COUNTED_SAFETY: f64 = 1.5;
/// Hazard of the cage at the limiting speed \[1/s\]: one in a thousand hours. Assumed.
pub const CAGE_PER_S: f64 = 1.0e-3 / 3600.0;
/// Exponent of the cage's hazard over speed. Assumed.
pub const CAGE_EXPONENT: f64 = 10.0;
/// Coefficient of variation of the dynamic rating. Assumed.
pub const RATING_SCATTER: f64 = 0.05;
/// Spread of ln(wear) between bearings; stays when the rate is known. Assumed.
pub const BEARING_LN_SD: f64 = 0.2;
/// Spread of ln(depth) of dents between impacts that look alike. Assumed.
pub const DENT_LN_SD: f64 = 0.2;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed.
pub const CORRELATIONS: [f64; 5] = [0.5, 0.5, 0.1, 0.3, 0.1];
/// Grease life in hours: `lg t = a − b r − (c − d r) T` with r = speed over limiting speed (0.25 to 1), T in degrees C (70 to 160). From memory, for
/// wide-range greases.
pub const GREASE: [f64; 4] = [6.12, 1.4, 0.018, 0.006];
/// Share of the preload at which it counts as lost: common practice, no source.
pub const PRELOAD_LEFT: f64 = 0.5;
/// Viscosity ratio below which the film is told to be thin (ISO 281: below it additives matter).
pub const THIN_FILM: f64 = 0.4;
/// Standard gravity \[m/s²\].
pub const GRAVITY_M_S2: f64 = 9.806_65;

//! The model's constants. Each stands on the card with how it came to its value.

/// Wear coefficient of the bush on a bare pin \[m²/N\]. Calibrated.
pub const BUSH_WEAR_M2_N: f64 = 2.1e-17;
/// Wear coefficient of a bare pin \[m²/N\]. Assumed: a tenth of the bush's.
pub const PIN_WEAR_M2_N: f64 = 2.1e-18;
/// Rise of the bush's oil over the engine's at full load \[K\]. Assumed.
pub const FILM_RISE_K: f64 = 25.0;
/// Share of the pin's swing that slides in the bush; the rest slides in the bosses. Assumed.
pub const BUSH_SWING_SHARE: f64 = 0.5;
/// Rise of peak pressure for each unit of knock level \[1\], and most of it. Assumed.
pub const KNOCK_PEAK: [f64; 2] = [0.10, 0.6];
/// Cycles at which the strength of the pin is stated \[1\].
pub const PIN_CYCLES: f64 = 1.0e7;
/// Coefficient of variation of the strength of the pin \[1\]. Assumed.
pub const PIN_SCATTER: f64 = 0.07;
/// Hazard of losing a coating for each unit of friction work over area \[m²/J\]. Assumed.
pub const COATING_HAZARD_M2_J: f64 = 1.4e-13;
/// Spread between cylinders of one engine: standard deviation of ln(wear). Assumed.
pub const CYLINDER_LN_SD: f64 = 0.15;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed.
pub const CORRELATIONS: [f64; 5] = [0.5, 0.5, 0.3, 0.1, 0.1];
/// Poisson's ratio of pin and bush.
pub const POISSON: f64 = 0.3;
/// Absolute pressure under the piston \[Pa\].
pub const CRANKCASE_PA: f64 = 1.0e5;

//! The model's constants. Each stands on the card with how it came to its value.

/// Default specific wear coefficient of lobe and follower \[m²/N\], calibrated.
pub const WEAR_COEFFICIENT_M2_N: f64 = 0.86e-16;
/// Friction of an elastohydrodynamic film. From memory: 0.03 to 0.06.
pub const FILM_FRICTION: f64 = 0.045;
/// Sliding over cam speed at which a roller's traction is three quarters of its most. Assumed.
pub const TRACTION_SLIP: f64 = 0.01;
/// Conductivity of oil \[W/(m·K)\]. From memory.
pub const OIL_CONDUCTIVITY_W_M_K: f64 = 0.13;
/// Poisson's ratio of steel.
pub const POISSON: f64 = 0.3;
/// Density of a roller \[kg/m³\].
pub const STEEL_KG_M3: f64 = 7800.0;
/// Exponent of Hertz pressure in pitting life. From memory.
pub const PITTING_EXPONENT: f64 = 10.0;
/// Turns at the pitting strength.
pub const PITTING_TURNS: f64 = 1.0e7;
/// Hertz pressure that half of such parts stand for 1e7 turns at a film as thick as the roughness, over hardness. Assumed.
pub const PITTING_STRENGTH: f64 = 0.272;
/// Scatter of ln(pitting strength) between parts. Assumed.
pub const STRENGTH_LN_SD: f64 = 0.08;
/// Film over roughness, and the life it gives over that at 1. Assumed; linear between in the logarithm of the ratio, held beyond.
pub const FILM_LIFE: [(f64, f64); 5] =
    [(0.5, 0.3), (0.65, 0.5), (1.0, 1.0), (1.6, 1.6), (2.0, 2.0)];
/// Turns of the cam over which the freshness of a surface falls to 1/e: some 20 min at 2250 1/min of the crank are three such. Assumed.
pub const SEATING_TURNS: f64 = 7500.0;
/// Spread of ln(wear) and ln(flash temperature) between lobes of one engine; stays when the rate is known. Assumed.
pub const LOBE_LN_SD: f64 = 0.15;
/// Share of the variance of ln(rate) common to both wears and the flash temperature. Assumed.
pub const WEAR_CORRELATION: f64 = 0.6;
/// The same for pitting. Assumed.
pub const PITTING_CORRELATION: f64 = 0.2;
/// Least room for the flash temperature that severity is counted against \[K\].
pub const LEAST_ROOM_K: f64 = 5.0;

//! The model's constants. Each stands on the card with how it came to its value.

/// Cycles at which the S-N line has the effective strength. Assumed, as a reference only.
pub const KNEE_CYCLES: f64 = 1.0e7;
/// Share of the residual stress as made that stays after the first loads. Assumed.
pub const RETAINED: f64 = 0.85;
/// Tensile strength \[`MPa`\] of one HV of steel. From memory.
pub const MPA_PER_HV: f64 = 3.3;
/// Hardness above the core's at the nitriding depth \[HV\] (ISO 18203). From memory.
pub const CASE_OVER_CORE_HV: f64 = 50.0;
/// Depth at which the case has fallen to the core, over the case depth. Assumed.
pub const CASE_END: f64 = 1.3;
/// Offset of hardness in the strength of steel with small defects \[HV\] (Y. Murakami). From memory.
pub const DEFECT_HV: f64 = 120.0;
/// Depth of a crack that a finish of roughness Ra amounts to, over Ra: the peak-to-valley height Rz of a turned or ground surface. From
/// memory.
pub const NOTCH_OVER_RA: f64 = 6.0;
/// Roughness Ra of the nose's shoulder \[m\]. Assumed.
pub const NOSE_RA_M: f64 = 0.8e-6;
/// Depth below which the roughness of the surface no longer counts \[m\]. Assumed.
pub const ROUGHNESS_DEPTH_M: f64 = 1.0e-5;
/// Threshold of a long crack in quenched and tempered steel \[Pa·√m\], tension part of the cycle. From memory.
pub const CRACK_THRESHOLD: f64 = 5.0e6;
/// Geometry factor of a long surface crack.
pub const SURFACE_CRACK: f64 = 1.12;
/// Loss factor of an aged damper over that of a new one. Assumed.
pub const AGED_LOSS: f64 = 0.5;
/// Stiffness of an aged damper over that of a new one: the bond is torn and the ring comes loose. Assumed.
pub const AGED_STIFFNESS: f64 = 0.2;
/// Taper over the largest wear of a journal. Assumed.
pub const TAPER_SHARE: f64 = 0.5;
/// Correlation between the rates of the two fatigue mechanisms: one forging. Assumed.
pub const FORGING_CORRELATION: f64 = 0.8;
/// Spread of ln(wear) between the journals of one crank. Assumed.
pub const JOURNAL_LN_SD: f64 = 0.15;
/// Share of the cycle in which the film of the pin is near its least. Assumed.
pub const LEAST_FILM_SHARE: f64 = 0.15;
/// Root-mean-square roughness over Ra of a ground surface. From memory (normal heights: √(π/2) = 1.25).
pub const RQ_OVER_RA: f64 = 1.25;
/// Wear coefficient of a pin at the reference hardness \[m²/N\]. Assumed.
pub const REFERENCE_WEAR_M2_N: f64 = 4.4e-17;
/// Hardness at which that is stated: 30 HRC \[Pa\].
pub const REFERENCE_HARDNESS_PA: f64 = 3.0e9;
/// Exponent of hardness in the wear coefficient: a quarter at twice the hardness. Assumed.
pub const HARDNESS_EXPONENT: f64 = 2.0;

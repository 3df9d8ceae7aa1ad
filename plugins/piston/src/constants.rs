//! The model's constants. Each stands on the card with how it came to its value.

/// Wear coefficient of the grooves at [`WEAR_TEMP_K`] \[m²/N\]. Calibrated.
pub const GROOVE_WEAR_M2_N: f64 = 1.86e-14;
/// Wear coefficient of the pin bores \[m²/N\]. Calibrated.
pub const PIN_BORE_WEAR_M2_N: f64 = 3.2e-18;
/// Groove temperature at which its wear coefficient holds \[K\], 220 °C.
pub const WEAR_TEMP_K: f64 = 493.15;
/// Rise of groove temperature that doubles its wear \[K\]. Common practice.
pub const WEAR_DOUBLING_K: f64 = 20.0;
/// Volume worn for each joule that a ring brings to its groove \[m³/J\], at [`WEAR_TEMP_K`]. Assumed.
pub const IMPACT_WEAR_M3_J: f64 = 5.0e-14;
/// Wear of a groove under which its fresh peaks still stand, over their height \[1\]: seating dose 1.
pub const SEATING_DEPTH: f64 = 1.0;
/// Tendency of a seated groove to micro-weld, over that of a fresh one \[1\]. Assumed.
pub const SEATED_WELDING: f64 = 0.2;
/// Groove temperature \[K\], flank pressure \[Pa\] and time \[s\] of micro-welding index 1. Assumed.
pub const WELDING_REFERENCE: [f64; 3] = [543.15, 2.0e6, 1800.0];
/// Molar gas constant \[J/(mol·K)\], exact (SI).
pub const GAS_J_MOL_K: f64 = 8.314_462_618;
/// Speed at which the stated groove temperature holds \[rad/s\], 6000 1/min.
pub const GROOVE_SPEED_RAD_S: f64 = 628.318_530_717_958_6;
/// Rise of groove temperature with that of coolant and of oil \[1\]. Assumed.
pub const COOLANT_SHARE: f64 = 1.0;
/// See [`COOLANT_SHARE`].
pub const OIL_SHARE: f64 = 0.3;
/// Warm coolant and oil, at which the stated groove temperature holds \[K\].
pub const WARM_COOLANT_K: f64 = 363.15;
/// See [`WARM_COOLANT_K`].
pub const WARM_OIL_K: f64 = 378.15;
/// Oil gauge pressures between which the jets open \[Pa\]. Assumed.
pub const JETS_OPEN_PA: [f64; 2] = [1.5e5, 2.5e5];
/// Rise of groove temperature under sustained knock \[K\]. Assumed.
pub const KNOCK_RISE_K: f64 = 30.0;
/// Rise of peak pressure for each unit of knock level \[1\], and most of it. Assumed.
pub const KNOCK_PEAK: [f64; 2] = [0.10, 0.6];
/// Highest temperature that the laws are followed to \[K\]: the alloy begins to melt.
pub const MELTING_K: f64 = 800.0;
/// Share of groove over coolant temperature that reaches the skirt. Assumed.
pub const SKIRT_HEAT_SHARE: f64 = 0.75;
/// Share of groove over coolant temperature that reaches the boss. Assumed.
pub const BOSS_HEAT_SHARE: f64 = 0.8;
/// Skirt temperature from which it collapses \[K\], 170 °C. Assumed.
pub const COLLAPSE_TEMP_K: f64 = 443.15;
/// Collapse for each newton, second and kelvin above that \[m/(N·s·K)\]. Calibrated.
pub const COLLAPSE_M_N_S_K: f64 = 1.0e-14;
/// Rise of the skirt's film over the mean of coolant and oil, at full load \[K\]. Assumed.
pub const FILM_RISE_K: f64 = 15.0;
/// Temperature at which the boss has its stated strength \[K\], 230 °C.
pub const BOSS_TEMP_K: f64 = 503.15;
/// Strength that the boss loses for each kelvin above that, over its strength there \[1/K\]. Assumed.
pub const BOSS_WEAKENING_PER_K: f64 = 0.0025;
/// Cycles at which the strength of the boss is stated \[1\].
pub const BOSS_CYCLES: f64 = 1.0e7;
/// Coefficient of variation of the strength of the boss \[1\]. Assumed.
pub const BOSS_SCATTER: f64 = 0.10;
/// Share of the pin's swing that goes to the bosses; the rest goes to the small-end bush. Assumed.
pub const BOSS_SWING_SHARE: f64 = 0.5;
/// Spread between cylinders of one engine: standard deviation of ln(wear). Assumed.
pub const CYLINDER_LN_SD: f64 = 0.15;
/// Share of the variance of ln(rate) common to all mechanisms (temperature), by mechanism. Assumed.
pub const CORRELATIONS: [f64; 6] = [0.5, 0.5, 0.4, 0.5, 0.2, 0.2];
/// Poisson's ratio of piston and bore.
pub const POISSON: f64 = 0.33;
/// Micro-welding index from which the reader is told.
pub const WELDING_WARNING: f64 = 0.5;
/// Groove temperature from which the reader is told \[K\], 270 °C.
pub const HOT_GROOVE_K: f64 = 543.15;

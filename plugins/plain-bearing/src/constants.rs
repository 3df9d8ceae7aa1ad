//! The model's constants. Each stands on the card with how it came to its value.

/// Gallery pressure for each rad/s at which the gap is full: 10 psi for 1000 1/min. Common practice, no source.
pub const FLOODING_PA_S: f64 = 658.4;
/// Oil left in the gap without pressure, in radial clearances. Assumed.
pub const LEAST_LAYER: f64 = 0.1;
/// Density of hot oil \[kg/m³\]. From memory.
pub const OIL_DENSITY_KG_M3: f64 = 820.0;
/// Heat capacity of hot oil \[J/(kg·K)\]. From memory.
pub const OIL_HEAT_J_KG_K: f64 = 2100.0;
/// Heat that housing and journal take from the film, for each area of film and kelvin over the oil \[W/(m²·K)\]. Assumed.
pub const WALL_HEAT_W_M2_K: f64 = 2000.0;
/// Exponent of specific load in overlay fatigue. From memory.
pub const FATIGUE_EXPONENT: f64 = 9.0;
/// Cycles at the rated fatigue strength. From memory.
pub const FATIGUE_CYCLES: f64 = 1.0e7;
/// Fatigue strength lost for each kelvin over its reference temperature \[1/K\]. From memory.
pub const FATIGUE_SLOPE_PER_K: f64 = 0.004;
/// Reference temperature of the fatigue strength \[K\].
pub const FATIGUE_TEMP_K: f64 = 373.15;
/// Scatter of ln(fatigue strength) between shells. Assumed.
pub const STRENGTH_LN_SD: f64 = 0.10;
/// Rise of peak cylinder pressure for each unit of knock level. Assumed.
pub const KNOCK_RISE: f64 = 0.15;
/// Spread of ln(wear) and ln(boundary heat) between bearings of one crank; stays when the rate is known. Assumed.
pub const BEARING_LN_SD: f64 = 0.15;
/// Share of the variance of ln(rate) common to wear, clearance and boundary heat. Assumed.
pub const WEAR_CORRELATION: f64 = 0.8;
/// The same for fatigue. Assumed.
pub const FATIGUE_CORRELATION: f64 = 0.2;
/// Poisson's ratio.
pub const POISSON: f64 = 0.3;
/// Modulus of the journal \[Pa\].
pub const STEEL_PA: f64 = 2.06e11;
/// Gallery pressure below which a dip calls for a look at the shells \[Pa\]. Common practice, no source.
pub const CAUTION_PRESSURE_PA: f64 = 2.0e5;
/// Duration above which it does \[s\]. Common practice, no source.
pub const CAUTION_S: f64 = 1.0;
/// Engine speed above which it does \[rad/s\]: 5000 1/min. Common practice, no source.
pub const CAUTION_SPEED_RAD_S: f64 = 523.6;
/// Share of a neighbouring throw's load that a main bearing takes: the crank is cut at its mains. Assumed.
pub const MAIN_SHARE: f64 = 0.5;

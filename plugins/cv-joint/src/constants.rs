//! Constants of the model. How each came to its value stands on the card.

/// Median life over L10 of a Weibull distribution of slope 1.6: `(ln 2/ln(1/0.9))^(1/1.6)`.
pub const MEDIAN_OVER_L10: f64 = 3.245;
/// Spread of ln(life) from joint to joint, of the lognormal that has the same L10 and median: `ln(3.245)/1.2816`.
pub const PITTING_LN_SD: f64 = 0.918_5;
/// Viscosity ratio at which the capacity holds: ground tracks in grease. Assumed.
pub const CAPACITY_KAPPA: f64 = 0.1;
/// Contamination factor times fatigue load limit over load. Assumed.
pub const CONTAMINATED_LIMIT: f64 = 0.05;
/// Power of the film ratio in the viscosity ratio (ISO 281, from memory).
pub const KAPPA_OF_LAMBDA: f64 = 1.3;
/// Root-mean-square over mean roughness.
pub const RQ_PER_RA: f64 = 1.25;
/// Friction of what the film carries. Assumed.
pub const FILM_FRICTION: f64 = 0.05;
/// Pressure-viscosity coefficient of the base oil \[1/Pa\]. From memory.
pub const ALPHA_PER_PA: f64 = 2.0e-8;
/// Density of the base oil \[kg/m³\]. Assumed.
pub const DENSITY_KG_M3: f64 = 880.0;
/// Pressure at which a ball or track takes a permanent set of 1e-4 of the ball's diameter \[Pa\] (ISO 76).
pub const SET_PA: f64 = 4.2e9;
/// Hardness for which that holds \[Pa\], 700 HV. Assumed.
pub const SET_HARDNESS_PA: f64 = 6.87e9;
/// Power of hardness in that pressure. From memory.
pub const SET_HARDNESS_POWER: f64 = 2.0 / 3.0;
/// Temperature at which the life of the grease is given \[K\].
pub const GREASE_K: f64 = 363.15;
/// Temperature by which the life of the grease is halved \[K\]. Common practice.
pub const GREASE_HALVING_K: f64 = 12.5;
/// Boots torn in an hour of turning at the angle below. Assumed.
pub const BOOT_PER_HOUR: f64 = 1.0e-3;
/// Angle for that \[rad\].
pub const BOOT_ANGLE_RAD: f64 = 0.105;
/// Boots torn in one impact of the acceleration below. Assumed.
pub const BOOT_PER_IMPACT: f64 = 2.0e-6;
/// Acceleration for that \[m/s²\].
pub const BOOT_IMPACT_M_S2: f64 = 50.0;
/// Wear coefficient of greased ground tracks \[m²/N\]. Calibrated.
pub const TRACK_WEAR_M2_N: f64 = 1.55e-17;
/// Wear coefficient of the windows \[m²/N\]. Assumed.
pub const WINDOW_WEAR_M2_N: f64 = 1.5e-17;
/// Share of the variance of ln(rate) common to all mechanisms. Assumed: one load, one grease.
pub const CORRELATIONS: [f64; 6] = [0.4, 0.4, 0.4, 0.2, 0.2, 0.2];
/// Steps from one ball to the next in a turn.
pub const STEPS: u32 = 16;
/// Joint angles of the map, evenly from 0 \[rad\].
pub const ANGLES: usize = 65;
/// Largest joint angle of the map \[rad\].
pub const MOST_ANGLE_RAD: f64 = 0.8;
/// Films of the map, evenly from none.
pub const FILMS: usize = 241;
/// Thickest of them, over roughness: asperities carry nothing.
pub const MOST_FILM: f64 = 6.0;
/// Most rounds in which temperature, film and friction are brought together.
pub const ROUNDS: usize = 40;

//! The model's constants. Each stands on the card with how it came to its value.

/// Specific wear coefficient of the steel plates, warm \[m²/N\]. Calibrated together with the lining's.
pub const STEEL_WEAR_M2_N: f64 = 1.65e-15;
/// Specific wear coefficient of the linings on steel of the roughness below, warm \[m²/N\]. Calibrated.
pub const LINING_WEAR_M2_N: f64 = 5.0e-15;
/// Roughness of the steel at which the lining's wear coefficient is stated, Ra \[m\].
pub const ROUGHNESS_M: f64 = 0.4e-6;
/// Exponent of the lining's wear over the steel's roughness. Assumed.
pub const ROUGHNESS_EXPONENT: f64 = 0.5;
/// Temperature of the plates at which wear is stated \[K\].
pub const WEAR_AT_K: f64 = 383.15;
/// Rise that multiplies wear by e \[K\]. Assumed.
pub const WEAR_SCALE_K: f64 = 50.0;
/// Highest temperature that wear is counted at \[K\].
pub const HOTTEST_K: f64 = 1500.0;
/// Share of friction modifier in the oil at which friction and its slope are stated.
pub const MODIFIER_SHARE: f64 = 0.04;
/// Heat for each volume of oil that leaves 1/e of the modifier \[J/m³\]. Assumed.
pub const MODIFIER_J_M3: f64 = 1.2e10;
/// Rise of friction when all modifier is gone. Assumed.
pub const FRICTION_GAIN: f64 = 0.15;
/// Slope of friction that goes with the modifier \[s/m\]. Assumed.
pub const MODIFIER_SLOPE_S_M: f64 = 0.020;
/// Activation energy of glazing over the gas constant, 110 kJ/mol \[K\]. Assumed.
pub const GLAZING_K: f64 = 13_230.0;
/// Temperature at which the time below makes a dose of 1 \[K\].
pub const GLAZING_AT_K: f64 = 523.15;
/// Time of slip at that temperature \[s\]. Assumed.
pub const GLAZING_S: f64 = 800.0;
/// Share of friction that full glazing takes. Assumed.
pub const GLAZED_LOSS: f64 = 0.15;
/// Slope of friction that full glazing adds \[s/m\]. Assumed.
pub const GLAZED_SLOPE_S_M: f64 = -0.004;
/// Activation energy by which the oil's film leaves the steel, over the gas constant, 90 kJ/mol \[K\]. Assumed.
pub const FILM_K: f64 = 10_825.0;
/// Temperature at which 63 % of the film has gone \[K\]. Assumed.
pub const FILM_AT_K: f64 = 523.15;
/// Specific wear coefficient where the film has gone: scoring \[m²/N\]. From memory.
pub const SCORING_M2_N: f64 = 1.0e-13;
/// Expansion of the steel \[1/K\]. From memory.
pub const EXPANSION_PER_K: f64 = 1.2e-5;
/// Strain at which the steel yields while its band is held \[1\]: 700 MPa over 206 GPa. From memory.
pub const YIELD_STRAIN: f64 = 3.4e-3;
/// Temperatures between which the steel's yield strength falls straight to the share below \[K\]. From memory.
pub const SOFTENS_K: [f64; 2] = [573.15, 973.15];
/// Share of its yield strength that steel keeps above them. From memory.
pub const SOFT_SHARE: f64 = 0.1;
/// Waves round a warped plate: a saddle.
pub const WAVES: f64 = 2.0;
/// Steel: conductivity \[W/(m·K)\]. From memory.
pub const STEEL_W_M_K: f64 = 42.0;
/// Steel: density \[kg/m³\]. From memory.
pub const STEEL_KG_M3: f64 = 7800.0;
/// Steel: specific heat capacity \[J/(kg·K)\]. From memory.
pub const STEEL_J_KG_K: f64 = 490.0;
/// Lining of sintered bronze or sprayed molybdenum: conductivity \[W/(m·K)\]. Assumed.
pub const LINING_W_M_K: f64 = 20.0;
/// Lining: density \[kg/m³\]. Assumed.
pub const LINING_KG_M3: f64 = 6000.0;
/// Lining: specific heat capacity \[J/(kg·K)\]. Assumed.
pub const LINING_J_KG_K: f64 = 400.0;
/// Modulus of elasticity of the disc springs \[Pa\]. DIN EN 16984, from memory.
pub const SPRING_PA: f64 = 2.06e11;
/// Poisson's ratio of the disc springs \[1\]. DIN EN 16984, from memory.
pub const SPRING_POISSON: f64 = 0.3;
/// Spread of ln(slip across the differential) as logged. Common practice, no source.
pub const SLIP_LN_SD: f64 = 0.10;
/// Spread of ln(what scoring and warp add). Assumed.
pub const PLATES_LN_SD: f64 = 0.50;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed.
pub const CORRELATIONS: [f64; 4] = [0.8, 0.8, 0.3, 0.3];

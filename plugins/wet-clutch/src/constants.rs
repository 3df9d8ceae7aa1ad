//! The model's constants. Each stands on the card with how it came to its value.

use ringland_mechanics::clutch::wet::{Ageing, Oil};

/// Steel of separators and cores: thermal conductivity \[W/(m·K)\]. From memory.
pub const STEEL_CONDUCTIVITY_W_M_K: f64 = 46.0;
/// Density of steel \[kg/m³\]. From memory.
pub const STEEL_DENSITY_KG_M3: f64 = 7800.0;
/// Specific heat capacity of steel at 100 to 300 °C \[J/(kg·K)\]. From memory.
pub const STEEL_HEAT_CAPACITY_J_KG_K: f64 = 500.0;
/// Thermal expansion of steel \[1/K\]. From memory.
pub const STEEL_EXPANSION_PER_K: f64 = 12.0e-6;
/// Modulus of elasticity of steel \[Pa\]. From memory.
pub const STEEL_MODULUS_PA: f64 = 2.05e11;
/// Poisson's ratio of steel. From memory.
pub const STEEL_POISSON: f64 = 0.29;
/// Yield strength of a separator at 20 °C \[Pa\]. Assumed.
pub const YIELD_PA: f64 = 4.0e8;
/// Temperature at which half of the yield strength is left \[K\]. Assumed.
pub const HALF_YIELD_K: f64 = 773.0;
/// Temperature of the stated yield strength \[K\].
pub const ROOM_K: f64 = 293.15;
/// Least share of the yield strength that is left. Assumed.
pub const LEAST_YIELD: f64 = 0.1;
/// Automatic and dual-clutch oil near 95 °C. From memory.
pub const OIL: Oil = Oil {
    density_kg_m3: 800.0,
    heat_capacity_j_kg_k: 2200.0,
    conductivity_w_m_k: 0.13,
};
/// Temperature to which the activation of the lining is referred \[K\].
pub const GLAZE_REFERENCE_K: f64 = 473.0;
/// Time at 200 °C to a glaze of 1 \[s\]: the card's default. Calibrated.
pub const GLAZE_TIME_S: f64 = 1.0e6;
/// How friction falls with glaze and with the oil's friction modifier. Assumed.
pub const AGEING: Ageing = Ageing {
    coefficient_by_glaze: 0.25,
    slope_by_glaze_s_m: 0.006,
    slope_by_modifier_s_m: 0.005,
};
/// Energy over area to which the lining's energy life is referred \[J/m²\].
pub const ENERGY_REFERENCE_J_M2: f64 = 1.0e6;
/// Share of linings that have failed at the energy life that is stated.
pub const ENERGY_LIFE_AT: f64 = 0.1;
/// Standard deviation of ln(energy life) between packs and of what is believed of it, together. Assumed.
pub const ENERGY_LIFE_LN_SD: f64 = 0.7;
/// Wear of lining over temperature: activation energy \[J/mol\]. Assumed.
pub const WEAR_ACTIVATION_J_MOL: f64 = 10.0e3;
/// Temperature at which the wear coefficient is stated \[K\].
pub const WEAR_REFERENCE_K: f64 = 393.15;
/// Roughness Ra of the separator on which the wear coefficient is stated \[m\].
pub const REFERENCE_RA_M: f64 = 0.3e-6;
/// Heat made in unit volume of oil that uses up its friction modifier to 1/e \[J/m³\]. Assumed.
pub const MODIFIER_ENERGY_J_M3: f64 = 12.0e9;
/// Oxidation of oil: activation energy \[J/mol\], the rate doubling in 10 K near 100 °C. From memory.
pub const OXIDATION_J_MOL: f64 = 80.0e3;
/// Temperature of the stated oxidation time \[K\].
pub const OXIDATION_REFERENCE_K: f64 = 373.15;
/// Time at 100 °C to an oxidation dose of 1 \[s\]: 300 h. Assumed.
pub const OXIDATION_TIME_S: f64 = 1.08e6;
/// Rise of the acid number at an oxidation dose of 1 \[kg/kg\]: 2 mg of KOH in each g. Assumed.
pub const ACID_RISE: f64 = 2.0e-3;
/// Unevenness of pressure from which a hot spot grows \[1\]. Assumed.
pub const UNEVENNESS: f64 = 0.05;
/// Spread of ln(rate) between packs that stays when the rate is known, by mechanism: glaze, energy life, wear, flatness, judder. Assumed.
pub const PACK_LN_SD: [f64; 5] = [0.35, 0.35, 0.3, 0.5, 0.3];
/// Share of the variance of ln(rate) that is common to all mechanisms. Assumed.
pub const CORRELATIONS: [f64; 5] = [0.4, 0.4, 0.2, 0.2, 0.3];
/// Cells through each layer, time steps through an engagement and through each stretch of cooling.
pub const CELLS: usize = 12;
/// See [`CELLS`].
pub const STEPS: usize = 48;
/// See [`CELLS`].
pub const COOLING_STEPS: usize = 4;

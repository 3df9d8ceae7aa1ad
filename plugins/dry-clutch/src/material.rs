//! What linings and plates are made of. Values from memory where nothing else is said on the card.

use ringland_mechanics::clutch::heat::Layer;
use ringland_mechanics::fatigue::StrainLife;

/// Options of the choice `lining`.
pub const SINTERED: u32 = 0;
/// Organic lining on a steel core.
pub const ORGANIC: u32 = 1;
/// Discs and plates of carbon.
pub const CARBON: u32 = 2;

/// Heat properties: conductivity \[W/(m·K)\], density \[kg/m³\], heat capacity \[J/(kg·K)\], at the mean of what a clutch sees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thermal {
    /// Thermal conductivity through the thickness \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
    /// Specific heat capacity \[J/(kg·K)\].
    pub heat_capacity_j_kg_k: f64,
}

impl Thermal {
    /// A layer that fills a share of the face: what it holds and conducts for the whole face.
    pub fn layer(&self, thickness_m: f64, share: f64) -> Layer {
        Layer {
            thickness_m,
            conductivity_w_m_k: self.conductivity_w_m_k * share,
            density_kg_m3: self.density_kg_m3 * share,
            heat_capacity_j_kg_k: self.heat_capacity_j_kg_k,
        }
    }
}

/// A friction lining.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lining {
    /// Heat properties.
    pub thermal: Thermal,
    /// Wear for each unit of heat over that when cold, by temperature \[K\]; beyond the last it goes on by the last slope.
    pub wear_by_k: [(f64, f64); 3],
    /// Temperature at which it glazes at the stated rate \[K\].
    pub glazes_k: f64,
    /// Share of its friction that full glazing takes.
    pub glazing_loss: f64,
}

impl Lining {
    /// Wear for each unit of heat over that when cold, at a temperature \[K\].
    pub fn wear_factor(&self, temp_k: f64) -> f64 {
        let [first, second, third] = self.wear_by_k;
        let line = |(from_k, from): (f64, f64), (to_k, to): (f64, f64)| {
            from + (to - from) * (temp_k - from_k) / (to_k - from_k)
        };
        if temp_k <= first.0 {
            first.1
        } else if temp_k <= second.0 {
            line(first, second)
        } else {
            line(second, third)
        }
    }
}

/// The material of floaters, pressure plate and flywheel face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Heat properties.
    pub thermal: Thermal,
    /// Modulus of elasticity, hot \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Coefficient of thermal expansion \[1/K\].
    pub expansion_per_k: f64,
    /// Yield strength by temperature \[K\], \[Pa\]; held beyond the ends.
    pub yield_by_k: [(f64, f64); 6],
    /// Whether it is steel: stress relaxes in heat, and hot bands can harden.
    pub steel: bool,
    /// Strain cycling, cold.
    pub strain_life: StrainLife,
}

impl Plate {
    /// Yield strength at a temperature \[Pa\].
    pub fn yield_pa(&self, temp_k: f64) -> f64 {
        let table = &self.yield_by_k;
        let (mut before, mut value) = (table[0], table[0].1);
        for &(k, pa) in table {
            if temp_k <= before.0 {
                break;
            }
            let share = ((temp_k - before.0) / (k - before.0).max(1e-9)).clamp(0.0, 1.0);
            value = before.1 + share * (pa - before.1);
            before = (k, pa);
        }
        value
    }

    /// Strain of the yield limit in two equal directions, `σ_y (1 − ν) / E`.
    pub fn yield_strain(&self, temp_k: f64) -> f64 {
        self.yield_pa(temp_k) * (1.0 - self.poisson) / self.modulus_pa
    }
}

const STEEL_HEAT: Thermal = Thermal {
    conductivity_w_m_k: 40.0,
    density_kg_m3: 7800.0,
    heat_capacity_j_kg_k: 540.0,
};

/// Quenched and tempered medium-carbon steel.
const STEEL: Plate = Plate {
    thermal: STEEL_HEAT,
    modulus_pa: 1.85e11,
    poisson: 0.29,
    expansion_per_k: 1.35e-5,
    yield_by_k: [
        (293.0, 6.0e8),
        (573.0, 4.8e8),
        (673.0, 4.0e8),
        (773.0, 2.9e8),
        (873.0, 1.6e8),
        (973.0, 7.0e7),
    ],
    steel: true,
    strain_life: StrainLife {
        strength_coefficient_pa: 1.1e9,
        strength_exponent: -0.09,
        ductility_coefficient: 0.6,
        ductility_exponent: -0.6,
        modulus_pa: 1.85e11,
    },
};

const CARBON_HEAT: Thermal = Thermal {
    conductivity_w_m_k: 20.0,
    density_kg_m3: 1750.0,
    heat_capacity_j_kg_k: 1400.0,
};

/// Carbon fibre in carbon: too compliant, and too little expanding, to take a set.
const CARBON_PLATE: Plate = Plate {
    thermal: CARBON_HEAT,
    modulus_pa: 2.5e10,
    poisson: 0.1,
    expansion_per_k: 1.5e-6,
    yield_by_k: [
        (293.0, 1.5e8),
        (573.0, 1.5e8),
        (673.0, 1.5e8),
        (773.0, 1.5e8),
        (873.0, 1.5e8),
        (973.0, 1.5e8),
    ],
    steel: false,
    strain_life: StrainLife {
        strength_coefficient_pa: 2.0e8,
        strength_exponent: -0.05,
        ductility_coefficient: 0.0,
        ductility_exponent: -0.6,
        modulus_pa: 2.5e10,
    },
};

/// Linings, cores and plates of a clutch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Materials {
    /// Linings.
    pub lining: Lining,
    /// Cores of the discs.
    pub core: Thermal,
    /// Floaters, pressure plate and flywheel face.
    pub plate: Plate,
}

impl Materials {
    /// Those of an option of the choice `lining`.
    pub fn of(option: u32) -> Self {
        let lining = |thermal, wear_by_k, glazes_k, glazing_loss| Lining {
            thermal,
            wear_by_k,
            glazes_k,
            glazing_loss,
        };
        let heat = |conductivity_w_m_k, density_kg_m3, heat_capacity_j_kg_k| Thermal {
            conductivity_w_m_k,
            density_kg_m3,
            heat_capacity_j_kg_k,
        };
        let steel = |lining| Self {
            lining,
            core: STEEL_HEAT,
            plate: STEEL,
        };
        match option {
            SINTERED => steel(lining(
                heat(25.0, 5500.0, 430.0),
                [(473.0, 1.0), (623.0, 2.5), (773.0, 6.0)],
                773.0,
                0.20,
            )),
            ORGANIC => steel(lining(
                heat(0.6, 1900.0, 1000.0),
                [(373.0, 1.0), (523.0, 2.5), (623.0, 6.0)],
                573.0,
                0.40,
            )),
            _ => Self {
                lining: lining(
                    CARBON_HEAT,
                    [(673.0, 1.0), (873.0, 2.5), (1073.0, 6.0)],
                    1273.0,
                    0.05,
                ),
                core: CARBON_HEAT,
                plate: CARBON_PLATE,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nodes, the middle between them, and beyond the last one by its slope.
    #[test]
    fn wear_goes_by_the_table_and_on() {
        let lining = Materials::of(SINTERED).lining;
        for (k, factor) in [
            (300.0, 1.0),
            (473.0, 1.0),
            (548.0, 1.75),
            (623.0, 2.5),
            (773.0, 6.0),
            (923.0, 9.5),
        ] {
            assert!((lining.wear_factor(k) - factor).abs() < 1e-12, "{k}");
        }
    }

    #[test]
    fn yield_falls_with_heat_and_is_held_beyond_the_table() {
        let plate = Materials::of(SINTERED).plate;
        for (k, pa) in [
            (100.0, 6.0e8),
            (293.0, 6.0e8),
            (433.0, 5.4e8),
            (773.0, 2.9e8),
            (823.0, 2.25e8),
            (1500.0, 7.0e7),
        ] {
            assert!((plate.yield_pa(k) / pa - 1.0).abs() < 1e-9, "{k}");
        }
    }
}

//! What the retainer is made of.

/// Options of the choice `material`.
pub const STEEL: u32 = 0;
/// Titanium alloy.
pub const TITANIUM: u32 = 1;

/// A material: textbook values from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Tensile strength \[Pa\].
    pub tensile_pa: f64,
    /// Yield strength \[Pa\].
    pub yield_pa: f64,
    /// Fully reversed amplitude that a polished specimen bears at the knee \[Pa\].
    pub strength_pa: f64,
    /// Whether it galls on steel when bare.
    pub galls: bool,
}

/// Quenched and tempered alloy steel, 42 HRC.
const ALLOY_STEEL: Material = Material {
    modulus_pa: 2.05e11,
    poisson: 0.29,
    tensile_pa: 1.35e9,
    yield_pa: 1.2e9,
    strength_pa: 6.2e8,
    galls: false,
};
/// Annealed titanium with 6 % aluminium and 4 % vanadium.
const TITANIUM_6_4: Material = Material {
    modulus_pa: 1.14e11,
    poisson: 0.33,
    tensile_pa: 0.95e9,
    yield_pa: 0.86e9,
    strength_pa: 5.0e8,
    galls: true,
};

impl Material {
    /// The material of an option.
    pub fn of(option: u32) -> Self {
        if option == STEEL {
            ALLOY_STEEL
        } else {
            TITANIUM_6_4
        }
    }

    /// Shear modulus \[Pa\].
    pub fn shear_pa(&self) -> f64 {
        shear_pa(self.modulus_pa, self.poisson)
    }
}

/// Shear modulus \[Pa\] of an isotropic material.
pub fn shear_pa(modulus_pa: f64, poisson: f64) -> f64 {
    0.5 * modulus_pa / (1.0 + poisson)
}

//! Strain life and local strain at a notch.

use crate::range::OutOfRange;

/// Basquin, Coffin and Manson: `ε_a = (σf' − σm)/E (2N)^b + εf' (2N)^c`, with J. Morrow's mean-stress term.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrainLife {
    /// Fatigue strength coefficient σf' \[Pa\].
    pub strength_coefficient_pa: f64,
    /// Its exponent b, below 0.
    pub strength_exponent: f64,
    /// Fatigue ductility coefficient εf' \[1\].
    pub ductility_coefficient: f64,
    /// Its exponent c, below 0.
    pub ductility_exponent: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
}

const MOST_REVERSALS: f64 = 1.0e18;

impl StrainLife {
    /// Strain amplitude that lasts so many reversals (two a cycle) about a mean stress \[Pa\].
    pub fn amplitude(&self, reversals: f64, mean_pa: f64) -> f64 {
        let elastic = (self.strength_coefficient_pa - mean_pa) / self.modulus_pa;
        elastic * libm::pow(reversals, self.strength_exponent)
            + self.ductility_coefficient * libm::pow(reversals, self.ductility_exponent)
    }

    /// Reversals to failure at a strain amplitude about a mean stress \[Pa\], 1 to 1e18, by bisection in the logarithm.
    pub fn reversals(&self, amplitude: f64, mean_pa: f64) -> f64 {
        let (mut low, mut high) = (0.0, libm::log(MOST_REVERSALS));
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if self.amplitude(libm::exp(middle), mean_pa) > amplitude {
                low = middle;
            } else {
                high = middle;
            }
        }
        libm::exp(0.5 * (low + high))
    }

    /// Reversals at which elastic and plastic strain are equal, without mean stress.
    pub fn transition_reversals(&self) -> f64 {
        let ratio = self.ductility_coefficient * self.modulus_pa / self.strength_coefficient_pa;
        libm::pow(
            ratio,
            1.0 / (self.strength_exponent - self.ductility_exponent),
        )
    }
}

/// Cyclic stress-strain curve of W. Ramberg and W. R. Osgood: `ε = σ/E + (σ/K')^(1/n')`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CyclicCurve {
    /// Modulus of elasticity E \[Pa\].
    pub modulus_pa: f64,
    /// Cyclic strength coefficient K' \[Pa\].
    pub strength_coefficient_pa: f64,
    /// Cyclic hardening exponent n'.
    pub hardening_exponent: f64,
}

impl CyclicCurve {
    /// Strain at a stress \[Pa\].
    pub fn strain(&self, stress_pa: f64) -> f64 {
        let plastic = stress_pa.abs() / self.strength_coefficient_pa;
        let plastic = libm::pow(plastic, 1.0 / self.hardening_exponent);
        stress_pa / self.modulus_pa + plastic.copysign(stress_pa)
    }

    /// Local stress \[Pa\] at a notch by H. Neuber's rule, `σ ε = (Kt S)²/E`, for an elastic peak `Kt S` \[Pa\], 0 or more; bisection.
    ///
    /// # Errors
    /// An elastic peak that is not a finite number of 0 or more.
    pub fn neuber_stress_pa(&self, elastic_pa: f64) -> Result<f64, OutOfRange> {
        let most = (0.0, 1.0e12);
        crate::range::within("elastic_pa", elastic_pa, most, "0 to 1e12 Pa")?;
        let product = elastic_pa * elastic_pa / self.modulus_pa;
        let (mut low, mut high) = (0.0, elastic_pa);
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if middle * self.strain(middle) < product {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(0.5 * (low + high))
    }
}

//! A thick-walled ring under internal pressure (G. Lamé and B. Clapeyron 1833; any textbook of strength of materials).

/// A ring of one section, free to grow along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Inner diameter \[m\].
    pub inner_m: f64,
    /// Outer diameter \[m\].
    pub outer_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

impl Ring {
    fn squares(&self) -> (f64, f64) {
        (self.inner_m * self.inner_m, self.outer_m * self.outer_m)
    }

    /// Hoop stress at the bore over the pressure there: `(R² + r²)/(R² − r²)`.
    pub fn bore_hoop(&self) -> f64 {
        let (inner, outer) = self.squares();
        (outer + inner) / (outer - inner)
    }

    /// Hoop stress \[Pa\] at a diameter \[m\] under a pressure in the bore \[Pa\]: `p r²/(R² − r²) (1 + R²/ρ²)`.
    pub fn hoop_pa(&self, diameter_m: f64, pressure_pa: f64) -> f64 {
        let (inner, outer) = self.squares();
        pressure_pa * inner / (outer - inner) * (1.0 + outer / (diameter_m * diameter_m))
    }

    /// Growth of the bore's radius over the pressure in it \[m/Pa\]: `(r/E) ((R² + r²)/(R² − r²) + ν)`.
    pub fn bore_growth_m_pa(&self) -> f64 {
        0.5 * self.inner_m / self.modulus_pa * (self.bore_hoop() + self.poisson)
    }

    /// Pressure \[Pa\] at which the whole wall yields: `σ_y ln(R/r)`, by H. Tresca's criterion, which is on the safe side.
    pub fn collapse_pa(&self, yield_pa: f64) -> f64 {
        yield_pa * libm::log(self.outer_m / self.inner_m)
    }

    /// Second moment of the section about a diameter \[m⁴\].
    pub fn inertia_m4(&self) -> f64 {
        let (inner, outer) = self.squares();
        std::f64::consts::PI / 64.0 * (outer * outer - inner * inner)
    }

    /// Section \[m²\].
    pub fn section_m2(&self) -> f64 {
        let (inner, outer) = self.squares();
        0.25 * std::f64::consts::PI * (outer - inner)
    }
}

/// Approach of the surface of a core over the pressure on it \[m/Pa\]: `(R/E) ((R² + r²)/(R² − r²) − ν)`, of a solid one (inner
/// diameter 0) `(R/E)(1 − ν)`.
pub fn core_approach_m_pa(core: &Ring) -> f64 {
    0.5 * core.outer_m / core.modulus_pa * (core.bore_hoop() - core.poisson)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HUB: Ring = Ring {
        inner_m: 8.0e-3,
        outer_m: 16.0e-3,
        modulus_pa: 1.14e11,
        poisson: 0.33,
    };

    /// A ring twice as wide outside as inside: 5/3 p at the bore, 2/3 p outside (textbook).
    #[test]
    fn a_ring_of_ratio_two() {
        assert!((HUB.bore_hoop() - 5.0 / 3.0).abs() < 1e-12);
        assert!((HUB.hoop_pa(8.0e-3, 1.0) - 5.0 / 3.0).abs() < 1e-12);
        assert!((HUB.hoop_pa(16.0e-3, 1.0) - 2.0 / 3.0).abs() < 1e-12);
        let collapse = HUB.collapse_pa(1.0);
        assert!((collapse - std::f64::consts::LN_2).abs() < 1e-12);
    }

    /// Equilibrium: the hoop stress over a half section carries the pressure on its bore.
    #[test]
    fn hoop_stress_carries_the_pressure() {
        let steps = 4000;
        let wall_m = 0.5 * (HUB.outer_m - HUB.inner_m) / f64::from(steps);
        let carried: f64 = (0..steps)
            .map(|k| HUB.hoop_pa(HUB.inner_m + (2.0 * f64::from(k) + 1.0) * wall_m, 1.0) * wall_m)
            .sum();
        assert!(
            (carried / (0.5 * HUB.inner_m) - 1.0).abs() < 1e-6,
            "{carried}"
        );
    }

    /// The radial growth of a thin ring is `p r²/(E t)`; a solid core gives `(1 − ν) p R/E`.
    #[test]
    fn limits_of_thin_and_solid() {
        let thin = Ring {
            outer_m: 8.02e-3,
            ..HUB
        };
        let expected = 4.0e-3 * 4.005e-3 / (1.14e11 * 1.0e-5);
        assert!((thin.bore_growth_m_pa() / expected - 1.0).abs() < 2e-3);
        let solid = Ring {
            inner_m: 0.0,
            ..HUB
        };
        let expected = 8.0e-3 / 1.14e11 * (1.0 - 0.33);
        assert!((core_approach_m_pa(&solid) / expected - 1.0).abs() < 1e-12);
    }
}

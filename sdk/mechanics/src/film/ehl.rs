//! Elastohydrodynamic films: regression formulas for line and elliptic contact, and heating of the inlet.
//!
//! E' = 2 E* in all of them (`2/E' = (1 − ν1²)/E1 + (1 − ν2²)/E2`). Smooth bodies, fully flooded inlet, piezoviscous
//! and elastic. Where the entrainment turns round the formulas give no film: squeeze, which carries a contact over
//! such an instant, is left out, and so is starvation.

/// The oil and the entrainment of a contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inlet {
    /// Viscosity at inlet temperature and ambient pressure \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// Pressure-viscosity coefficient α \[1/Pa\], 1e-8 to 3e-8.
    pub alpha_per_pa: f64,
    /// Mean speed of the two surfaces past the contact \[m/s\]; its sign does not matter.
    pub entrainment_m_s: f64,
    /// Effective modulus E* \[Pa\] (not E').
    pub modulus_pa: f64,
}

impl Inlet {
    fn speed(&self, radius_m: f64) -> f64 {
        self.viscosity_pa_s * self.entrainment_m_s.abs() / (2.0 * self.modulus_pa * radius_m)
    }

    fn material(&self) -> f64 {
        2.0 * self.modulus_pa * self.alpha_per_pa
    }

    /// Least film \[m\] of a line contact under a load for each length \[N/m\], radius R above 0 \[m\], after Dowson and
    /// Higginson: `2.65 R U^0.7 G^0.54 W^−0.13` (1966; constants from memory).
    pub fn line_film_m(&self, load_n_m: f64, radius_m: f64) -> f64 {
        let load = load_n_m / (2.0 * self.modulus_pa * radius_m);
        2.65 * radius_m
            * libm::pow(self.speed(radius_m), 0.7)
            * libm::pow(self.material(), 0.54)
            * libm::pow(load, -0.13)
    }

    /// Least film \[m\] of an elliptic contact under a load \[N\], after Hamrock and Dowson (1977):
    /// `3.63 R U^0.68 G^0.49 W^−0.073 (1 − exp(−0.68 k))`, R that in the direction of entrainment \[m\], k the axis of
    /// the ellipse across it over the axis along it, 1 or more.
    pub fn least_elliptic_film_m(&self, load_n: f64, radius_m: f64, ellipticity: f64) -> f64 {
        let load = load_n / (2.0 * self.modulus_pa * radius_m * radius_m);
        3.63 * radius_m
            * libm::pow(self.speed(radius_m), 0.68)
            * libm::pow(self.material(), 0.49)
            * libm::pow(load, -0.073)
            * -libm::expm1(-0.68 * ellipticity)
    }

    /// The same for the middle of the contact: `2.69 R U^0.67 G^0.53 W^−0.067 (1 − 0.61 exp(−0.73 k))` (constants
    /// from memory).
    pub fn central_elliptic_film_m(&self, load_n: f64, radius_m: f64, ellipticity: f64) -> f64 {
        let load = load_n / (2.0 * self.modulus_pa * radius_m * radius_m);
        2.69 * radius_m
            * libm::pow(self.speed(radius_m), 0.67)
            * libm::pow(self.material(), 0.53)
            * libm::pow(load, -0.067)
            * (1.0 - 0.61 * libm::exp(-0.73 * ellipticity))
    }

    /// Factor of a film, 0 to 1, for heating of the inlet by shear, after Gupta, Cheng and others (1992), from memory:
    /// `(1 − 13.2 (p/E') L^0.42) / (1 + 0.213 (1 + 2.23 S^0.83) L^0.64)`, with `L = −dη/dT u²/k`, slide ratio
    /// `S = 2 |v1 − v2| / |v1 + v2|` (held at 2), peak pressure p \[Pa\], oil's conductivity k \[W/(m·K)\].
    pub fn thermal_factor(&self, heating: &Heating, peak_pressure_pa: f64) -> f64 {
        let u = self.entrainment_m_s;
        let loading = heating.viscosity_slope_pa_s_k * u * u / heating.conductivity_w_m_k;
        let pressure = peak_pressure_pa / (2.0 * self.modulus_pa);
        let slide = heating.slide_ratio.clamp(0.0, 2.0);
        let above = 1.0 - 13.2 * pressure * libm::pow(loading, 0.42);
        let below = 1.0 + 0.213 * (1.0 + 2.23 * libm::pow(slide, 0.83)) * libm::pow(loading, 0.64);
        (above / below).clamp(0.0, 1.0)
    }
}

/// What heats an inlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heating {
    /// Fall of viscosity with temperature, −dη/dT \[Pa·s/K\].
    pub viscosity_slope_pa_s_k: f64,
    /// Conductivity of the oil \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Sliding over entrainment.
    pub slide_ratio: f64,
}

//! Oil: viscosity over temperature, pressure, fuel dilution and shear rate; density.

use crate::range::{OutOfRange, within};

/// Dynamic viscosity over temperature after Vogel (1921): `η = a exp(b / (T − c))`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vogel {
    /// a \[Pa·s\].
    pub factor_pa_s: f64,
    /// b \[K\].
    pub slope_k: f64,
    /// c \[K\].
    pub pole_k: f64,
}

impl Default for Vogel {
    /// A race oil of SAE 40 class: 11.4 mPa·s at 80 °C, 6.9 at 100, 4.5 at 120, 2.8 at 150. Assumed.
    fn default() -> Self {
        Self {
            factor_pa_s: 8.0e-5,
            slope_k: 868.0,
            pole_k: 178.15,
        }
    }
}

/// Nearest to its pole that the law is evaluated \[K\]: colder oil is held at that viscosity.
const NEAREST_POLE_K: f64 = 40.0;

impl Vogel {
    /// Checked: a 1e-7 to 1e-2 Pa·s, b 100 to 3000 K, c 100 to 230 K.
    ///
    /// # Errors
    /// The field out of range.
    pub fn new(factor_pa_s: f64, slope_k: f64, pole_k: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            factor_pa_s: within(
                "factor_pa_s",
                factor_pa_s,
                (1e-7, 1e-2),
                "1e-7 to 1e-2 Pa.s",
            )?,
            slope_k: within("slope_k", slope_k, (100.0, 3000.0), "100 to 3000 K")?,
            pole_k: within("pole_k", pole_k, (100.0, 230.0), "100 to 230 K")?,
        })
    }

    /// The constants through three measured viscosities \[Pa·s\] at rising temperatures \[K\]; closed form.
    ///
    /// # Errors
    /// [`OutOfRange`] when the three do not fall on a curve of this form.
    pub fn through(points: [(f64, f64); 3]) -> Result<Self, OutOfRange> {
        let [(t1, v1), (t2, v2), (t3, v3)] = points;
        let expected = "three positive viscosities that fall with rising temperature, ever less";
        let (l12, l23) = (libm::log(v1 / v2), libm::log(v2 / v3));
        // ln(v1/v2)/ln(v2/v3) = (t2 − t1)(t3 − c)/((t3 − t2)(t1 − c)).
        let ratio = l12 * (t3 - t2) / (l23 * (t2 - t1));
        let pole_k = (ratio * t1 - t3) / (ratio - 1.0);
        let slope_k = l12 * (t1 - pole_k) * (t2 - pole_k) / (t2 - t1);
        let factor_pa_s = v1 * libm::exp(-slope_k / (t1 - pole_k));
        Self::new(factor_pa_s, slope_k, pole_k).map_err(|wrong| OutOfRange { expected, ..wrong })
    }

    /// Viscosity \[Pa·s\] at a temperature \[K\], ambient pressure, low shear rate.
    pub fn viscosity_pa_s(&self, temp_k: f64) -> f64 {
        let above = (temp_k - self.pole_k).max(NEAREST_POLE_K);
        self.factor_pa_s * libm::exp(self.slope_k / above)
    }
}

/// Fall of ln(viscosity) for each unit of fuel fraction: about 8 % for 1 % of fuel. Assumed.
pub const DILUTION_SLOPE: f64 = 8.0;

/// Factor on viscosity of a fraction of fuel in the oil, 0 to 0.3.
pub fn dilution_factor(fuel_fraction: f64) -> f64 {
    libm::exp(-DILUTION_SLOPE * fuel_fraction)
}

/// Viscosity \[Pa·s\] under pressure \[Pa\] after Roelands (1966):
/// `ln η = ln η0 + (ln η0 + 9.67)((1 + p/1.96e8)^z − 1)`, for η0 at the same temperature and ambient pressure.
/// z is 0.5 to 0.7 for mineral oils; 1/1.96e8 Pa is 5.1e-9 1/Pa.
pub fn roelands_pa_s(ambient_pa_s: f64, pressure_pa: f64, z: f64) -> f64 {
    let log = libm::log(ambient_pa_s) + ROELANDS_LN;
    ambient_pa_s * libm::exp(log * (libm::pow(1.0 + pressure_pa / ROELANDS_PA, z) - 1.0))
}

/// The exponent z that gives a pressure-viscosity coefficient α \[1/Pa\] at ambient pressure.
pub fn roelands_exponent(ambient_pa_s: f64, alpha_per_pa: f64) -> f64 {
    alpha_per_pa * ROELANDS_PA / (libm::log(ambient_pa_s) + ROELANDS_LN)
}

const ROELANDS_PA: f64 = 1.96e8;
const ROELANDS_LN: f64 = 9.67;

/// Shear thinning after Cross (1965) with exponent 1: from η0 at rest to `share · η0` at infinite rate,
/// half-way at `half_rate_per_s`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cross {
    /// Viscosity at infinite shear rate over that at rest, 0 to 1; 1 for an oil without polymer.
    pub share: f64,
    /// Shear rate at the half-way point \[1/s\], about 1e6 for hot multigrade oil.
    pub half_rate_per_s: f64,
}

impl Cross {
    /// Viscosity \[Pa·s\] at a shear rate \[1/s\].
    pub fn viscosity_pa_s(&self, low_shear_pa_s: f64, shear_rate_per_s: f64) -> f64 {
        let thinned = 1.0 / (1.0 + shear_rate_per_s.abs() / self.half_rate_per_s);
        low_shear_pa_s * (self.share + (1.0 - self.share) * thinned)
    }
}

/// Density \[kg/m³\] at a temperature \[K\] of an oil of stated density at 15 °C: linear expansion,
/// 6.5e-4 1/K (a usual value for mineral oil, from memory).
pub fn density_kg_m3(at_15c_kg_m3: f64, temp_k: f64) -> f64 {
    at_15c_kg_m3 * (1.0 - 6.5e-4 * (temp_k - 288.15))
}

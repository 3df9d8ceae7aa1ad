use super::error::{EngineError, within};

/// Gas constant \[J/(kg·K)\] and ratio of specific heats of the cylinder charge.
///
/// γ falls in a straight line with temperature, `γ = γ300 − slope (T − 300 K)`, not below 1.2:
/// the form and the default numbers (1.38, 8e-5 1/K) are those of Gatowski et al., SAE 841359
/// (from memory). A slope of 0 gives the perfect gas of the textbook cycles. Leaves out composition
/// (burned and unburned gas are one) and dissociation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderGas {
    /// Specific gas constant R \[J/(kg·K)\].
    pub gas_constant_j_kg_k: f64,
    /// Ratio of specific heats at 300 K \[1\].
    pub gamma_300k: f64,
    /// Fall of γ with temperature \[1/K\].
    pub gamma_slope_per_k: f64,
}

const LEAST_GAMMA: f64 = 1.2;

impl CylinderGas {
    /// Refuses R outside 100 to 1000 J/(kg·K), γ300 outside 1.2 to 1.67, a slope outside 0 to 1e-3.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field.
    pub fn check(&self) -> Result<(), EngineError> {
        within(
            "gas_constant_j_kg_k",
            self.gas_constant_j_kg_k,
            100.0,
            1000.0,
            "100 to 1000 J/(kg K)",
        )?;
        within(
            "gamma_300k",
            self.gamma_300k,
            LEAST_GAMMA,
            1.67,
            "1.2 to 1.67",
        )?;
        within(
            "gamma_slope_per_k",
            self.gamma_slope_per_k,
            0.0,
            1e-3,
            "0 to 0.001 1/K",
        )
    }

    /// Ratio of specific heats at a temperature \[K\].
    pub fn gamma(&self, temp_k: f64) -> f64 {
        (self.gamma_300k - self.gamma_slope_per_k * (temp_k - 300.0)).max(LEAST_GAMMA)
    }

    /// Specific heat at constant volume \[J/(kg·K)\].
    pub fn cv_j_kg_k(&self, temp_k: f64) -> f64 {
        self.gas_constant_j_kg_k / (self.gamma(temp_k) - 1.0)
    }

    /// Internal energy \[J/kg\] above that at 300 K: the exact integral of [`Self::cv_j_kg_k`] up to
    /// the temperature at which γ meets its floor, constant specific heat beyond.
    pub fn internal_energy_j_kg(&self, temp_k: f64) -> f64 {
        let r = self.gas_constant_j_kg_k;
        let (slope, excess) = (self.gamma_slope_per_k, self.gamma_300k - 1.0);
        if slope == 0.0 {
            return r / excess * (temp_k - 300.0);
        }
        let floor_temp_k = 300.0 + (self.gamma_300k - LEAST_GAMMA) / slope;
        let sloped = temp_k.min(floor_temp_k);
        let below = -r / slope * (-slope * (sloped - 300.0) / excess).ln_1p();
        below + (temp_k - sloped) * r / (LEAST_GAMMA - 1.0)
    }
}

impl Default for CylinderGas {
    fn default() -> Self {
        Self {
            gas_constant_j_kg_k: 287.0,
            gamma_300k: 1.38,
            gamma_slope_per_k: 8e-5,
        }
    }
}

/// Gas that flows through an orifice: a perfect gas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrificeGas {
    /// Ratio of specific heats \[1\], above 1.
    pub gamma: f64,
    /// Specific gas constant \[J/(kg·K)\].
    pub gas_constant_j_kg_k: f64,
}

impl Default for OrificeGas {
    /// γ = 1.3 and R = 287 J/(kg·K): hot combustion gas at wall temperature. Assumed.
    fn default() -> Self {
        Self {
            gamma: 1.3,
            gas_constant_j_kg_k: 287.0,
        }
    }
}

/// Downstream over upstream pressure at and below which flow is choked \[1\]: `(2/(γ+1))^(γ/(γ−1))`.
pub fn choked_pressure_ratio(gamma: f64) -> f64 {
    (2.0 / (gamma + 1.0)).powf(gamma / (gamma - 1.0))
}

/// Mass-flow function ψ \[1\] of isentropic nozzle flow for a pressure ratio `p_down/p_up` in 0 to 1;
/// mass flow is `C_d A p_up ψ / √(R T_up)`. Constant below the choked ratio. Heywood (1988),
/// appendix C, eqs C.8 and C.9 (from memory).
pub fn flow_function(pressure_ratio: f64, gamma: f64) -> f64 {
    Nozzle::new(gamma).flow(pressure_ratio).0
}

/// Mass flow \[kg/s\] from a reservoir at `up_pa`, `up_k` through `effective_area_m2` (discharge
/// coefficient times area) to `down_pa`, which must not exceed `up_pa`.
pub fn orifice_flow_kg_s(
    effective_area_m2: f64,
    up_pa: f64,
    up_k: f64,
    down_pa: f64,
    gas: &OrificeGas,
) -> f64 {
    let psi = flow_function(down_pa / up_pa, gas.gamma);
    effective_area_m2 * up_pa * psi / (gas.gas_constant_j_kg_k * up_k).sqrt()
}

/// The constants of the flow function for one γ, worked out once.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nozzle {
    inverse_gamma: f64,
    coefficient: f64,
    choked_ratio: f64,
    choked_flow: f64,
}

impl Nozzle {
    pub(super) fn new(gamma: f64) -> Self {
        let power = (gamma + 1.0) / (2.0 * (gamma - 1.0));
        Self {
            inverse_gamma: 1.0 / gamma,
            coefficient: 2.0 * gamma / (gamma - 1.0),
            choked_ratio: choked_pressure_ratio(gamma),
            choked_flow: gamma.sqrt() * (2.0 / (gamma + 1.0)).powf(power),
        }
    }

    /// ψ and dψ/d(ratio).
    pub(super) fn flow(&self, ratio: f64) -> (f64, f64) {
        if ratio <= self.choked_ratio {
            return (self.choked_flow, 0.0);
        }
        if ratio >= 1.0 {
            return (0.0, 0.0);
        }
        // u = ratio^(1/γ): ψ² = c (u² − ratio u).
        let u = (self.inverse_gamma * ratio.ln()).exp();
        let psi = (self.coefficient * u * (u - ratio)).max(0.0).sqrt();
        let slope_u = self.inverse_gamma * u / ratio;
        let slope =
            0.5 * self.coefficient * (slope_u * (2.0 * u - ratio) - u) / psi.max(f64::MIN_POSITIVE);
        (psi, slope)
    }
}

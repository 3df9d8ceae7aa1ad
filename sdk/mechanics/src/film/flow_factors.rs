//! Flow and shear factors of N. Patir and H. S. Cheng (J. Lubr. Technol. 100, 1978, 12 and 101, 1979, 220) for
//! roughness without direction (γ = 1) except where γ is given; coefficients from memory. H is film thickness
//! over composite roughness σ.

/// Pressure flow factor `φ_x`. γ = 1: `1 − 0.90 exp(−0.56 H)`; γ = 3, 6, 9 (along the flow): `1 + c H^−1.5`.
/// `None` for another γ: the fits for roughness across the flow turn negative for thin films.
pub fn pressure_flow_factor(film_ratio: f64, gamma: u32) -> Option<f64> {
    let along = |c: f64| Some(1.0 + c / (film_ratio * film_ratio.sqrt()));
    match gamma {
        1 => Some(1.0 - 0.90 * libm::exp(-0.56 * film_ratio)),
        3 => along(0.225),
        6 => along(0.520),
        9 => along(0.870),
        _ => None,
    }
}

/// Shear flow factor `φ_s` of one rough surface, γ = 1: `1.899 H^0.98 exp(−0.92 H + 0.05 H²)` to H = 5,
/// `1.126 exp(−0.25 H)` beyond. The two meet within 0.7 %.
pub fn shear_flow_factor(film_ratio: f64) -> f64 {
    if film_ratio > 5.0 {
        return 1.126 * libm::exp(-0.25 * film_ratio);
    }
    let exponent = (-0.92 + 0.05 * film_ratio) * film_ratio;
    1.899 * libm::pow(film_ratio, 0.98) * libm::exp(exponent)
}

/// Thinnest film for which sliding shear is counted, over σ: where surfaces come closer it is contact.
/// Patir and Cheng's choice.
const CUT: f64 = 1.0 / 100.0;

/// Shear stress factor `φ_f`: the mean of h over the local film, for the height density
/// `(35/96)(1 − (δ/3)²)³` on ±3σ, with films thinner than σ/100 left to the asperities. Closed form.
pub fn shear_stress_factor(film_ratio: f64) -> f64 {
    if film_ratio <= 0.0 {
        return 0.0;
    }
    let z = film_ratio / 3.0;
    let square = z * z;
    let cubed = (1.0 - square) * (1.0 - square) * (1.0 - square);
    if z > 1.0 {
        if z > 20.0 {
            // The closed form cancels; E[1/(1 + δ/h)] = 1 + E[δ²]/h² + ..., E[δ²] = σ².
            return 1.0 + 1.0 / (film_ratio * film_ratio);
        }
        let log = libm::log((z + 1.0) / (z - 1.0));
        let rest = z / 15.0 * (66.0 + square * (30.0 * square - 80.0));
        return 35.0 / 32.0 * z * (cubed * log + rest);
    }
    let inner = 132.0 + z * (345.0 + z * (-160.0 + z * (-405.0 + z * (60.0 + z * 147.0))));
    let log = libm::log(3.0 / CUT * (z + 1.0));
    35.0 / 32.0 * z * (cubed * log + (-55.0 + z * inner) / 60.0)
}

/// Shear stress factor `φ_fp` on the part driven by the pressure slope, γ = 1: `1 − 1.40 exp(−0.66 H)`, not below 0.
pub fn shear_stress_pressure_factor(film_ratio: f64) -> f64 {
    (1.0 - 1.40 * libm::exp(-0.66 * film_ratio)).max(0.0)
}

/// Shear stress factor `φ_fs`, γ = 1: `11.1 H^2.31 exp(−2.38 H + 0.11 H²)`, to H = 7, 0 beyond.
pub fn shear_stress_shear_factor(film_ratio: f64) -> f64 {
    if film_ratio > 7.0 {
        return 0.0;
    }
    let exponent = (-2.38 + 0.11 * film_ratio) * film_ratio;
    11.1 * libm::pow(film_ratio, 2.31) * libm::exp(exponent)
}

/// All factors of γ = 1 at one film ratio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Factors {
    pub pressure_flow: f64,
    pub shear_flow: f64,
    pub stress: f64,
    pub stress_pressure: f64,
    pub stress_shear: f64,
}

/// Of smooth surfaces.
const SMOOTH: Factors = Factors {
    pressure_flow: 1.0,
    shear_flow: 0.0,
    stress: 1.0,
    stress_pressure: 1.0,
    stress_shear: 0.0,
};

/// The factors of γ = 1 as a table for inner loops: linear on steps of 0.01 in H, within 3e-5 for H above 0.1.
#[derive(Debug, Clone)]
pub struct FlowFactors {
    rows: Vec<Factors>,
}

const STEP: f64 = 0.01;
const TO: f64 = 25.0;

impl Default for FlowFactors {
    fn default() -> Self {
        Self::new()
    }
}

impl FlowFactors {
    /// Builds the table.
    pub fn new() -> Self {
        let steps = (TO / STEP).round() as usize;
        let row = |k: usize| {
            let h = k as f64 * STEP;
            Factors {
                pressure_flow: 1.0 - 0.90 * libm::exp(-0.56 * h),
                shear_flow: shear_flow_factor(h),
                stress: shear_stress_factor(h),
                stress_pressure: shear_stress_pressure_factor(h),
                stress_shear: shear_stress_shear_factor(h),
            }
        };
        Self {
            rows: (0..=steps).map(row).collect(),
        }
    }

    fn between(&self, film_ratio: f64) -> Option<(&Factors, &Factors, f64)> {
        let position = film_ratio * (1.0 / STEP);
        let k = position as usize;
        Some((
            self.rows.get(k)?,
            self.rows.get(k + 1)?,
            position - k as f64,
        ))
    }

    /// `φ_x` and `φ_s`; 1 and 0 for H above 25.
    pub fn flow(&self, film_ratio: f64) -> [f64; 2] {
        let Some((low, high, t)) = self.between(film_ratio) else {
            return [SMOOTH.pressure_flow, SMOOTH.shear_flow];
        };
        [
            low.pressure_flow + t * (high.pressure_flow - low.pressure_flow),
            low.shear_flow + t * (high.shear_flow - low.shear_flow),
        ]
    }

    /// `φ_f`, `φ_fp` and `φ_fs`; 1, 1 and 0 for H above 25.
    pub fn stress(&self, film_ratio: f64) -> [f64; 3] {
        let Some((low, high, t)) = self.between(film_ratio) else {
            return [SMOOTH.stress, SMOOTH.stress_pressure, SMOOTH.stress_shear];
        };
        [
            low.stress + t * (high.stress - low.stress),
            low.stress_pressure + t * (high.stress_pressure - low.stress_pressure),
            low.stress_shear + t * (high.stress_shear - low.stress_shear),
        ]
    }
}

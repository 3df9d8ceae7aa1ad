/// Wall heat transfer after G. Woschni (SAE 670931), in the SI form of Heywood (1988), eq. 12.19
/// (both from memory): `h = 3.26 B^−0.2 p^0.8 T^−0.55 w^0.8` with p in kPa, and
/// `w = C1 S_p + C2 (V_d T_r/(p_r V_r)) (p − p_motored)`.
///
/// The motored pressure is the polytrope from intake closing with exponent 1.33. Wall temperature
/// is uniform and constant over the cycle. Applies to the closed part of the cycle; radiation is in
/// the correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Woschni {
    /// Mean temperature of the chamber walls \[K\].
    pub wall_temp_k: f64,
    /// Piston-speed factor C1 of the closed cycle \[1\].
    pub piston_speed_factor: f64,
    /// Combustion factor C2 \[m/(s·K)\], applied from the start of heat release.
    pub combustion_factor_m_s_k: f64,
    /// Area of head and piston crown over twice the bore's cross-section \[1\].
    pub chamber_area_ratio: f64,
}

/// Exponent of the motored reference pressure.
pub(super) const MOTORED_EXPONENT: f64 = 1.33;

impl Default for Woschni {
    fn default() -> Self {
        Self {
            wall_temp_k: 450.0,
            piston_speed_factor: 2.28,
            combustion_factor_m_s_k: 3.24e-3,
            chamber_area_ratio: 1.1,
        }
    }
}

impl Woschni {
    /// Heat-transfer coefficient \[W/(m²·K)\] for bore \[m\], pressure \[Pa\], gas temperature \[K\] and
    /// characteristic gas velocity w \[m/s\].
    pub fn coefficient_w_m2_k(
        bore_m: f64,
        pressure_pa: f64,
        temp_k: f64,
        velocity_m_s: f64,
    ) -> f64 {
        // One exponential in place of four powers.
        let log =
            0.8 * (1e-3 * pressure_pa * velocity_m_s).ln() - 0.55 * temp_k.ln() - 0.2 * bore_m.ln();
        3.26 * log.exp()
    }
}

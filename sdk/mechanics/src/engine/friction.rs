/// Mechanical friction after Chen and Flynn (SAE 650733), as a mean effective pressure:
/// `fmep = a + b p_max + c S_p`.
///
/// The default numbers (0.137 bar, 1/200, 0.162 bar·s/m) are the usual ones, from memory; they are
/// of engines of that paper's day and belong on the list of things to fit to a dyno.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChenFlynn {
    /// a \[Pa\].
    pub constant_pa: f64,
    /// b \[1\].
    pub per_peak_pressure: f64,
    /// c \[Pa·s/m\].
    pub per_piston_speed_pa_s_m: f64,
}

impl Default for ChenFlynn {
    fn default() -> Self {
        Self {
            constant_pa: 13_700.0,
            per_peak_pressure: 1.0 / 200.0,
            per_piston_speed_pa_s_m: 16_200.0,
        }
    }
}

impl ChenFlynn {
    /// Friction mean effective pressure \[Pa\] for a peak cylinder pressure \[Pa\] and a mean piston
    /// speed \[m/s\].
    pub fn fmep_pa(&self, peak_pressure_pa: f64, mean_piston_speed_m_s: f64) -> f64 {
        self.constant_pa
            + self.per_peak_pressure * peak_pressure_pa
            + self.per_piston_speed_pa_s_m * mean_piston_speed_m_s
    }
}

/// Brake mean effective pressure \[Pa\] of a four-stroke engine: 4 π T over displacement, for a torque \[N·m\] and
/// the whole engine's displacement \[m³\].
pub fn bmep_pa(torque_n_m: f64, displacement_m3: f64) -> f64 {
    4.0 * std::f64::consts::PI * torque_n_m / displacement_m3
}

/// Torque \[N·m\] of a four-stroke engine for a mean effective pressure \[Pa\]; the inverse of [`bmep_pa`].
pub fn torque_n_m(bmep_pa: f64, displacement_m3: f64) -> f64 {
    bmep_pa * displacement_m3 / (4.0 * std::f64::consts::PI)
}

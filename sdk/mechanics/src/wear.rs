//! Sliding wear after Archard, and its running-in.

/// Worn volume \[m³\] `k F s / H`: dimensionless wear coefficient, load \[N\], sliding distance \[m\], hardness
/// of the softer body \[Pa\] (J. F. Archard, J. Appl. Phys. 24, 1953, 981).
pub fn archard_volume_m3(coefficient: f64, load_n: f64, distance_m: f64, hardness_pa: f64) -> f64 {
    coefficient * load_n * distance_m / hardness_pa
}

/// Specific wear coefficient \[m²/N\] (volume over load and distance) of a dimensionless one.
pub fn specific_coefficient_m2_n(coefficient: f64, hardness_pa: f64) -> f64 {
    coefficient / hardness_pa
}

/// Running-in: the wear coefficient is that once run in times `1 + (fresh − 1) u`, where `u = exp(−s)` is
/// what is left of the fresh surface after a seating dose s.
///
/// What depends on u as a polynomial is averaged over a stretch of duty in closed form, so that a stretch
/// gives the same wear however it is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningIn {
    /// Seating dose at the start of the stretch \[1\].
    pub from: f64,
    /// Seating dose that the stretch adds, at a steady rate \[1\].
    pub added: f64,
}

impl RunningIn {
    /// What is left of the fresh surface at the start, 1 to 0.
    pub fn unseated(&self) -> f64 {
        libm::exp(-self.from)
    }

    /// Mean of `u^power` over the stretch, from its start to `share` of it, times `share`:
    /// `∫_0^share exp(−power (from + added t)) dt`.
    pub fn integral(&self, power: u32, share: f64) -> f64 {
        let rate = f64::from(power) * self.added;
        let start = libm::exp(-f64::from(power) * self.from);
        let exponent = rate * share;
        if exponent < 1e-9 {
            return start * share * (1.0 - 0.5 * exponent);
        }
        -start * libm::expm1(-exponent) / rate
    }
}

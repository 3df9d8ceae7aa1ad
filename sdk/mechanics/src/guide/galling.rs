/// What a pair of materials bears before it galls: friction power over area at a reference temperature, and the temperature at which it
/// bears none.
///
/// After H. Blok's critical contact temperature (1937, from memory): a pair galls where bulk temperature plus a rise in proportion to
/// friction power reaches a temperature of its own. So the power that it bears falls in a line to nothing at that temperature. Which pair
/// bears how much is data of the caller: there is no table of standing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GallingPair {
    /// Friction power over area at the reference temperature \[W/m²\], over 0.
    pub limit_w_m2: f64,
    /// Reference temperature \[K\], below the critical one.
    pub reference_k: f64,
    /// Critical temperature \[K\].
    pub critical_k: f64,
}

/// Least share of its strength that a pair is taken to keep: bounds the index when the stem is past the critical temperature.
const LEAST_LEFT: f64 = 0.02;

impl GallingPair {
    /// Friction power over what the pair bears, `μ p v/limit(T)`: it galls at 1. Friction coefficient, pressure \[Pa\] and speed \[m/s\]
    /// are 0 or more.
    pub fn index(&self, friction: f64, pressure_pa: f64, speed_m_s: f64, stem_k: f64) -> f64 {
        let left = (self.critical_k - stem_k) / (self.critical_k - self.reference_k);
        friction * pressure_pa * speed_m_s / (self.limit_w_m2 * left.max(LEAST_LEFT))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limit_is_met_at_the_reference_and_gone_at_the_critical_temperature() {
        let pair = GallingPair {
            limit_w_m2: 2.0e6,
            reference_k: 373.0,
            critical_k: 773.0,
        };
        assert!((pair.index(0.1, 4.0e6, 5.0, 373.0) - 1.0).abs() < 1e-12);
        assert!((pair.index(0.1, 4.0e6, 5.0, 573.0) - 2.0).abs() < 1e-12);
        assert!(pair.index(0.1, 4.0e6, 5.0, 2000.0) > 40.0);
        assert!(pair.index(0.1, 4.0e6, 5.0, 2000.0).is_finite());
    }
}

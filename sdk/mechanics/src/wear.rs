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

    /// Means of `u^power` for powers from 0 over the stretch, from its start to `share` of it, times `share`:
    /// `∫_0^share exp(−power (from + added t)) dt`.
    pub fn integrals<const POWERS: usize>(&self, share: f64) -> [f64; POWERS] {
        let start = self.unseated();
        let exponent = self.added * share;
        // 1 − q^p = (1 − q)(1 + q + … + q^(p−1)), so one exponential serves all powers without cancellation.
        let (q, lost) = (libm::exp(-exponent), -libm::expm1(-exponent));
        let (mut started, mut sum, mut next) = (1.0, 0.0, 1.0);
        let mut integrals = [share; POWERS];
        for (power, integral) in integrals.iter_mut().enumerate().skip(1) {
            started *= start;
            sum += next;
            next *= q;
            let rate = power as f64 * self.added;
            *integral = if exponent < 1e-9 {
                started * share * (1.0 - 0.5 * power as f64 * exponent)
            } else {
                started * lost * sum / rate
            };
        }
        integrals
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the elementary integral of each power, from a fresh and a half-seated start.
    #[test]
    fn integrals_of_all_powers_are_the_elementary_ones() {
        for (from, added, share) in [(0.0, 3.0, 1.0), (0.7, 0.02, 0.5), (2.0, 40.0, 1.5)] {
            let integrals = RunningIn { from, added }.integrals::<6>(share);
            for (power, integral) in (0..).zip(integrals) {
                let rate = f64::from(power) * added;
                let start = libm::exp(-f64::from(power) * from);
                let expected = if power == 0 {
                    share
                } else {
                    -start * libm::expm1(-rate * share) / rate
                };
                assert!(
                    (integral / expected - 1.0).abs() < 1e-13,
                    "{power}: {integral}"
                );
            }
        }
    }

    #[test]
    fn without_seating_the_mean_is_the_start() {
        let still = RunningIn {
            from: 1.0,
            added: 0.0,
        };
        let [one, first, second] = still.integrals::<3>(2.0);
        let u = libm::exp(-1.0);
        assert!((one - 2.0).abs() < 1e-15);
        assert!((first - 2.0 * u).abs() < 1e-15);
        assert!((second - 2.0 * u * u).abs() < 1e-15);
    }
}

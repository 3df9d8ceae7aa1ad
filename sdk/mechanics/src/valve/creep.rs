//! Creep rupture by a time-temperature parameter.

use std::f64::consts::LN_10;

/// Seconds of an hour.
const HOUR_S: f64 = 3600.0;

/// Rupture time after F. R. Larson and J. Miller (Trans. ASME 74, 1952, 765): `P = T (C + lg t)/1000` with t in hours, and P a straight
/// line in the logarithm of stress, `P = intercept − slope lg(σ/MPa)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LarsonMiller {
    /// C, usually 20.
    pub constant: f64,
    /// P at 1 `MPa` \[1000 K\].
    pub intercept: f64,
    /// Fall of P with each tenfold of stress \[1000 K\].
    pub slope: f64,
}

impl LarsonMiller {
    /// Time to rupture \[s\] under a steady stress \[Pa\] at a temperature \[K\]; infinite without tension.
    pub fn rupture_s(&self, stress_pa: f64, temp_k: f64) -> f64 {
        if stress_pa <= 0.0 {
            return f64::INFINITY;
        }
        let parameter = self.intercept - self.slope * libm::log10(1.0e-6 * stress_pa);
        HOUR_S * libm::exp(LN_10 * (1000.0 * parameter / temp_k - self.constant))
    }

    /// Stress \[Pa\] that ruptures in a time \[s\] at a temperature \[K\].
    pub fn strength_pa(&self, time_s: f64, temp_k: f64) -> f64 {
        let parameter = 1.0e-3 * temp_k * (self.constant + libm::log10(time_s / HOUR_S));
        1.0e6 * libm::exp(LN_10 * (self.intercept - parameter) / self.slope)
    }

    /// Exponent n of stress in the rupture time at a temperature: `t ~ σ^−n`.
    pub fn stress_exponent(&self, temp_k: f64) -> f64 {
        1000.0 * self.slope / temp_k
    }

    /// Life fraction (E. L. Robinson 1938) of a time at a stress and temperature: 1 is rupture.
    pub fn life_fraction(&self, time_s: f64, stress_pa: f64, temp_k: f64) -> f64 {
        time_s / self.rupture_s(stress_pa, temp_k)
    }

    /// The line through known strengths \[Pa\] at one time \[s\] and several temperatures \[K\], by least squares in lg σ; `None` of fewer
    /// than two different strengths.
    pub fn fitted(constant: f64, time_s: f64, strengths: &[(f64, f64)]) -> Option<Self> {
        let points = strengths.iter().map(|(temp_k, stress_pa)| {
            let parameter = 1.0e-3 * temp_k * (constant + libm::log10(time_s / HOUR_S));
            (libm::log10(1.0e-6 * stress_pa), parameter)
        });
        let points: Vec<(f64, f64)> = points.collect();
        let count = points.len() as f64;
        let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / count;
        let (x, y) = (mean(|p| p.0), mean(|p| p.1));
        let covariance: f64 = points.iter().map(|p| (p.0 - x) * (p.1 - y)).sum();
        let variance: f64 = points.iter().map(|p| (p.0 - x) * (p.0 - x)).sum();
        let slope = -covariance / variance;
        slope.is_finite().then_some(Self {
            constant,
            intercept: y + slope * x,
            slope,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ALLOY: LarsonMiller = LarsonMiller {
        constant: 20.0,
        intercept: 34.5,
        slope: 4.7,
    };

    #[test]
    fn strength_and_time_are_inverse() {
        for (stress_pa, temp_k) in [(6.0e7, 1173.15), (3.0e8, 1000.0), (2.0e7, 1050.0)] {
            let time_s = ALLOY.rupture_s(stress_pa, temp_k);
            assert!((ALLOY.strength_pa(time_s, temp_k) / stress_pa - 1.0).abs() < 1e-9);
        }
        assert!(ALLOY.rupture_s(0.0, 1000.0).is_infinite());
        assert!(ALLOY.life_fraction(1.0e9, -1.0, 1000.0) <= 0.0);
    }

    /// Worked by hand: lg 60 = 1.77815, P = 26.1427, 26142.7/1173.15 − 20 = 2.2841: 192 h.
    #[test]
    fn a_rupture_time_by_hand() {
        let hours = ALLOY.rupture_s(6.0e7, 1173.15) / HOUR_S;
        assert!((hours / 192.4 - 1.0).abs() < 2e-3, "{hours}");
        let cooler = ALLOY.rupture_s(6.0e7, 1073.15) / HOUR_S;
        assert!(cooler > 20_000.0, "{cooler}");
    }

    /// A line is met by its own points.
    #[test]
    fn a_fit_through_its_own_points_is_the_line() {
        let time_s = 1000.0 * HOUR_S;
        let strengths = [923.15, 998.15, 1073.15].map(|t| (t, ALLOY.strength_pa(time_s, t)));
        let fitted = LarsonMiller::fitted(20.0, time_s, &strengths).unwrap();
        assert!((fitted.slope - ALLOY.slope).abs() < 1e-9);
        assert!((fitted.intercept - ALLOY.intercept).abs() < 1e-9);
        assert!(LarsonMiller::fitted(20.0, time_s, &strengths[..1]).is_none());
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Hotter or harder pulled never lasts longer, and stress scales by its exponent.
        #[test]
        fn heat_and_stress_shorten(stress in 1.0e7..4.0e8_f64, temp in 700.0..1200.0_f64, by in 1.0..1.5_f64) {
            let time_s = ALLOY.rupture_s(stress, temp);
            prop_assert!(ALLOY.rupture_s(stress, temp * by) <= time_s);
            let pulled_s = ALLOY.rupture_s(stress * by, temp);
            let scaled_s = time_s * libm::pow(by, -ALLOY.stress_exponent(temp));
            prop_assert!((pulled_s / scaled_s - 1.0).abs() < 1e-9);
        }
    }
}

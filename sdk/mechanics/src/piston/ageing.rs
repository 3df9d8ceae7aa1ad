use std::f64::consts::LN_10;

/// The time-temperature parameter of F. R. Larson and J. Miller (Trans. ASME 74, 1952, 765): `P = T (C + log10 t)`, T in kelvin, t in hours.
///
/// Times at several temperatures are added as fractions of the time that reaches a reference parameter, `Σ Δt / t_ref(T)` (the life fraction
/// rule, E. L. Robinson 1938, from memory). The sum does not depend on order and is exact at the reference at any one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LarsonMiller {
    /// C, 20 when times are in hours.
    pub constant: f64,
    /// Parameter of the reference state \[K\].
    pub reference_k: f64,
}

impl LarsonMiller {
    /// Parameter \[K\] after a time \[h\] at a temperature \[K\].
    pub fn parameter_k(&self, temp_k: f64, time_h: f64) -> f64 {
        temp_k * (self.constant + libm::log10(time_h))
    }

    /// Time \[h\] at a temperature \[K\] that reaches the reference.
    pub fn reference_time_h(&self, temp_k: f64) -> f64 {
        libm::exp(LN_10 * (self.reference_k / temp_k - self.constant))
    }

    /// Fraction of the way to the reference that a time \[h\] at a temperature \[K\] goes.
    pub fn fraction(&self, temp_k: f64, time_h: f64) -> f64 {
        time_h / self.reference_time_h(temp_k)
    }
}

/// Softening of an aged alloy over the fraction f of [`LarsonMiller::fraction`]: `H = H_soft + (H_new − H_soft)/(1 + f)`, half of the
/// gain lost at the reference, from a tenth to nine tenths of the fall within two decades of time. The form is assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Softening {
    /// Hardness as built \[Pa\].
    pub new_pa: f64,
    /// Hardness fully softened \[Pa\], below it.
    pub soft_pa: f64,
}

impl Softening {
    /// Hardness lost \[Pa\] at a fraction.
    pub fn loss_pa(&self, fraction: f64) -> f64 {
        (self.new_pa - self.soft_pa) * fraction / (1.0 + fraction)
    }

    /// Fraction at which a hardness \[Pa\] is lost; infinite when it never is.
    pub fn fraction_at(&self, loss_pa: f64) -> f64 {
        let share = loss_pa / (self.new_pa - self.soft_pa);
        if share < 1.0 {
            share / (1.0 - share)
        } else {
            f64::INFINITY
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALLOY: LarsonMiller = LarsonMiller {
        constant: 20.0,
        reference_k: 10_800.0,
    };

    /// Worked by hand: 250 °C for 5 h with C = 20: 523.15 × 20.69897 = 10 828.7.
    #[test]
    fn arithmetic_by_hand() {
        assert!((ALLOY.parameter_k(523.15, 5.0) - 10_828.666).abs() < 0.01);
        // 10 800/523.15 − 20 = 0.644175; 10^0.644175 = 4.40733 h.
        assert!((ALLOY.reference_time_h(523.15) - 4.407_33).abs() < 1e-4);
    }

    /// At one temperature the fraction is 1 exactly when the parameter is the reference.
    #[test]
    fn the_fraction_meets_the_parameter_at_the_reference() {
        for temp_k in [470.0, 500.0, 540.0] {
            let time_h = ALLOY.reference_time_h(temp_k);
            assert!((ALLOY.parameter_k(temp_k, time_h) - 10_800.0).abs() < 1e-8);
            assert!((ALLOY.fraction(temp_k, time_h) - 1.0).abs() < 1e-12);
        }
    }

    /// The parameter trades time for temperature: 10 K hotter near 500 K is a factor 10^(P/T1 − P/T2) in time.
    #[test]
    fn heat_counts_for_time() {
        let factor = ALLOY.reference_time_h(495.0) / ALLOY.reference_time_h(505.0);
        let expected = 10_f64.powf(10_800.0 / 495.0 - 10_800.0 / 505.0);
        assert!((factor / expected - 1.0).abs() < 1e-12);
    }

    #[test]
    fn loss_and_fraction_are_inverse() {
        let softening = Softening {
            new_pa: 1.26e9,
            soft_pa: 0.6e9,
        };
        for fraction in [0.01, 0.3, 1.0, 40.0] {
            let back = softening.fraction_at(softening.loss_pa(fraction));
            assert!((back / fraction - 1.0).abs() < 1e-12);
        }
        assert!((softening.loss_pa(1.0) - 0.33e9).abs() < 1.0);
        assert!(softening.fraction_at(0.7e9).is_infinite());
    }
}

//! Loss of load: the stress that a wire under load gives up for good, by time, temperature and stress.
//!
//! Time runs faster where the wire is hotter (S. Arrhenius) or more highly stressed; the loss is a law of that reduced time, so that stretches at
//! different temperatures add up and their order does not matter. The form of EN 13906-1's relaxation diagrams and of ISO 26909's test; constants are the
//! wire's own.

/// Gas constant \[J/(mol·K)\].
const GAS_CONSTANT: f64 = 8.314_462_618;

/// How the loss grows with reduced time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TimeLaw {
    /// `(t/t_ref)^exponent`: primary creep.
    Power {
        /// Exponent, 0 to 1.
        exponent: f64,
    },
    /// `ln(1 + t/onset) / ln(1 + t_ref/onset)`.
    Logarithmic {
        /// Time \[s\] at which the loss sets in.
        onset_s: f64,
    },
}

/// Relaxation of a wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relaxation {
    /// Share of the stress lost in the reference test.
    pub lost_share: f64,
    /// Its duration \[s\].
    pub time_s: f64,
    /// Its temperature \[K\].
    pub temp_k: f64,
    /// Its shear stress \[Pa\].
    pub stress_pa: f64,
    /// Law of time.
    pub law: TimeLaw,
    /// Activation energy of time \[J/mol\].
    pub activation_j_mol: f64,
    /// Exponent by which stress hastens time.
    pub stress_exponent: f64,
}

impl Relaxation {
    /// How much faster time runs than in the reference test at a temperature \[K\] above 0.
    pub fn heat_factor(&self, temp_k: f64) -> f64 {
        libm::exp(self.activation_j_mol / GAS_CONSTANT * (1.0 / self.temp_k - 1.0 / temp_k))
    }

    /// How much faster time runs than in the reference test at a shear stress \[Pa\]; 0 without or against it.
    pub fn stress_factor(&self, stress_pa: f64) -> f64 {
        libm::pow(stress_pa.max(0.0) / self.stress_pa, self.stress_exponent)
    }

    /// Stress lost \[Pa\] after a reduced time: the running time times both factors \[s\], 0 or more.
    pub fn lost_pa(&self, reduced_s: f64) -> f64 {
        let grown = match self.law {
            TimeLaw::Power { exponent } => libm::pow(reduced_s / self.time_s, exponent),
            TimeLaw::Logarithmic { onset_s } => {
                libm::log1p(reduced_s / onset_s) / libm::log1p(self.time_s / onset_s)
            }
        };
        self.lost_share * self.stress_pa * grown
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wire(law: TimeLaw) -> Relaxation {
        Relaxation {
            lost_share: 0.05,
            time_s: 172_800.0,
            temp_k: 393.15,
            stress_pa: 1.0e9,
            law,
            activation_j_mol: 1.0e5,
            stress_exponent: 6.0,
        }
    }

    /// Both laws go through the reference test and start from nothing.
    #[test]
    fn the_reference_test_loses_its_share() {
        for law in [
            TimeLaw::Power { exponent: 0.3 },
            TimeLaw::Logarithmic { onset_s: 60.0 },
        ] {
            let wire = wire(law);
            let reduced_s = 172_800.0 * wire.heat_factor(393.15) * wire.stress_factor(1.0e9);
            assert!((wire.lost_pa(reduced_s) / 5.0e7 - 1.0).abs() < 1e-12);
            assert!(wire.lost_pa(0.0).abs() < 1e-12);
            // Ten times as long loses less than ten times as much.
            assert!(wire.lost_pa(10.0 * reduced_s) < 2.0 * wire.lost_pa(reduced_s));
        }
    }

    /// Arrhenius by hand: 100 kJ/mol from 120 to 130 °C is exp(12027 · 6.309e-5) = 2.136.
    #[test]
    fn heat_hastens_time() {
        let wire = wire(TimeLaw::Power { exponent: 0.3 });
        assert!(
            (wire.heat_factor(403.15) - 2.136).abs() < 2e-3,
            "{}",
            wire.heat_factor(403.15)
        );
        assert!((wire.stress_factor(1.1e9) - 1.771_561).abs() < 1e-6);
        assert!(wire.stress_factor(-1.0).abs() < 1e-12);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// More time, heat or stress never keeps more load.
        #[test]
        fn losses_only_grow(time_s in 1.0..1e7_f64, temp_k in 300.0..500.0_f64, stress_pa in 1e8..1.5e9_f64, by in 1.0..1.3_f64) {
            for law in [TimeLaw::Power { exponent: 0.3 }, TimeLaw::Logarithmic { onset_s: 60.0 }] {
                let wire = wire(law);
                let lost = |t: f64, k: f64, s: f64| wire.lost_pa(t * wire.heat_factor(k) * wire.stress_factor(s));
                let least = lost(time_s, temp_k, stress_pa);
                prop_assert!(lost(by * time_s, temp_k, stress_pa) >= least);
                prop_assert!(lost(time_s, by * temp_k, stress_pa) >= least);
                prop_assert!(lost(time_s, temp_k, by * stress_pa) >= least);
            }
        }
    }
}

use std::f64::consts::PI;

/// Growth of a long crack at constant amplitude (Paris), with a threshold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ParisLaw {
    /// Growth for each cycle at a stress intensity range of 1 MPa√m \[m\]: the C of handbooks in m/cycle and MPa√m.
    pub rate_m: f64,
    /// Exponent of the stress intensity range \[1\].
    pub exponent: f64,
    /// Range of the stress intensity factor below which nothing grows \[Pa√m\], 0 for none.
    pub threshold_pa_sqrt_m: f64,
}

/// Panels of the quadrature over ln a.
const PANELS: usize = 128;

impl ParisLaw {
    /// Growth for each cycle \[m\] at a stress intensity range \[Pa√m\].
    pub fn growth_m(&self, range_pa_sqrt_m: f64) -> f64 {
        if range_pa_sqrt_m <= self.threshold_pa_sqrt_m {
            return 0.0;
        }
        self.rate_m * libm::pow(range_pa_sqrt_m / 1e6, self.exponent)
    }

    /// Cycles at a stress range \[Pa\] from a first to a last crack size \[m\], both above 0, with a geometry factor over size: Gauss quadrature over ln a.
    /// 0 when the first size is the last or more, infinite when the crack stops below the threshold on the way.
    pub fn cycles(
        &self,
        range_pa: f64,
        (first_m, last_m): (f64, f64),
        factor: impl Fn(f64) -> f64,
    ) -> f64 {
        if first_m >= last_m {
            return 0.0;
        }
        let (from, to) = (libm::log(first_m), libm::log(last_m));
        let half = 0.5 * (to - from) / PANELS as f64;
        let slower = |ln_size: f64| {
            let size_m = libm::exp(ln_size);
            let intensity = factor(size_m) * range_pa * (PI * size_m).sqrt();
            size_m / self.growth_m(intensity)
        };
        // The start, where a growing crack is slowest, is looked at itself: nodes lie inside the panels.
        if slower(from).is_infinite() {
            return f64::INFINITY;
        }
        let panel = |k: usize| {
            let middle = from + (2 * k + 1) as f64 * half;
            let nodes = GAUSS.iter();
            let sum: f64 = nodes
                .map(|(x, weight)| weight * (slower(middle - half * x) + slower(middle + half * x)))
                .sum();
            half * sum
        };
        (0..PANELS).map(panel).sum()
    }

    /// [`Self::cycles`] at a constant geometry factor, in closed form.
    pub fn cycles_at_constant_factor(
        &self,
        range_pa: f64,
        (first_m, last_m): (f64, f64),
        factor: f64,
    ) -> f64 {
        if first_m >= last_m {
            return 0.0;
        }
        let intensity = |size_m: f64| factor * range_pa * (PI * size_m).sqrt();
        let first_growth_m = self.growth_m(intensity(first_m));
        if first_growth_m <= 0.0 {
            return f64::INFINITY;
        }
        let power = 1.0 - 0.5 * self.exponent;
        let ratio = last_m / first_m;
        let widening = if power.abs() < 1e-9 {
            libm::log(ratio)
        } else {
            (libm::pow(ratio, power) - 1.0) / power
        };
        first_m * widening / first_growth_m
    }
}

/// Nodes and weights of the four-point Gauss rule, one side.
const GAUSS: [(f64, f64); 2] = [
    (0.339_981_043_584_856_3, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

/// Crack size \[m\] at which the highest stress \[Pa\] reaches a toughness \[Pa√m\], at a constant geometry factor.
pub fn critical_size_m(toughness_pa_sqrt_m: f64, highest_pa: f64, factor: f64) -> f64 {
    (toughness_pa_sqrt_m / (factor * highest_pa)).powi(2) / PI
}

/// Crack size \[m\] up to which a stress range \[Pa\] stays at the threshold \[Pa√m\]: the same form.
pub fn threshold_size_m(threshold_pa_sqrt_m: f64, range_pa: f64, factor: f64) -> f64 {
    critical_size_m(threshold_pa_sqrt_m, range_pa, factor)
}

/// [`critical_size_m`] with a geometry factor over size that never falls, up to `largest_m`, by bisection; `None` when even that size is borne.
pub fn critical_size_by_m(
    toughness_pa_sqrt_m: f64,
    highest_pa: f64,
    largest_m: f64,
    factor: impl Fn(f64) -> f64,
) -> Option<f64> {
    let borne =
        |size_m: f64| factor(size_m) * highest_pa * (PI * size_m).sqrt() < toughness_pa_sqrt_m;
    if borne(largest_m) {
        return None;
    }
    let (mut low, mut high) = (0.0, largest_m);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if borne(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STEEL: ParisLaw = ParisLaw {
        rate_m: 6.9e-12,
        exponent: 3.0,
        threshold_pa_sqrt_m: 5e6,
    };

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Cycles add up along the crack; more stress never lasts longer; quadrature agrees with the closed form.
        #[test]
        fn growth_adds_up(exponent in 2.0..4.5_f64, first in 0.2e-3..2e-3_f64, times in 1.5..20.0_f64, cut in 0.1..0.9_f64) {
            let law = ParisLaw { exponent, threshold_pa_sqrt_m: 0.0, ..STEEL };
            let last = first * times;
            let middle = first + cut * (last - first);
            let whole = law.cycles(150e6, (first, last), |_| 1.12);
            let parts = law.cycles(150e6, (first, middle), |_| 1.12) + law.cycles(150e6, (middle, last), |_| 1.12);
            prop_assert!((parts / whole - 1.0).abs() < 1e-9);
            let closed = law.cycles_at_constant_factor(150e6, (first, last), 1.12);
            prop_assert!((closed / whole - 1.0).abs() < 1e-9);
            prop_assert!(law.cycles(160e6, (first, last), |_| 1.12) < whole);
        }
    }

    /// Below the threshold a crack does not grow; at the threshold size it is there.
    #[test]
    fn below_the_threshold_nothing_grows() {
        let size = threshold_size_m(5e6, 100e6, 1.12);
        assert!(
            STEEL
                .cycles(100e6, (0.99 * size, 1e-2), |_| 1.12)
                .is_infinite()
        );
        assert!(STEEL.cycles(100e6, (1.01 * size, 1e-2), |_| 1.12) < 1e9);
        let closed = STEEL.cycles_at_constant_factor(100e6, (0.99 * size, 1e-2), 1.12);
        assert!(closed.is_infinite());
        assert!(STEEL.cycles(100e6, (2e-3, 1e-3), |_| 1.0) <= 0.0);
    }

    #[test]
    fn the_critical_size_by_bisection_is_the_closed_one() {
        let closed = critical_size_m(60e6, 200e6, 1.12);
        let found = critical_size_by_m(60e6, 200e6, 0.1, |_| 1.12).unwrap();
        assert!((found / closed - 1.0).abs() < 1e-12);
        assert!(critical_size_by_m(60e6, 200e6, 1e-3, |_| 1.12).is_none());
    }
}

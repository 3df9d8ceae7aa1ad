//! Archard's arithmetic, published bounds, and running-in that does not depend on how duty is cut.

use proptest::prelude::*;
use ringland_mechanics::wear::{RunningIn, archard_volume_m3, specific_coefficient_m2_n};

/// k = 1e-6, 200 N, 1e6 m, 6e9 Pa: 33.3333 mm³; specific rate 1.66667e-16 m²/N. Arithmetic of the definition.
#[test]
fn archard_by_hand() {
    let volume = archard_volume_m3(1e-6, 200.0, 1e6, 6e9);
    assert!((volume * 1e9 - 100.0 / 3.0).abs() < 1e-9);
    assert!((specific_coefficient_m2_n(1e-6, 6e9) / 1.666_67e-16 - 1.0).abs() < 1e-5);
}

/// Bounds of regimes as orders of magnitude: boundary lubrication 1e-7 to 1e-5 (poor 1e-4), mixed 1e-9 to 1e-6 (from memory;
/// severe unlubricated to mild lubricated 1e-2 to 1e-6 or lower in a public table of wear coefficients). A hard
/// ring of 6e9 Pa then lies between 1e-19 and 2e-14 m²/N; the default ring coefficient of this project has to.
#[test]
fn regimes_bound_the_specific_coefficient() {
    let (mildest, worst) = (1e-9, 1e-4);
    let range = specific_coefficient_m2_n(mildest, 6e9)..specific_coefficient_m2_n(worst, 6e9);
    assert!(range.contains(&8.2e-16), "{range:?}");
}

fn at(stretch: &RunningIn, power: usize, share: f64) -> f64 {
    stretch.integrals::<4>(share)[power]
}

proptest! {
    /// An integral over a stretch is the sum of those over its parts.
    #[test]
    fn cutting_a_stretch_changes_nothing(
        from in 0.0..5.0_f64, added in 0.0..20.0_f64, cut in 0.01..0.99_f64, power in 0_usize..4
    ) {
        let whole = RunningIn { from, added };
        let first = RunningIn { from, added: added * cut };
        let second = RunningIn { from: from + added * cut, added: added * (1.0 - cut) };
        let parts = cut * at(&first, power, 1.0) + (1.0 - cut) * at(&second, power, 1.0);
        let all = at(&whole, power, 1.0);
        prop_assert!((parts - all).abs() <= 1e-12 * all.max(1e-30), "{} {}", parts, all);
        prop_assert!((cut * at(&first, power, 1.0) - at(&whole, power, cut)).abs() <= 1e-12 * all.max(1e-30));
    }

    /// Against the midpoint rule.
    #[test]
    fn the_closed_form_is_the_integral(from in 0.0..3.0_f64, added in 0.0..6.0_f64, power in 0_usize..4) {
        let stretch = RunningIn { from, added };
        let n = 2000;
        let sum: f64 = (0..n)
            .map(|k| (-(power as f64) * (from + added * (f64::from(k) + 0.5) / f64::from(n))).exp())
            .sum::<f64>() / f64::from(n);
        prop_assert!((at(&stretch, power, 1.0) / sum - 1.0).abs() < 1e-4);
    }
}

//! Distributions, sampling, replacement age and risk.

// Exact values are meant.
#![allow(clippy::float_cmp, clippy::unwrap_used, clippy::panic)]

mod statistics_data;

use proptest::prelude::*;
use ringland_mechanics::statistics::correction::{Belief, observed_ln_rate};
use ringland_mechanics::statistics::replacement::{
    age_replacement, age_replacement_cost_rate, minimal_repair_replacement,
};
use ringland_mechanics::statistics::risk::{DamageLife, any_of};
use ringland_mechanics::statistics::sampling::{SplitMix64, latin_hypercube_normal, quantiles};
use ringland_mechanics::statistics::{Lognormal, Weibull, normal};
use statistics_data::assert_close;

/// The Python package scipy 1.17.1, `stats.norm`.
#[test]
fn normal_against_a_library() {
    let quantiles = [
        (1e-300, -37.047_096_299_361_2),
        (1e-10, -6.361_340_902_404_056),
        (1e-5, -4.264_890_793_922_825),
        (0.001, -3.090_232_306_167_813),
        (0.024_25, -1.972_961_051_311_885),
        (0.075, -1.439_531_470_938_456_3),
        (0.3, -0.524_400_512_708_040_9),
        (0.6, 0.253_347_103_135_799_7),
        (0.975, 1.959_963_984_540_054),
        (0.999, 3.090_232_306_167_813),
    ];
    for (p, z) in quantiles {
        assert_close(normal::quantile(p), z, 1e-15);
    }
    let values = [
        (-5.0, 2.866_515_718_791_933e-7, -2.866_516_129_637_629_4e-7),
        (-1.0, 0.158_655_253_931_457_07, -0.172_753_779_023_449_9),
        (0.5, 0.691_462_461_274_013_1, -1.175_911_761_593_618_8),
        (2.0, 0.977_249_868_051_820_8, -3.783_184_333_682_031_7),
        (8.0, 0.999_999_999_999_999_3, -35.013_437_159_914_56),
        (25.0, 1.0, -316.639_408_008_020_27),
        (40.0, 1.0, -804.608_442_013_753_9),
    ];
    for (z, cdf, ln_survival) in values {
        assert_close(normal::cdf(z), cdf, 1e-14);
        assert_close(normal::ln_survival(z), ln_survival, 1e-9);
    }
    assert_eq!(normal::quantile(0.5), 0.0);
    assert_eq!(normal::quantile(0.0), f64::NEG_INFINITY);
    assert_eq!(normal::quantile(1.0), f64::INFINITY);
    assert!(normal::quantile(-0.1).is_nan() && normal::quantile(1.1).is_nan());
}

/// The Python package scipy 1.17.1, `stats.weibull_min`.
#[test]
fn weibull_against_a_library() {
    let life = Weibull::new(2.5, 1000.0).unwrap();
    let values = [
        (10.0, 2.499_975_000_124_999_8e-6, 9.999_950_000_166_666e-6),
        (500.0, 7.406_650_840_031_375e-4, 0.162_033_114_421_244_2),
        (1500.0, 2.919_456_668_103_862_6e-4, 0.936_433_962_995_374_5),
    ];
    for (t, pdf, cdf) in values {
        assert_close(life.pdf(t), pdf, 1e-14);
        assert_close(life.cdf(t), cdf, 1e-14);
        assert_close(life.survival(t), 1.0 - cdf, 1e-14);
        assert_close(life.hazard(t), pdf / (1.0 - cdf), 1e-13);
    }
    assert_close(life.mean(), 887.263_817_503_075_3, 1e-14);
    assert_close(life.standard_deviation(), 379.666_549_922_576_4, 1e-13);
    assert_close(life.quantile(0.1), 406.509_926_472_865, 1e-14);
}

/// The Python package scipy 1.17.1, `stats.lognorm`.
#[test]
fn lognormal_against_a_library() {
    let life = Lognormal::new(4.150_454_5, 0.521_649_3).unwrap();
    let values = [
        (20.0, 0.003_299_709_934_563_262_8, 0.986_571_802_513_330_8),
        (80.0, 0.008_662_609_815_001_407, 0.328_549_118_919_782_83),
        (
            300.0,
            3.026_909_686_975_220_4e-5,
            0.001_451_983_751_486_490_2,
        ),
    ];
    for (t, pdf, survival) in values {
        assert_close(life.pdf(t), pdf, 1e-12);
        assert_close(life.survival(t), survival, 1e-12);
        assert_close(life.cdf(t), 1.0 - survival, 1e-12);
        assert_close(life.hazard(t), pdf / survival, 1e-12);
    }
    assert_close(life.mean(), 72.712_513_586_940_18, 1e-13);
    assert_close(life.standard_deviation(), 40.663_259_030_818_18, 1e-13);
    assert_close(life.quantile(0.1), 32.522_560_668_379_48, 1e-13);
}

/// Optimum by a separate root search on the condition of stationarity; costs agree with the Python package
/// reliability 0.9.0 (`optimal_replacement_time`) to 1e-8.
#[test]
fn age_replacement_optimum() {
    let rows = [
        (
            (2.5, 1000.0, 1.0, 5.0),
            493.046_958,
            0.003_462_042_739,
            0.614_349,
        ),
        (
            (2.0, 1000.0, 1.0, 10.0),
            336.451_191,
            0.006_056_121_442,
            0.536_710,
        ),
        (
            (3.0, 1000.0, 1.0, 4.0),
            554.153_217,
            0.002_763_772_087,
            0.616_998,
        ),
        (
            (1.5, 1000.0, 1.0, 5.0),
            675.491_992,
            0.004_931_299_192,
            0.890_341,
        ),
        (
            (2.102, 81.88, 1.0, 10.0),
            27.702_171,
            0.069_988_329_767,
            0.507_556,
        ),
    ];
    for ((shape, scale, planned, failure), age, cost_rate, ratio) in rows {
        let life = Weibull::new(shape, scale).unwrap();
        let best = age_replacement(&life, planned, failure).unwrap().unwrap();
        assert_close(best.age, age, 2e-8);
        assert_close(best.cost_rate, cost_rate, 1e-9);
        assert_close(best.cost_rate / (failure / life.mean()), ratio, 2e-6);
    }
    let constant_hazard = Weibull::new(1.0, 1000.0).unwrap();
    assert_eq!(age_replacement(&constant_hazard, 1.0, 5.0), Ok(None));
    let life = Weibull::new(2.5, 1000.0).unwrap();
    assert_eq!(age_replacement(&life, 5.0, 5.0), Ok(None));
    assert!(age_replacement(&life, f64::NAN, 5.0).is_err());
}

/// By direct evaluation of `T = scale (c_p / (c_m (shape - 1)))^(1/shape)`.
#[test]
fn minimal_repair_optimum() {
    let life = Weibull::new(2.5, 1000.0).unwrap();
    let best = minimal_repair_replacement(&life, 5.0, 1.0)
        .unwrap()
        .unwrap();
    assert_close(best.age, 1_618.644_583, 1e-9);
    assert_close(best.cost_rate, 0.005_148_340_421, 1e-9);
    let best = minimal_repair_replacement(&life, 1.0, 5.0)
        .unwrap()
        .unwrap();
    assert_close(best.age, 446.658_388, 2e-9);
}

/// B10 and B1 life over the median for Weibull shapes 2, 3, 4: arithmetic of the distribution.
#[test]
fn damage_life() {
    for (shape, b10, b1) in [(2.0, 0.39, 0.12), (3.0, 0.53, 0.24), (4.0, 0.62, 0.35)] {
        let life = DamageLife::new(shape, 0.5).unwrap();
        assert!((life.quantile(0.5) - 1.0).abs() < 1e-15);
        assert!((life.quantile(0.1) - b10).abs() < 0.005);
        assert!((life.quantile(0.01) - b1).abs() < 0.005);
    }
    let life = DamageLife::new(3.0, 0.1).unwrap();
    assert_close(life.survival(1.0), 0.9, 1e-15);
    let direct = 1.0 - life.survival(0.7) / life.survival(0.6);
    assert_close(life.next_risk(0.6, 0.1), direct, 1e-12);
    // Far below what a difference of reliabilities resolves.
    assert_close(life.next_risk(0.0, 1e-8), -(0.9_f64.ln()) * 1e-24, 1e-12);
    assert_close(any_of(16.0, 0.01), 1.0 - 0.99_f64.powi(16), 1e-12);
    assert!(DamageLife::new(3.0, 1.0).is_err() && DamageLife::new(-1.0, 0.1).is_err());
}

/// Worked by hand: predicted 16 um, measured 22 +- 3 um, prior spread 0.45, model error 0.15: weight 0.83, multiplier
/// 1.30, new spread 0.185.
#[test]
fn correction_from_a_measurement() {
    let prior = Belief {
        mean: 0.0,
        sd: 0.45,
    };
    let observed = observed_ln_rate(22e-6, 3e-6, 16e-6, 0.15);
    let after = prior.after(observed);
    assert!((after.mean / observed.mean - 0.83).abs() < 0.005);
    assert!((after.mean.exp() - 1.30).abs() < 0.005);
    assert!((after.sd - 0.185).abs() < 0.0005);
}

/// The published stream of `SplitMix64` for the seed 1234567 (from memory of the reference
/// implementation's test vector).
#[test]
fn split_mix_stream() {
    let mut random = SplitMix64::new(1_234_567);
    let expected = [
        6_457_827_717_110_365_317,
        3_203_168_211_198_807_973,
        9_817_491_932_198_370_423,
        4_593_380_528_125_082_431,
        16_408_922_859_458_223_821,
    ];
    for value in expected {
        assert_eq!(random.next_u64(), value);
    }
}

/// Definition 7 of Hyndman and Fan 1996, which is the default of numpy and R.
#[test]
fn quantiles_between_samples() {
    let found = quantiles(&[4.0, 1.0, 3.0, 2.0], &[0.0, 0.1, 0.5, 0.9, 1.0]);
    for (found, expected) in found.iter().zip([1.0, 1.3, 2.5, 3.7, 4.0]) {
        assert!((found - expected).abs() < 1e-15);
    }
    assert!(quantiles(&[], &[0.5])[0].is_nan());
}

proptest! {
    #[test]
    fn normal_quantile_inverts_cdf(z in -8.0..8.0_f64) {
        // Above 0 the share nears 1 and holds few digits: by symmetry.
        let back = -normal::quantile(normal::cdf(-z.abs()));
        prop_assert!((back - z.abs()).abs() < 1e-13 * (1.0 + z.abs()));
    }

    #[test]
    fn quantile_inverts_cdf(shape in 0.5..6.0_f64, scale in 0.1..1e5_f64, p in 1e-6..0.999_f64) {
        let weibull = Weibull::new(shape, scale).unwrap();
        prop_assert!((weibull.cdf(weibull.quantile(p)) / p - 1.0).abs() < 1e-12);
        let lognormal = Lognormal::new(scale.ln(), 1.0 / shape).unwrap();
        prop_assert!((lognormal.cdf(lognormal.quantile(p)) / p - 1.0).abs() < 1e-11);
    }

    /// The integral of the survival against Simpson's rule.
    #[test]
    fn mean_age_is_the_integral_of_the_survival(shape in 1.0..5.0_f64, t in 0.05..3.0_f64) {
        let life = Weibull::new(shape, 1.0).unwrap();
        let n = 4000;
        let h = t / f64::from(n);
        let sum: f64 = (0..=n).map(|i| {
            let weight = if i == 0 || i == n { 1.0 } else if i % 2 == 1 { 4.0 } else { 2.0 };
            weight * life.survival(f64::from(i) * h)
        }).sum();
        prop_assert!((life.mean_age_within(t) - sum * h / 3.0).abs() < 1e-6 * t);
    }

    /// No other age costs less than the optimum.
    #[test]
    fn optimum_costs_least(
        shape in 1.1..5.0_f64,
        failure in 1.5..50.0_f64,
        age in 0.05..3.0_f64,
    ) {
        let life = Weibull::new(shape, 1.0).unwrap();
        if let Some(best) = age_replacement(&life, 1.0, failure).unwrap() {
            let other = age_replacement_cost_rate(&life, age, 1.0, failure);
            prop_assert!(best.cost_rate <= other * (1.0 + 1e-12));
        }
    }

    /// One draw in every slice of equal probability, the same for the same seed.
    #[test]
    fn latin_hypercube_fills_every_slice(samples in 1_usize..300, seed in any::<u64>()) {
        let columns = latin_hypercube_normal(samples, 3, seed);
        prop_assert_eq!(&columns, &latin_hypercube_normal(samples, 3, seed));
        for column in &columns {
            let mut slices: Vec<usize> = column
                .iter()
                .map(|z| (normal::cdf(*z) * samples as f64) as usize)
                .collect();
            slices.sort_unstable();
            // Rounding at the edge of a slice may move a draw by one.
            for (expected, found) in slices.iter().enumerate() {
                prop_assert!(expected.abs_diff(*found) <= 1);
            }
        }
    }
}

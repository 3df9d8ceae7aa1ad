//! Draws for life samples: the same seed gives the same draws, and few draws cover the
//! distribution evenly.

/// Standard normal draws: `dimensions` columns of `samples` values. Row `i` of all columns is one
/// drawn component, so a model that takes column 0 for the strength and column 1 for the
/// temperature in every mechanism keeps their correlation.
///
/// Each column has exactly one value in each of `samples` equally probable strata, at the
/// stratum's middle (a Latin hypercube), so that its median and quantiles are those of the normal
/// distribution and its mean is 0. What is paired with what follows the Halton sequence
/// (Numerische Mathematik 2, 1960), each coordinate shifted by a start that the seed gives through
/// the `SplitMix64` generator (Steele, Lea and Flood, OOPSLA 2014): even cover of all columns
/// together. Dimensions beyond [`MOST_DIMENSIONS`], where that fades, are not given: the answer then
/// has only so many columns.
///
/// The outermost of `n` draws stands at the quantile `0.5 / n`: a risk far below `1 / n` must be
/// computed, not counted.
pub fn normal_draws(seed: u64, dimensions: usize, samples: usize) -> Vec<Vec<f64>> {
    let mut state = seed;
    let column = |&base: &u32| {
        let start = uniform(&mut state);
        let places = (1..=samples).map(|i| (start + radical_inverse(i, base)).fract());
        stratified(&places.collect::<Vec<_>>())
    };
    HALTON_BASES.iter().take(dimensions).map(column).collect()
}

const HALTON_BASES: [u32; MOST_DIMENSIONS] = [2, 3, 5, 7, 11, 13, 17, 19];

/// Largest number of columns of [`normal_draws`].
pub const MOST_DIMENSIONS: usize = 8;

/// The digits of `index` in `base`, mirrored about the point: 6 = 110 in base 2 gives 0.011.
fn radical_inverse(mut index: usize, base: u32) -> f64 {
    let (mut place, mut sum) = (1.0, 0.0);
    while index > 0 {
        place /= f64::from(base);
        sum += place * (index % base as usize) as f64;
        index /= base as usize;
    }
    sum
}

/// Standard normal values in the order of `places`, one in each stratum.
fn stratified(places: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| places[a].total_cmp(&places[b]));
    let mut values = vec![0.0; places.len()];
    for (rank, &at) in order.iter().enumerate() {
        values[at] = normal_quantile((rank as f64 + 0.5) / places.len() as f64);
    }
    values
}

fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) >> 11) as f64 * (1.0 / (1_u64 << 53) as f64)
}

/// Quantile of the standard normal distribution at `p`, 0 < p < 1: algorithm AS 241 (routine
/// PPND16; Wichura, Applied Statistics 37, 1988), relative error about 1e-16. Outside, the
/// infinity of that side; NaN for NaN.
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * ratio(r, &CENTRE_NUMERATOR, &CENTRE_DENOMINATOR);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail <= 0.0 {
        return f64::INFINITY.copysign(q);
    }
    let r = (-tail.ln()).sqrt();
    let size = if r <= 5.0 {
        ratio(r - 1.6, &MIDDLE_NUMERATOR, &MIDDLE_DENOMINATOR)
    } else {
        ratio(r - 5.0, &FAR_NUMERATOR, &FAR_DENOMINATOR)
    };
    if q < 0.0 { -size } else { size }
}

/// Probability that a standard normal variable is `z` or less, by the complementary error function
/// of the Sun math library; relative error about 1e-15, also far out in the lower tail. NaN for NaN.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

fn ratio(x: f64, numerator: &[f64; 8], denominator: &[f64; 8]) -> f64 {
    let horner = |terms: &[f64; 8]| terms.iter().rev().fold(0.0, |sum, term| sum * x + term);
    horner(numerator) / horner(denominator)
}

// Coefficients of AS 241, lowest power first.
#[rustfmt::skip]
const CENTRE_NUMERATOR: [f64; 8] = [
    3.387_132_872_796_366_5, 133.141_667_891_784_38, 1_971.590_950_306_551_3, 13_731.693_765_509_46,
    45_921.953_931_549_87, 67_265.770_927_008_7, 33_430.575_583_588_13, 2_509.080_928_730_122_7,
];
#[rustfmt::skip]
const CENTRE_DENOMINATOR: [f64; 8] = [
    1.0, 42.313_330_701_600_91, 687.187_007_492_057_9, 5_394.196_021_424_751,
    21_213.794_301_586_597, 39_307.895_800_092_71, 28_729.085_735_721_943, 5_226.495_278_852_854,
];
#[rustfmt::skip]
const MIDDLE_NUMERATOR: [f64; 8] = [
    1.423_437_110_749_683_5, 4.630_337_846_156_546, 5.769_497_221_460_691, 3.647_848_324_763_204_5,
    1.270_458_252_452_368_4, 0.241_780_725_177_450_6, 0.022_723_844_989_269_184, 7.745_450_142_783_414e-4,
];
#[rustfmt::skip]
const MIDDLE_DENOMINATOR: [f64; 8] = [
    1.0, 2.053_191_626_637_759, 1.676_384_830_183_803_8, 0.689_767_334_985_1,
    0.148_103_976_427_480_08, 0.015_198_666_563_616_457, 5.475_938_084_995_345e-4, 1.050_750_071_644_416_9e-9,
];
#[rustfmt::skip]
const FAR_NUMERATOR: [f64; 8] = [
    6.657_904_643_501_103, 5.463_784_911_164_114, 1.784_826_539_917_291_3, 0.296_560_571_828_504_87,
    0.026_532_189_526_576_124, 0.001_242_660_947_388_078_4, 2.711_555_568_743_487_6e-5, 2.010_334_399_292_288_1e-7,
];
#[rustfmt::skip]
const FAR_DENOMINATOR: [f64; 8] = [
    1.0, 0.599_832_206_555_888, 0.136_929_880_922_735_8, 0.014_875_361_290_850_615,
    7.868_691_311_456_133e-4, 1.846_318_317_510_054_8e-5, 1.421_511_758_316_446e-7, 2.044_263_103_389_939_8e-15,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Check values printed with AS 241 (Wichura 1988): PPND16 at 0.25, 0.001 and 1e-20.
    #[test]
    fn quantiles_match_the_published_check_values() {
        for (p, expected) in [
            (0.25, -0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_814),
            (1e-20, -9.262_340_089_798_408),
        ] {
            let error = normal_quantile(p) / expected - 1.0;
            assert!(error.abs() < 1e-14, "{p}: {error}");
        }
        assert!(normal_quantile(0.5).abs() < f64::EPSILON);
        assert!(normal_quantile(0.0).is_infinite() && normal_quantile(1.0).is_infinite());
    }

    /// The quantiles above, taken back to their probabilities.
    #[test]
    fn the_distribution_function_undoes_the_quantile() {
        for p in [1e-20, 1e-6, 0.001, 0.25, 0.5, 0.975] {
            let error = normal_cdf(normal_quantile(p)) / p - 1.0;
            assert!(error.abs() < 1e-13, "{p}: {error}");
        }
    }

    #[test]
    fn a_seed_gives_its_draws_and_another_seed_others() {
        assert_eq!(normal_draws(7, 3, 64), normal_draws(7, 3, 64));
        assert_ne!(normal_draws(7, 3, 64), normal_draws(8, 3, 64));
    }

    /// Moments of the standard normal distribution, and no pair of columns correlated by more than
    /// the standard error of pseudo-random draws, 1/sqrt(512).
    #[test]
    fn draws_have_the_moments_of_the_normal() {
        for seed in [0, 1, u64::MAX] {
            let columns = normal_draws(seed, 6, 512);
            for (i, a) in columns.iter().enumerate() {
                let mean = a.iter().sum::<f64>() / 512.0;
                assert!(mean.abs() < 1e-12, "seed {seed} column {i}: mean {mean}");
                for (j, b) in columns.iter().enumerate() {
                    let product = a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>() / 512.0;
                    let expected = f64::from(u8::from(i == j));
                    let off = (product - expected).abs();
                    assert!(
                        off < 512_f64.sqrt().recip(),
                        "seed {seed} columns {i}, {j}: {product}"
                    );
                }
            }
        }
    }
}

//! The standard normal distribution.

// The coefficients stand as they were published.
#![allow(clippy::excessive_precision)]

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// Density at `z`.
pub fn pdf(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / TAU.sqrt()
}

/// Probability of at most `z`.
pub fn cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// Probability of more than `z`, accurate in the upper tail.
pub fn survival(z: f64) -> f64 {
    cdf(-z)
}

/// Logarithm of [`survival`], also where that underflows (`z` above 38).
pub fn ln_survival(z: f64) -> f64 {
    if z < ASYMPTOTIC_FROM {
        libm::log(survival(z))
    } else {
        -0.5 * z * z - 0.5 * libm::log(TAU) - libm::log(z) + libm::log1p(mills_tail(z))
    }
}

/// Density over survival (inverse Mills ratio), also far in the upper tail.
pub fn hazard(z: f64) -> f64 {
    if z < ASYMPTOTIC_FROM {
        pdf(z) / survival(z)
    } else {
        z / (1.0 + mills_tail(z))
    }
}

/// From here the asymptotic series is good to the last bit and the plain quotient is not.
const ASYMPTOTIC_FROM: f64 = 20.0;

/// z R(z) / pdf(z) - 1 by its asymptotic series (Abramowitz and Stegun 26.2.12).
fn mills_tail(z: f64) -> f64 {
    let w = 1.0 / (z * z);
    -w * (1.0 - w * (3.0 - w * (15.0 - w * (105.0 - w * 945.0))))
}

/// The `z` below which a share `p` of the distribution lies. `p` of 0 and 1 give the infinities,
/// anything outside 0 to 1 gives NaN. Relative error about 1e-16.
///
/// Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988) 477; coefficients from memory, checked by
/// inverting [`cdf`].
pub fn quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * polynomial(&CENTRAL_NUMERATOR, r) / polynomial(&CENTRAL_DENOMINATOR, r);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail == 0.0 {
        return f64::INFINITY.copysign(q);
    }
    // NaN, too, when p is outside 0 to 1.
    let r = (-libm::log(tail)).sqrt();
    let z = if r <= 5.0 {
        polynomial(&MIDDLE_NUMERATOR, r - 1.6) / polynomial(&MIDDLE_DENOMINATOR, r - 1.6)
    } else {
        polynomial(&FAR_NUMERATOR, r - 5.0) / polynomial(&FAR_DENOMINATOR, r - 5.0)
    };
    z.copysign(q)
}

fn polynomial(coefficients: &[f64; 8], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

const CENTRAL_NUMERATOR: [f64; 8] = [
    3.387_132_872_796_366_608,
    133.141_667_891_784_377_45,
    1_971.590_950_306_551_442_7,
    13_731.693_765_509_461_125,
    45_921.953_931_549_871_457,
    67_265.770_927_008_700_853,
    33_430.575_583_588_128_105,
    2_509.080_928_730_122_672_7,
];
const CENTRAL_DENOMINATOR: [f64; 8] = [
    1.0,
    42.313_330_701_600_911_252,
    687.187_007_492_057_908_3,
    5_394.196_021_424_751_107_7,
    21_213.794_301_586_595_867,
    39_307.895_800_092_710_61,
    28_729.085_735_721_942_674,
    5_226.495_278_852_854_561,
];
const MIDDLE_NUMERATOR: [f64; 8] = [
    1.423_437_110_749_683_577_34,
    4.630_337_846_156_545_295_9,
    5.769_497_221_460_691_405_5,
    3.647_848_324_763_204_605_04,
    1.270_458_252_452_368_382_58,
    0.241_780_725_177_450_611_77,
    0.022_723_844_989_269_184_59,
    7.745_450_142_783_414_076_4e-4,
];
const MIDDLE_DENOMINATOR: [f64; 8] = [
    1.0,
    2.053_191_626_637_758_821_87,
    1.676_384_830_183_803_849_4,
    0.689_767_334_985_100_004_55,
    0.148_103_976_427_480_074_59,
    0.015_198_666_563_616_457_197,
    5.475_938_084_995_344_946e-4,
    1.050_750_071_644_416_843_24e-9,
];
const FAR_NUMERATOR: [f64; 8] = [
    6.657_904_643_501_103_777_2,
    5.463_784_911_164_114_369_9,
    1.784_826_539_917_291_335_8,
    0.296_560_571_828_504_891_23,
    0.026_532_189_526_576_123_093,
    0.001_242_660_947_388_078_438_6,
    2.711_555_568_743_487_578_15e-5,
    2.010_334_399_292_288_132_65e-7,
];
const FAR_DENOMINATOR: [f64; 8] = [
    1.0,
    0.599_832_206_555_887_937_69,
    0.136_929_880_922_735_805_31,
    0.014_875_361_290_850_615_025,
    7.868_691_311_456_132_591e-4,
    1.846_318_317_510_054_681_8e-5,
    1.421_511_758_316_445_888_7e-7,
    2.044_263_103_389_939_785_64e-15,
];

//! Fits to published censored lives. Values marked (scipy), (lifelines), (reliability) come from those
//! Python packages (1.17.1, 0.30.3, 0.9.0); (optimiser) from a separate numerical maximisation.

// Ages are read, not computed.
#![allow(clippy::float_cmp, clippy::unwrap_used, clippy::panic)]

mod statistics_data;

use proptest::prelude::*;
use ringland_mechanics::statistics::regression::{self, ErrorLaw};
use ringland_mechanics::statistics::{Life, StatisticsError, fit, normal};
use statistics_data::{assert_close, lives, rows};

fn failed(ages: &[f64]) -> Vec<Life> {
    ages.iter().map(|&age| Life { age, failed: true }).collect()
}

/// Lieblein and Zelen 1956; shape 2.102 and scale 81.88 are the published fit, the digits (scipy, lifelines).
#[test]
fn ball_bearings() {
    let rows = rows(include_str!("data/ball_bearings.csv"));
    let mut ages: Vec<f64> = rows.iter().map(|row| row[0].parse().unwrap()).collect();
    let weibull = fit::weibull(&failed(&ages)).unwrap();
    assert_close(weibull.life.shape, 2.102_059, 1e-6);
    assert_close(weibull.life.scale, 81.878_33, 1e-6);
    assert_close(weibull.log_likelihood, -113.691_291, 1e-8);
    assert_close(weibull.life.quantile(0.1), 28.0694, 1e-5);
    assert_close(weibull.life.quantile(0.5), 68.7774, 1e-5);
    let lognormal = fit::lognormal(&failed(&ages)).unwrap();
    assert_close(lognormal.life.ln_mean, 4.150_454_5, 1e-7);
    assert_close(lognormal.life.ln_sd, 0.521_649_3, 1e-6);
    assert_close(lognormal.log_likelihood, -113.128_567, 1e-8);
    let mean = ages.iter().sum::<f64>() / ages.len() as f64;
    assert_close(mean, 72.2243, 1e-5);

    // Copies of the data with a misprint in the seventh life give another fit.
    for (seventh, shape, scale) in [(48.40, 2.101_847, 81.874_56), (48.80, 2.102_903, 81.893_43)] {
        ages[6] = seventh;
        let weibull = fit::weibull(&failed(&ages)).unwrap();
        assert_close(weibull.life.shape, shape, 1e-6);
        assert_close(weibull.life.scale, scale, 1e-6);
    }
}

/// NIST/SEMATECH e-Handbook 8.4.1.3 prints 606.5280, 1.7208, -75.135, AIC 154.27 and 154.39, mean
/// 540.737, standard deviation 323.806; more digits (optimiser).
#[test]
fn nist_handbook_8_4_1_3() {
    let lives = lives(include_str!("data/nist_8_4_1_3.csv"), 0, 1);
    let weibull = fit::weibull(&lives).unwrap();
    assert_close(weibull.life.scale, 606.527_56, 1e-7);
    assert_close(weibull.life.shape, 1.720_797_3, 1e-7);
    assert_close(weibull.log_likelihood, -75.134_618, 1e-8);
    assert_close(fit::akaike(weibull.log_likelihood, 2), 154.2692, 1e-6);
    assert_close(weibull.life.mean(), 540.7370, 1e-6);
    assert_close(weibull.life.standard_deviation(), 323.806, 1e-5);
    let lognormal = fit::lognormal(&lives).unwrap();
    assert_close(fit::akaike(lognormal.log_likelihood, 2), 154.3925, 1e-6);
}

/// Nelson 1969; values (optimiser, lifelines).
#[test]
fn generator_fans() {
    let lives = lives(include_str!("data/generator_fans.csv"), 0, 1);
    assert_eq!(lives.len(), 70);
    let weibull = fit::weibull(&lives).unwrap();
    assert_close(weibull.life.shape, 1.058_446, 1e-6);
    assert_close(weibull.life.scale, 26_296.845, 1e-6);
    assert_close(weibull.log_likelihood, -135.152_720, 1e-8);
    assert_close(weibull.scale_se, 12_251.43, 1e-5);
    assert_close(weibull.shape_se, 0.268_25, 3e-5);
    for (share, age) in [(0.10, 3137.24), (0.05, 1589.25), (0.01, 340.72)] {
        assert_close(weibull.life.quantile(share), age, 1e-5);
    }
    let lognormal = fit::lognormal(&lives).unwrap();
    assert_close(lognormal.life.ln_mean, 10.143_239, 1e-6);
    assert_close(lognormal.life.ln_sd, 1.679_593, 1e-6);
    assert_close(lognormal.log_likelihood, -134.549_648, 1e-8);
    let exponential = fit::exponential(&lives).unwrap();
    assert_close(exponential.mean, 28_703.33, 1e-6);
    assert_close(exponential.log_likelihood, -135.177_222, 1e-8);
}

/// O'Connor; Meeker and Escobar 1998: shape 3.16, scale 27 718.7 in the book (from memory); more digits (optimiser). One
/// public copy prints 18 420 km for the survivor of 18 450.
#[test]
fn shock_absorbers() {
    let mut lives = lives(include_str!("data/shock_absorbers.csv"), 0, 1);
    let weibull = fit::weibull(&lives).unwrap();
    assert_close(weibull.life.shape, 3.160_470, 1e-6);
    assert_close(weibull.life.scale, 27_718.718, 1e-7);
    assert_close(weibull.log_likelihood, -123.995_361, 1e-8);

    let misprinted = lives.iter_mut().find(|life| life.age == 18_450.0).unwrap();
    misprinted.age = 18_420.0;
    let weibull = fit::weibull(&lives).unwrap();
    assert_close(weibull.life.shape, 3.160_580, 1e-6);
    assert_close(weibull.life.scale, 27_717.362, 1e-7);
    let lognormal = fit::lognormal(&lives).unwrap();
    assert_close(lognormal.life.ln_mean, 10.144_703, 1e-6);
    assert_close(lognormal.life.ln_sd, 0.530_029, 1e-5);
    assert_close(lognormal.life.quantile(0.1), 12_906.0, 1e-4);
}

/// Two groups of 21, as a treated and an untreated batch would be. Freireich 1963; values
/// (optimiser, lifelines).
#[test]
fn treatment_effect_with_interval() {
    let text = include_str!("data/gehan.csv");
    let groups: Vec<&str> = rows(text).into_iter().map(|row| row[4]).collect();
    let group = |name| {
        let both = lives(text, 2, 3).into_iter().zip(&groups);
        let chosen = both.filter(|(_, group)| **group == name);
        chosen.map(|(life, _)| life).collect::<Vec<Life>>()
    };
    let effect = fit::treatment_effect(&group("control"), &group("6-MP")).unwrap();
    assert_close(effect.untreated.scale.ln(), 2.248_352, 1e-6);
    assert_close(effect.untreated.shape, 1.365_757, 1e-6);
    assert_close(effect.life_factor.ln(), 1.267_335, 1e-6);
    assert_close(effect.ln_life_factor_se, 0.310_640, 2e-6);
    assert_close(effect.life_factor, 3.5514, 1e-4);
    assert_close(effect.life_factor_low, 1.932, 3e-4);
    assert_close(effect.life_factor_high, 6.529, 1e-4);
    assert_close(effect.hazard_ratio, 0.177_13, 3e-5);
    assert_close(effect.log_likelihood, -106.579_492, 1e-8);
}

/// Nelson and Hahn 1972, motorettes over temperature; values (optimiser).
#[test]
fn motorettes_over_temperature() {
    let text = include_str!("data/motorettes.csv");
    let lives = lives(text, 2, 3);
    let temp_c: Vec<f64> = rows(text)
        .iter()
        .map(|row| row[1].parse().unwrap())
        .collect();
    let linear = regression::fit(ErrorLaw::SmallestExtremeValue, &lives, &[&temp_c]).unwrap();
    assert_close(linear.coefficients[0], 16.318_519, 1e-6);
    assert_close(linear.coefficients[1], -0.045_307_1, 2e-6);
    assert_close(linear.scale, 0.334_325, 2e-6);
    assert_close(linear.log_likelihood, -147.365_061, 1e-8);

    let inverse: Vec<f64> = temp_c.iter().map(|t| 1000.0 / (t + 273.2)).collect();
    let arrhenius = regression::fit(ErrorLaw::SmallestExtremeValue, &lives, &[&inverse]).unwrap();
    assert_close(arrhenius.coefficients[0], -13.355_267, 1e-6);
    assert_close(arrhenius.coefficients[1], 9.725_981, 1e-6);
    assert_close(arrhenius.scale, 0.325_445, 2e-6);

    let lognormal = regression::fit(ErrorLaw::Normal, &lives, &[&inverse]).unwrap();
    assert_close(lognormal.coefficients[0], -13.859_835, 1e-6);
    assert_close(lognormal.coefficients[1], 9.927_013, 1e-6);
    assert_close(lognormal.scale, 0.596_790, 2e-6);
    assert_close(lognormal.log_likelihood, -148.537_430, 1e-8);
    let slope = lognormal.coefficients[1] * 1000.0;
    // Activation energy with the Boltzmann constant of the SI, in eV.
    assert_close(slope * 8.617_333_262e-5, 0.855_44, 1e-5);
    let acceleration = (slope * (1.0 / 403.2 - 1.0 / 493.2)).exp();
    assert_close(acceleration, 89.372, 1e-4);
    let median_at_130 = (lognormal.coefficients[0] + slope / 403.2).exp();
    assert_close(median_at_130, 47_133.0, 1e-4);
}

#[test]
fn refusals_name_what_is_wrong() {
    let one = failed(&[5.0]);
    let few = StatisticsError::TooFew {
        what: "failures",
        found: 1,
        needed: 2,
    };
    assert_eq!(fit::weibull(&one).unwrap_err(), few);
    let negative = failed(&[5.0, -1.0, 3.0]);
    let error = fit::lognormal(&negative).unwrap_err().to_string();
    assert!(error.contains("age") && error.contains("-1"), "{error}");
    let equal = failed(&[5.0, 5.0, 5.0]);
    for error in [
        fit::weibull(&equal).unwrap_err(),
        fit::lognormal(&equal).unwrap_err(),
    ] {
        assert!(
            matches!(error, StatisticsError::NoMaximum { .. }),
            "{error}"
        );
    }
    let short: &[f64] = &[1.0];
    let error = regression::fit(ErrorLaw::Normal, &failed(&[1.0, 2.0, 3.0]), &[short]);
    assert!(matches!(error, Err(StatisticsError::LengthsDiffer { .. })));
}

proptest! {
    /// Ages in another unit: the scale follows, the shape stays, the likelihood moves by the Jacobian.
    #[test]
    fn unit_of_age_is_immaterial(
        ages in prop::collection::vec((0.1..10.0_f64, any::<bool>()), 6..40),
        factor in 0.01..1000.0_f64,
    ) {
        let lives = |factor: f64| -> Vec<Life> {
            ages.iter().map(|&(age, failed)| Life { age: age * factor, failed }).collect()
        };
        let failures = ages.iter().filter(|(_, failed)| *failed).count();
        prop_assume!(failures >= 4);
        let (a, b) = (fit::weibull(&lives(1.0)).unwrap(), fit::weibull(&lives(factor)).unwrap());
        prop_assert!((a.life.shape / b.life.shape - 1.0).abs() < 1e-6);
        prop_assert!((a.life.scale * factor / b.life.scale - 1.0).abs() < 1e-6);
        let moved = a.log_likelihood - failures as f64 * factor.ln();
        prop_assert!((moved - b.log_likelihood).abs() < 1e-6 * (1.0 + moved.abs()));
    }

    /// No neighbouring distribution is more likely than the fitted one.
    #[test]
    fn fitted_is_most_likely(
        ages in prop::collection::vec((0.1..10.0_f64, any::<bool>()), 6..40),
        shape_by in 0.9..1.1_f64,
        scale_by in 0.9..1.1_f64,
    ) {
        let lives: Vec<Life> = ages.iter().map(|&(age, failed)| Life { age, failed }).collect();
        prop_assume!(lives.iter().filter(|life| life.failed).count() >= 4);
        let fitted = fit::lognormal(&lives).unwrap();
        let likelihood = |ln_mean: f64, ln_sd: f64| -> f64 {
            let term = |life: &Life| {
                let z = (life.age.ln() - ln_mean) / ln_sd;
                if life.failed {
                    normal::pdf(z).ln() - (ln_sd * life.age).ln()
                } else {
                    normal::survival(z).ln()
                }
            };
            lives.iter().map(term).sum()
        };
        let (m, s) = (fitted.life.ln_mean, fitted.life.ln_sd);
        prop_assert!((likelihood(m, s) - fitted.log_likelihood).abs() < 1e-9 * (1.0 + fitted.log_likelihood.abs()));
        prop_assert!(likelihood(m + scale_by - 1.0, s * shape_by) <= fitted.log_likelihood + 1e-9);
    }
}

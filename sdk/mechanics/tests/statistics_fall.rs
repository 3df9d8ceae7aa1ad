//! Exponential falls and lines against certified values, their laws, and how often their intervals hold the truth.

#![allow(clippy::unwrap_used, missing_docs)]

use proptest::prelude::*;
use ringland_mechanics::statistics::correction::Belief;
use ringland_mechanics::statistics::exponential_fall::{
    Fall, FallReading, LevelPrior, Series, least_squares,
};
use ringland_mechanics::statistics::line::{LineReading, line};
use ringland_mechanics::statistics::normal;
use ringland_mechanics::statistics::sampling::SplitMix64;

/// National Institute of Standards and Technology, Statistical Reference Datasets, nonlinear regression, Misra1a:
/// y = b1 (1 - exp(-b2 x)). Columns y, x.
const MISRA1A: [(f64, f64); 14] = [
    (10.07, 77.6),
    (14.73, 114.9),
    (17.94, 141.1),
    (23.93, 190.8),
    (29.61, 239.9),
    (35.18, 289.0),
    (40.02, 332.8),
    (44.82, 378.4),
    (50.76, 434.8),
    (55.05, 477.3),
    (61.01, 536.8),
    (66.40, 593.1),
    (75.47, 689.1),
    (81.78, 760.0),
];

/// The same collection, BoxBOD: the same function. Columns y, x.
const BOX_BOD: [(f64, f64); 6] = [
    (109.0, 1.0),
    (149.0, 2.0),
    (149.0, 3.0),
    (191.0, 5.0),
    (213.0, 7.0),
    (224.0, 10.0),
];

/// The function of both is a fall whose drop is minus its end, which a reading of 0 at 0 without error says.
fn growth(rows: &[(f64, f64)], sd: f64) -> Vec<FallReading> {
    let start = FallReading {
        dose: 0.0,
        level: 0.0,
        sd: 1e-5 * sd,
    };
    let readings = rows
        .iter()
        .map(|&(level, dose)| FallReading { dose, level, sd });
    [start].into_iter().chain(readings).collect()
}

/// Certified: b1, b2, their standard deviations, residual sum of squares, residual standard deviation.
#[test]
fn certified_values_are_met() {
    let misra = (
        238.942_129_18,
        5.501_564_318_1e-4,
        2.707_007_524_1,
        7.266_868_843_6e-6,
        1.245_513_889_4e-1,
        1.018_787_633_0e-1,
    );
    let bod = (
        213.809_408_89,
        5.472_374_854_2e-1,
        12.354_515_176,
        1.045_599_323_7e-1,
        1_168.008_876_6,
        17.088_072_423,
    );
    for (rows, (b1, b2, b1_sd, b2_sd, squares, sd)) in [(&MISRA1A[..], misra), (&BOX_BOD[..], bod)]
    {
        let fit = least_squares(&growth(rows, sd)).unwrap();
        assert!((fit.end / b1 - 1.0).abs() < 1e-7, "{} is not {b1}", fit.end);
        assert!(
            (1.0 / fit.scale / b2 - 1.0).abs() < 1e-7,
            "{} is not {b2}",
            1.0 / fit.scale
        );
        assert!(
            (fit.end_se / b1_sd - 1.0).abs() < 1e-4,
            "{} is not {b1_sd}",
            fit.end_se
        );
        assert!(
            (fit.ln_scale_se * b2 / b2_sd - 1.0).abs() < 1e-4,
            "{} is not {b2_sd}",
            fit.ln_scale_se * b2
        );
        assert!(
            (fit.chi_squared * sd * sd / squares - 1.0).abs() < 1e-7,
            "{}",
            fit.chi_squared * sd * sd
        );
    }
}

/// The same collection, linear regression, Norris. Columns y, x.
const NORRIS: [(f64, f64); 36] = [
    (0.1, 0.2),
    (338.8, 337.4),
    (118.1, 118.2),
    (888.0, 884.6),
    (9.2, 10.1),
    (228.1, 226.5),
    (668.5, 666.3),
    (998.5, 996.3),
    (449.1, 448.6),
    (778.9, 777.0),
    (559.2, 558.2),
    (0.3, 0.4),
    (0.1, 0.6),
    (778.1, 775.5),
    (668.8, 666.9),
    (339.3, 338.0),
    (448.9, 447.5),
    (10.8, 11.6),
    (557.7, 556.0),
    (228.3, 228.1),
    (998.0, 995.8),
    (888.8, 887.6),
    (119.6, 120.2),
    (0.3, 0.3),
    (0.6, 0.3),
    (557.6, 556.8),
    (339.3, 339.1),
    (888.0, 887.2),
    (998.5, 999.0),
    (778.9, 779.0),
    (10.2, 11.1),
    (117.6, 118.3),
    (228.9, 229.2),
    (668.4, 669.1),
    (449.2, 448.9),
    (0.2, 0.5),
];

/// Certified: -0.262323073774029 (0.232818234301152), 1.00211681802045 (0.429796848199937e-3), residual standard
/// deviation 0.884796396144373.
#[test]
fn a_line_is_the_certified_one() {
    let sd = 0.884_796_396_144_373;
    let readings: Vec<_> = NORRIS
        .iter()
        .map(|&(y, x)| LineReading { x, y, sd })
        .collect();
    let fit = line(&readings).unwrap();
    assert!(
        (fit.intercept / -0.262_323_073_774_029 - 1.0).abs() < 1e-10,
        "{}",
        fit.intercept
    );
    assert!(
        (fit.slope / 1.002_116_818_020_45 - 1.0).abs() < 1e-12,
        "{}",
        fit.slope
    );
    assert!((fit.intercept_variance.sqrt() / 0.232_818_234_301_152 - 1.0).abs() < 1e-10);
    assert!((fit.slope_variance.sqrt() / 4.297_968_481_999_37e-4 - 1.0).abs() < 1e-10);
    assert!((fit.chi_squared - 34.0).abs() < 1e-8, "{}", fit.chi_squared);
    assert!((fit.at(0.0).sd - fit.intercept_variance.sqrt()).abs() < 1e-15);
}

#[test]
fn what_has_no_fall_is_refused() {
    let reading = |dose, level| FallReading {
        dose,
        level,
        sd: 1.0,
    };
    assert!(
        least_squares(&[reading(0.0, 2.0), reading(1.0, 1.0)]).is_err(),
        "two readings"
    );
    assert!(
        least_squares(&[reading(0.0, 3.0), reading(1.0, 2.0), reading(2.0, 1.0)]).is_err(),
        "a straight line"
    );
    assert!(
        least_squares(
            &[FallReading {
                dose: 0.0,
                level: 1.0,
                sd: 0.0
            }; 4]
        )
        .is_err(),
        "no error"
    );
    assert!(Fall::of(Belief { mean: 0.0, sd: 1.0 }, &[]).is_err());
    assert!(
        line(
            &[LineReading {
                x: 1.0,
                y: 1.0,
                sd: 1.0
            }; 3]
        )
        .is_err()
    );
    assert!(line(&[]).is_err());
}

/// What one would believe of a ring pack's blow-by in l/min and pulls. Assumed.
const LN_SCALE: Belief = Belief { mean: 0.2, sd: 0.6 };
const PRIOR: LevelPrior = LevelPrior {
    end: Belief {
        mean: 85.0,
        sd: 25.0,
    },
    drop: Belief {
        mean: 85.0,
        sd: 40.0,
    },
};
const METER_SD: f64 = 2.0;

fn series(readings: Vec<FallReading>) -> Series {
    Series {
        readings,
        prior: PRIOR,
    }
}

/// A truth drawn from the prior and readings of it after pulls 0 to `pulls`.
struct Drawn {
    end: f64,
    scale: f64,
    drop: f64,
    readings: Vec<FallReading>,
}

fn draw(random: &mut SplitMix64, pulls: usize) -> Drawn {
    let mut z = || normal::quantile(random.next_open());
    let end = PRIOR.end.mean + PRIOR.end.sd * z();
    let drop = PRIOR.drop.mean + PRIOR.drop.sd * z();
    let scale = (LN_SCALE.mean + LN_SCALE.sd * z()).exp();
    let readings = (0..=pulls).map(|pull| {
        let dose = pull as f64;
        let level = end + drop * (-dose / scale).exp() + METER_SD * z();
        FallReading {
            dose,
            level,
            sd: METER_SD,
        }
    });
    let readings = readings.collect();
    Drawn {
        end,
        scale,
        drop,
        readings,
    }
}

/// Truths drawn from the prior lie within the 90 % intervals in 87 to 93 % of trials; 2000 trials, whose own error is
/// 0.7 %.
#[test]
fn intervals_hold_the_truth_as_often_as_they_say() {
    const TRIALS: usize = 2000;
    for pulls in [1, 2, 3, 6] {
        let mut random = SplitMix64::new(1 + pulls as u64);
        let mut held = [0_usize; 4];
        for _ in 0..TRIALS {
            let truth = draw(&mut random, pulls);
            let fall = Fall::of(LN_SCALE, &[series(truth.readings)]).unwrap();
            let now = pulls as f64;
            let within =
                |low: f64, high: f64, value: f64| usize::from(low <= value && value <= high);
            let end = fall.level(0, f64::INFINITY);
            held[0] += within(end.quantile(0.05), end.quantile(0.95), truth.end);
            let share = 1.0 - (-now / truth.scale).exp();
            held[1] += within(
                fall.share_quantile(now, 0.05),
                fall.share_quantile(now, 0.95),
                share,
            );
            held[2] += within(
                fall.scale_quantile(0.05),
                fall.scale_quantile(0.95),
                truth.scale,
            );
            let next = fall.change(0, now, now + 1.0);
            let change =
                truth.drop * ((-now / truth.scale).exp() - (-(now + 1.0) / truth.scale).exp());
            held[3] += within(next.quantile(0.05), next.quantile(0.95), change);
        }
        let shares = held.map(|count| count as f64 / TRIALS as f64);
        println!(
            "after {pulls} pulls, 90 % intervals of end, share, scale, next change hold {shares:?}"
        );
        assert!(
            shares.iter().all(|share| (0.87..=0.93).contains(share)),
            "{pulls} pulls: {shares:?}"
        );
    }
}

/// More pulls narrow the scale, on average and from the prior on (for one drawn pack a surprise may widen it).
#[test]
fn more_pulls_narrow_the_scale() {
    let mut last = LN_SCALE.sd * LN_SCALE.sd;
    for pulls in [1, 2, 4, 8] {
        let mut random = SplitMix64::new(7);
        let variance = (0..400).map(|_| {
            let truth = draw(&mut random, pulls);
            let sd = Fall::of(LN_SCALE, &[series(truth.readings)])
                .unwrap()
                .ln_scale()
                .sd;
            sd * sd
        });
        let mean = variance.sum::<f64>() / 400.0;
        assert!(mean < last, "{pulls} pulls: {mean} is not below {last}");
        last = mean;
    }
}

/// Nothing read: what was believed before.
#[test]
fn without_readings_the_prior_stands() {
    let fall = Fall::of(LN_SCALE, &[series(Vec::new())]).unwrap();
    for z in [-1.6, 0.0, 1.6] {
        let expected = (LN_SCALE.mean + LN_SCALE.sd * z).exp();
        let found = fall.scale_quantile(normal::cdf(z));
        assert!(
            (found / expected - 1.0).abs() < 2e-3,
            "{found} is not {expected}"
        );
        let end = fall.level(0, f64::INFINITY).quantile(normal::cdf(z));
        assert!((end - PRIOR.end.mean - z * PRIOR.end.sd).abs() < 1e-6);
    }
    assert!((fall.ln_scale().sd / LN_SCALE.sd - 1.0).abs() < 1e-3);
}

/// A meter so good that the prior does not count.
#[test]
fn readings_without_error_leave_no_doubt() {
    let readings = (0..6).map(|pull| {
        let dose = f64::from(pull);
        FallReading {
            dose,
            level: 80.0 + 70.0 * (-dose / 1.3).exp(),
            sd: 1e-5,
        }
    });
    let fall = Fall::of(LN_SCALE, &[series(readings.collect())]).unwrap();
    assert!((fall.scale_quantile(0.5) / 1.3 - 1.0).abs() < 1e-6);
    assert!(fall.ln_scale().sd < 1e-6, "{}", fall.ln_scale().sd);
    assert!((fall.level(0, f64::INFINITY).quantile(0.5) - 80.0).abs() < 1e-4);
    assert!((fall.probability_done(4.0, 0.9) - 1.0).abs() < 1e-9);
}

/// Leak-down of the same pack sharpens the scale that blow-by gives.
#[test]
fn two_quantities_tell_more_than_one() {
    let mut random = SplitMix64::new(3);
    let truth = draw(&mut random, 4);
    let leak = (0..=4).map(|pull| FallReading {
        dose: f64::from(pull),
        level: 0.03 + 0.06 * (-f64::from(pull) / truth.scale).exp(),
        sd: 0.002,
    });
    let leak = Series {
        readings: leak.collect(),
        prior: LevelPrior {
            end: Belief {
                mean: 0.03,
                sd: 0.02,
            },
            drop: Belief {
                mean: 0.05,
                sd: 0.05,
            },
        },
    };
    let alone = Fall::of(LN_SCALE, &[series(truth.readings.clone())]).unwrap();
    let both = Fall::of(LN_SCALE, &[series(truth.readings), leak]).unwrap();
    assert!(both.ln_scale().sd < alone.ln_scale().sd);
}

proptest! {
    /// Readings without noise give their parameters back.
    #[test]
    fn least_squares_recovers_a_fall(
        end in 10.0..200.0_f64, drop in 5.0..300.0_f64, scale in 0.4..4.0_f64, pulls in 5_usize..12,
    ) {
        let readings = (0..pulls).map(|pull| {
            let dose = pull as f64;
            FallReading { dose, level: end + drop * (-dose / scale).exp(), sd: 1.0 }
        });
        let fit = least_squares(&readings.collect::<Vec<_>>()).unwrap();
        prop_assert!((fit.end / end - 1.0).abs() < 1e-6, "{} is not {}", fit.end, end);
        prop_assert!((fit.drop / drop - 1.0).abs() < 1e-6, "{} is not {}", fit.drop, drop);
        prop_assert!((fit.scale / scale - 1.0).abs() < 1e-6, "{} is not {}", fit.scale, scale);
    }

    /// Other units of level and dose change nothing but the units.
    #[test]
    fn units_do_not_matter(seed in 0_u64..500, level in 1e-6..1e3_f64, dose in 1e-3..1e3_f64) {
        let truth = draw(&mut SplitMix64::new(seed), 3);
        let one = Fall::of(LN_SCALE, &[series(truth.readings.clone())]).unwrap();
        let scaled = truth.readings.iter().map(|r| FallReading {
            dose: dose * r.dose, level: level * r.level, sd: level * r.sd,
        });
        let times = |b: Belief| Belief { mean: level * b.mean, sd: level * b.sd };
        let prior = LevelPrior { end: times(PRIOR.end), drop: times(PRIOR.drop) };
        let ln_scale = Belief { mean: LN_SCALE.mean + dose.ln(), sd: LN_SCALE.sd };
        let other = Fall::of(ln_scale, &[Series { readings: scaled.collect(), prior }]).unwrap();
        for p in [0.05, 0.5, 0.95] {
            let share = one.share_quantile(3.0, p);
            prop_assert!((other.share_quantile(3.0 * dose, p) - share).abs() < 1e-6);
            let end = one.level(0, f64::INFINITY).quantile(p);
            let found = other.level(0, f64::INFINITY).quantile(p) / level;
            prop_assert!((found - end).abs() < 1e-6 * (1.0 + end.abs()), "{} is not {}", found, end);
        }
    }
}

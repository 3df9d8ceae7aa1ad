//! Intervals of fitted lives against exact ones, and what holds for any lives.

#![allow(clippy::unwrap_used, missing_docs)]

mod statistics_data;

use proptest::prelude::*;
use ringland_mechanics::statistics::intervals::{self, Caution, Interval};
use ringland_mechanics::statistics::{Life, StatisticsError};
use statistics_data::{assert_close, lives, rows};

fn ball_bearings() -> Vec<Life> {
    let rows = rows(include_str!("data/ball_bearings.csv"));
    let age = |row: &Vec<&str>| row[0].parse().unwrap();
    let life = |row| Life {
        age: age(row),
        failed: true,
    };
    rows.iter().map(life).collect()
}

/// Lieblein and Zelen's bearings as lognormal: with every life ended the intervals are those of Student's t and chi squared
/// with 22 degrees of freedom, whose 5 and 95 % points are 1.717, 12.338 and 33.924 (any table).
#[test]
fn lognormal_without_censoring_is_students_and_chi_squared() {
    let lives = ball_bearings();
    let n = lives.len() as f64;
    let found = intervals::lognormal(&lives).unwrap();
    let life = found.fit.life;
    let sum_of_squares = n * life.ln_sd * life.ln_sd;
    let spread = found.ln_sd(0.9).unwrap();
    assert_close(spread.low, (sum_of_squares / 33.924).sqrt(), 0.02);
    assert_close(spread.high, (sum_of_squares / 12.338).sqrt(), 0.02);
    let mean = found.ln_mean(0.9).unwrap();
    let half = 1.717 * (sum_of_squares / (n - 1.0) / n).sqrt();
    assert_close(mean.low, life.ln_mean - half, 0.003);
    assert_close(mean.high, life.ln_mean + half, 0.003);
    let median = found.quantile(0.5, 0.9).unwrap();
    assert_close(median.low.ln(), mean.low, 1e-12);
    assert_eq!(found.caution(), None);
}

/// Fitted over true shape of 5, 10 and 20 lives: 5 and 95 % points by Thoman, Bain and Antle, Technometrics 11 (1969) 445,
/// table 1 (from memory).
#[test]
fn weibull_without_censoring_is_as_tabled() {
    for (n, low, high) in [(5, 0.683, 2.779), (10, 0.738, 1.807), (20, 0.791, 1.449)] {
        let lives: Vec<Life> = (1..=n)
            .map(|i| Life {
                age: f64::from(i),
                failed: true,
            })
            .collect();
        let found = intervals::weibull(&lives).unwrap();
        let shape = found.shape(0.9).unwrap();
        assert_close(found.fit.life.shape / shape.high, low, 0.03);
        assert_close(found.fit.life.shape / shape.low, high, 0.03);
    }
}

/// Gehan's two groups of 21, of the treated 12 survivors, five of them older than the last failure: the interval is wider
/// than that by standard errors (1.932 to 6.529) and reaches further up, as those five count only up to that failure.
#[test]
fn life_factor_of_two_groups() {
    let text = include_str!("data/gehan.csv");
    let groups: Vec<&str> = rows(text).into_iter().map(|row| row[4]).collect();
    let group = |name| {
        let both = lives(text, 2, 3).into_iter().zip(&groups);
        let chosen = both.filter(|(_, group)| **group == name);
        chosen.map(|(life, _)| life).collect::<Vec<Life>>()
    };
    let found = intervals::treatment_effect(&group("control"), &group("6-MP")).unwrap();
    let interval = found.life_factor(0.95).unwrap();
    let (wald_low, wald_high) = (found.effect.life_factor_low, found.effect.life_factor_high);
    assert!((interval.low / wald_low).ln().abs() < 0.15, "{interval:?}");
    assert!(
        interval.high > wald_high && interval.high < 1.35 * wald_high,
        "{interval:?}"
    );
    assert!(
        interval.high / interval.low > wald_high / wald_low,
        "{interval:?}"
    );
    assert_eq!(found.caution(), None);
}

#[test]
fn few_failures_among_survivors_carry_a_caution() {
    let life = |(i, failed): (usize, bool)| Life {
        age: 10.0 + i as f64,
        failed,
    };
    let few = [true, false, true, false, false, true, false];
    let few: Vec<Life> = few.into_iter().enumerate().map(life).collect();
    let found = intervals::weibull(&few).unwrap();
    let caution = found.caution().unwrap();
    let Caution::FewFailures { failures, .. } = caution;
    assert_eq!(failures, 3);
    assert!(caution.to_string().starts_with("3 failures"));
    let all: Vec<Life> = few
        .iter()
        .map(|life| Life {
            failed: true,
            ..*life
        })
        .collect();
    assert_eq!(intervals::weibull(&all).unwrap().caution(), None);
}

#[test]
fn refusals() {
    let found = intervals::weibull(&ball_bearings()).unwrap();
    let wrong = [
        found.shape(0.4),
        found.shape(0.999),
        found.scale(f64::NAN),
        found.quantile(0.0, 0.9),
        found.quantile(1.0, 0.9),
        found.failed_by(-1.0, 0.9),
    ];
    for answer in wrong {
        assert!(matches!(answer, Err(StatisticsError::OutOfRange { .. })));
    }
    let one = [
        Life {
            age: 5.0,
            failed: true,
        },
        Life {
            age: 6.0,
            failed: false,
        },
    ];
    assert!(matches!(
        intervals::weibull(&one),
        Err(StatisticsError::TooFew { .. })
    ));
}

fn within(interval: Interval, value: f64) -> bool {
    interval.low <= value && value <= interval.high
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// More confidence is a wider interval; another unit of age scales it; the share failed by a quantile's
    /// ends is the share that was asked.
    #[test]
    fn intervals_are_consistent(
        ages in prop::collection::vec((0.1..10.0_f64, any::<bool>()), 8..25),
        factor in 0.01..1000.0_f64,
        p in 0.05..0.95_f64,
    ) {
        prop_assume!(ages.iter().filter(|(_, failed)| *failed).count() >= 4);
        let lives = |factor: f64| -> Vec<Life> {
            ages.iter().map(|&(age, failed)| Life { age: age * factor, failed }).collect()
        };
        let draw = |factor| intervals::weibull_with(&lives(factor), 199, 1).unwrap();
        let (found, scaled) = (draw(1.0), draw(factor));
        let (narrow, wide) = (found.quantile(p, 0.8).unwrap(), found.quantile(p, 0.95).unwrap());
        prop_assert!(wide.low <= narrow.low && narrow.high <= wide.high);
        let other = scaled.quantile(p, 0.8).unwrap();
        prop_assert!((narrow.low * factor / other.low - 1.0).abs() < 1e-6);
        prop_assert!((narrow.high * factor / other.high - 1.0).abs() < 1e-6);
        for age in [narrow.low, narrow.high] {
            let share = found.failed_by(age, 0.8).unwrap();
            prop_assert!(share.low <= p + 1e-9 && p - 1e-9 <= share.high, "{share:?}");
        }
        prop_assert!(within(found.shape(0.99).unwrap(), found.fit.life.shape));
    }
}

//! Kaplan-Meier, Nelson-Aalen and mean cumulative counts against published data. Values from the
//! Python packages lifelines 0.30.3 and reliability 0.9.0.

// Ages are read, not computed.
#![allow(clippy::float_cmp, clippy::unwrap_used, clippy::panic)]

mod statistics_data;

use proptest::prelude::*;
use ringland_mechanics::statistics::Life;
use ringland_mechanics::statistics::counts::{
    Recurrences, SurvivalStep, mean_cumulative_function, power_law, survival_quantile,
    survival_steps,
};
use statistics_data::{assert_close, lives, recurrences, rows};

fn assert_survival(steps: &[SurvivalStep], expected: &[(f64, f64)], tolerance: f64) {
    for &(age, survival) in expected {
        let step = steps.iter().find(|step| step.age == age);
        let found = step.map(|step| step.survival).unwrap();
        assert!(
            (found - survival).abs() < tolerance,
            "at {age}: {found}, expected {survival}"
        );
    }
}

#[test]
fn generator_fans() {
    let steps = survival_steps(&lives(include_str!("data/generator_fans.csv"), 0, 1)).unwrap();
    let expected = [
        (450.0, 0.985_714),
        (1150.0, 0.956_723),
        (1600.0, 0.942_004),
        (2070.0, 0.907_749),
        (2080.0, 0.890_622),
        (3100.0, 0.871_672),
        (3450.0, 0.852_302),
        (4600.0, 0.827_234),
        (6100.0, 0.795_418),
        (8750.0, 0.707_038),
    ];
    assert_eq!(steps.len(), expected.len());
    assert_survival(&steps, &expected, 1e-6);
    let last = steps.last().unwrap();
    assert!((last.cumulative_hazard - 0.336_797).abs() < 1e-6);
}

#[test]
fn shock_absorbers() {
    let mut lives = lives(include_str!("data/shock_absorbers.csv"), 0, 1);
    // The copy that these values were made from prints 18 420; the steps are the same.
    lives.reverse();
    let steps = survival_steps(&lives).unwrap();
    let failed = [
        (6700.0, 0.02632),
        (9120.0, 0.05495),
        (12_200.0, 0.09130),
        (13_150.0, 0.12916),
        (14_300.0, 0.17271),
        (17_520.0, 0.21625),
        (20_100.0, 0.28156),
        (20_900.0, 0.37137),
        (22_700.0, 0.46117),
        (26_510.0, 0.56894),
        (27_490.0, 0.71262),
    ];
    assert_survival(&steps, &failed.map(|(age, share)| (age, 1.0 - share)), 1e-5);
}

#[test]
fn two_groups() {
    let text = include_str!("data/gehan.csv");
    let groups: Vec<&str> = rows(text).into_iter().map(|row| row[4]).collect();
    let steps = |name| {
        let both = lives(text, 2, 3).into_iter().zip(&groups);
        let chosen: Vec<Life> = both
            .filter(|(_, g)| **g == name)
            .map(|(life, _)| life)
            .collect();
        survival_steps(&chosen).unwrap()
    };
    let expected = [
        (6.0, 0.857_143),
        (7.0, 0.806_723),
        (10.0, 0.752_941),
        (13.0, 0.690_196),
        (16.0, 0.627_451),
        (22.0, 0.537_815),
        (23.0, 0.448_179),
    ];
    assert_survival(&steps("6-MP"), &expected, 1e-6);
    assert_eq!(survival_quantile(&steps("6-MP"), 0.5), Some(23.0));
    assert_eq!(survival_quantile(&steps("control"), 0.5), Some(8.0));
    assert_eq!(survival_quantile(&steps("6-MP"), 0.9), None);
}

/// Maintenance arm of the acute myelogenous leukaemia data of the R package survival (data from
/// memory), survival as printed by R 4.3.3, survival 3.5.8.
#[test]
fn maintained_leukaemia() {
    let ages = [
        9.0, 13.0, -13.0, 18.0, 23.0, -28.0, 31.0, 34.0, -45.0, 48.0, -161.0,
    ];
    let lives: Vec<Life> = ages
        .iter()
        .map(|age: &f64| Life {
            age: age.abs(),
            failed: *age > 0.0,
        })
        .collect();
    let expected = [
        (9.0, 0.90909),
        (13.0, 0.81818),
        (18.0, 0.71591),
        (23.0, 0.61364),
        (31.0, 0.49091),
        (34.0, 0.36818),
        (48.0, 0.18409),
    ];
    assert_survival(&survival_steps(&lives).unwrap(), &expected, 1e-5);
}

/// Every step of the mean cumulative function of diesel valve-seat replacements.
#[test]
fn valve_seat_replacements() {
    let units = recurrences(include_str!("data/valve_seats.csv"));
    assert_eq!(units.len(), 41);
    let steps = mean_cumulative_function(&units).unwrap();
    let expected = rows(include_str!("data/valve_seats_mcf.csv"));
    assert_eq!(steps.len(), expected.len());
    for (step, row) in steps.iter().zip(expected) {
        let number = |index: usize| row[index].parse::<f64>().unwrap();
        assert_eq!(
            (step.age, step.at_risk, step.failures),
            (number(0), number(1) as usize, number(2) as usize)
        );
        assert_close(step.mean_count, number(3), 1e-12);
    }
}

/// The robust standard error, which R calls infinitesimal jackknife: survival 3.5-8 under R 4.3.3.
#[test]
fn robust_error_of_repairable_units() {
    let units = recurrences(include_str!("data/repairable_units.csv"));
    let steps = mean_cumulative_function(&units).unwrap();
    let expected = rows(include_str!("data/repairable_units_mcf.csv"));
    assert_eq!((units.len(), steps.len()), (6, expected.len()));
    for (step, row) in steps.iter().zip(expected) {
        let number = |index: usize| row[index].parse::<f64>().unwrap();
        assert_eq!(step.age, number(0));
        assert_close(step.mean_count, number(1), 1e-12);
        assert_close(step.se, number(2), 1e-12);
        let half_width = 1.959_963_985 * step.se / step.mean_count;
        assert_close(step.low, step.mean_count * (-half_width).exp(), 1e-8);
        assert_close(step.high, step.mean_count * half_width.exp(), 1e-8);
    }
}

/// The power law of the same replacements, by a separate numerical maximisation.
#[test]
fn valve_seat_power_law() {
    let law = power_law(&recurrences(include_str!("data/valve_seats.csv"))).unwrap();
    assert_close(law.shape, 1.399_58, 5e-6);
    assert_close(law.scale, 553.643, 2e-6);
    assert_close(law.mean_count(600.0), 1.119_12, 5e-6);
}

#[test]
fn refusals_name_what_is_wrong() {
    let unit = Recurrences {
        ages: vec![3.0, 12.0],
        end: 10.0,
    };
    let error = mean_cumulative_function(&[unit]).unwrap_err().to_string();
    assert!(error.contains("ages is 12"), "{error}");
    let nan = Life {
        age: f64::NAN,
        failed: true,
    };
    assert!(survival_steps(&[nan]).is_err());
    assert!(power_law(&[]).is_err());
}

proptest! {
    /// Without censoring, Kaplan-Meier is the share still alive.
    #[test]
    fn without_censoring_it_is_the_empirical_survival(ages in prop::collection::vec(1_u32..50, 1..60)) {
        let lives: Vec<Life> =
            ages.iter().map(|&age| Life { age: f64::from(age), failed: true }).collect();
        for step in survival_steps(&lives).unwrap() {
            let alive = lives.iter().filter(|life| life.age > step.age).count();
            let share = alive as f64 / lives.len() as f64;
            prop_assert!((step.survival - share).abs() < 1e-12);
            // Each factor 1 - d/n is at most exp(-d/n).
            prop_assert!(step.survival <= (-step.cumulative_hazard).exp() + 1e-12);
        }
    }
}

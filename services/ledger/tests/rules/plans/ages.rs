//! Ages at which replacing costs least.

use crate::shop::Shop;
use ringland_ledger::{FindReplacementAge, LedgerError, ReplacementLives};

fn age(
    shape: f64,
    scale: f64,
    planned_cost: f64,
    failure_cost: f64,
) -> Result<ringland_ledger::ReplacementAge, LedgerError> {
    let Shop { ledger, .. } = Shop::open();
    ledger.find_replacement_age(&FindReplacementAge {
        lives: ReplacementLives::Weibull {
            shape,
            scale,
            age_unit: "h".into(),
        },
        planned_cost,
        failure_cost,
    })
}

/// Age, cost for each unit of age, the same when run to failure: roots of Barlow and Hunter's condition
/// `h(T) ∫R + R - 1 = c_p / (c_f - c_p)` found apart from this project by a general root finder (brentq), the costs and, to 1 in 2000,
/// the ages agreeing with a general reliability library. The last run-to-failure cost is c_f / mean.
#[test]
fn ages_of_replacement_are_the_published_ones() {
    let rows = [
        (
            2.5,
            1000.0,
            1.0,
            5.0,
            493.046_958,
            0.003_462_042_739,
            0.005_635_302_490,
        ),
        (
            2.0,
            1000.0,
            1.0,
            10.0,
            336.451_191,
            0.006_056_121_442,
            0.011_283_791_671,
        ),
        (
            3.0,
            1000.0,
            1.0,
            4.0,
            554.153_217,
            0.002_763_772_087,
            0.004_479_386_087,
        ),
        (
            1.5,
            1000.0,
            1.0,
            5.0,
            675.491_992,
            0.004_931_299_192,
            0.005_538_660_837,
        ),
        (
            2.102,
            81.88,
            1.0,
            10.0,
            27.702_171,
            0.069_988_329_767,
            0.137_892_728_1,
        ),
    ];
    for (shape, scale, planned, failure, best, cost, run_to_failure) in rows {
        let found = age(shape, scale, planned, failure).unwrap();
        let close = |value: f64, expected: f64| (value / expected - 1.0).abs() < 2e-9;
        // The table prints ages to six places.
        assert!((found.age.unwrap() - best).abs() < 1e-6, "{found:?}");
        assert!(close(found.cost_rate, cost), "{found:?}");
        assert!(
            close(found.run_to_failure_cost_rate, run_to_failure),
            "{found:?}"
        );
    }
}

#[test]
fn parts_that_do_not_age_have_no_age_of_replacement() {
    for shape in [0.7, 1.0] {
        let found = age(shape, 1000.0, 1.0, 5.0).unwrap();
        assert_eq!(found.age, None);
        assert!(
            found.verdict.contains("No age is better"),
            "{}",
            found.verdict
        );
        assert!((found.cost_rate - found.run_to_failure_cost_rate).abs() < 1e-15);
    }
    assert_eq!(age(2.0, 1000.0, 5.0, 5.0).unwrap().age, None);
    let error = age(0.0, f64::NAN, 0.0, 1.0).unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["planned_cost", "weibull.shape", "weibull.scale"]);
}

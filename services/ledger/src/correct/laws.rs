//! Laws that hold whatever was observed.

use super::tests::{PRIOR, part, seen};
use super::{Observation, Subject, posterior, surprise};
use proptest::prelude::*;

fn observation() -> impl Strategy<Value = Observation> {
    let names = (0..12_u8, 0..4_u8, 0..4_u8, 0..3_u8, 0..3_u8);
    let numbers = (-2.0..2.0_f64, 0.01..1.0_f64, -20.0..20.0_f64);
    (names, numbers).prop_map(
        |((component, unit, position, treatments, tester), numbers)| {
            // A zero stands for what is not known, or not there.
            let id = |prefix: &str, n: u8| {
                if n == 0 {
                    String::new()
                } else {
                    format!("{prefix}-{n}")
                }
            };
            Observation {
                component: format!("ring-{component}"),
                unit: id("engine", unit),
                position: id("cylinder", position),
                treatments: id("coat", treatments),
                instrument: id("tester", tester),
                ln_rate: numbers.0,
                ln_sd: numbers.1,
                bias_slope: numbers.2,
            }
        },
    )
}

fn subject() -> impl Strategy<Value = Subject> {
    observation().prop_map(|seen| Subject {
        component: seen.component,
        unit: seen.unit,
        position: seen.position,
        treatments: seen.treatments,
    })
}

proptest! {
    #[test]
    fn readings_only_narrow(
        readings in prop::collection::vec(observation(), 0..30),
        one_more in observation(),
        subject in subject(),
    ) {
        let before = posterior(PRIOR, &readings, &subject).unwrap();
        let mut more = readings.clone();
        more.push(one_more);
        let after = posterior(PRIOR, &more, &subject).unwrap();
        prop_assert!(before.total.sd <= PRIOR * (1.0 + 1e-12));
        prop_assert!(after.total.sd <= before.total.sd * (1.0 + 1e-9));
        for (then, now) in before.layers.iter().zip(&after.layers) {
            prop_assert!(then.sd <= then.prior_sd && now.sd <= then.sd * (1.0 + 1e-9));
            prop_assert!(now.sd > 0.0);
        }
        let means: f64 = after.layers.iter().map(|layer| layer.mean).sum();
        prop_assert!((means - after.total.mean).abs() < 1e-9);
    }

    #[test]
    fn order_is_immaterial_to_the_bit(
        (readings, shuffled) in prop::collection::vec(observation(), 0..30)
            .prop_flat_map(|readings| (Just(readings.clone()), Just(readings).prop_shuffle())),
        subject in subject(),
    ) {
        let (a, b) = (posterior(PRIOR, &readings, &subject), posterior(PRIOR, &shuffled, &subject));
        prop_assert_eq!(a.unwrap(), b.unwrap());
    }

    #[test]
    fn a_reading_without_weight_changes_nothing(
        readings in prop::collection::vec(observation(), 0..20),
        mut empty in observation(),
        subject in subject(),
    ) {
        empty.ln_sd = 1e12;
        let before = posterior(PRIOR, &readings, &subject).unwrap().total;
        let mut more = readings.clone();
        more.push(empty);
        let after = posterior(PRIOR, &more, &subject).unwrap().total;
        prop_assert!((before.mean - after.mean).abs() < 1e-9);
        prop_assert!((before.sd - after.sd).abs() < 1e-9);
    }

    /// Two readings of the part itself move it more than one of it and one of a part of another unit.
    #[test]
    fn a_part_learns_most_from_itself(ln_rate in 0.05..2.0_f64, ln_sd in 0.05..1.0_f64) {
        let reading = |component: &str, unit: &str| Observation { ln_sd, ..seen(component, unit, ln_rate) };
        let same = [reading("ring-1", "engine-a"), reading("ring-1", "engine-a")];
        let others = [reading("ring-2", "engine-b"), reading("ring-3", "engine-c")];
        let subject = part("ring-1", "engine-a");
        let (same, others) = (posterior(PRIOR, &same, &subject), posterior(PRIOR, &others, &subject));
        let (same, others) = (same.unwrap().total, others.unwrap().total);
        prop_assert!(same.mean > others.mean && others.mean > 0.0);
        prop_assert!(same.sd < others.sd);
    }

    /// An observation shifted by its surprise times its spread is no surprise.
    #[test]
    fn surprise_is_linear_in_what_was_seen(
        readings in prop::collection::vec(observation(), 1..20),
        by in 0.1..3.0_f64,
    ) {
        let z = |readings: &[Observation]| surprise(PRIOR, readings, 0).unwrap();
        let shifted = |by: f64| {
            let mut moved = readings.clone();
            moved[0].ln_rate += by;
            z(&moved)
        };
        let (here, there, further) = (z(&readings), shifted(by), shifted(2.0 * by));
        prop_assert!(there > here);
        prop_assert!((further - 2.0 * there + here).abs() < 1e-9 * (1.0 + further.abs()));
    }
}

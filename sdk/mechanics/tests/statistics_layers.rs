//! Conditioning of effects on observations of their sums, against a published example, a closed form and a
//! second method.

#![allow(clippy::unwrap_used, missing_docs)]

mod statistics_data;

use proptest::prelude::*;
use ringland_mechanics::statistics::StatisticsError;
use ringland_mechanics::statistics::layers::{LinearObservation, MIN_NOISE_SHARE, condition};
use statistics_data::assert_close;

/// The coaching experiment in eight schools (Rubin 1981), as in Gelman and others, Bayesian Data Analysis, section 5.5:
/// complete pooling gives 7.7 with standard error 4.1 (from memory).
#[test]
fn eight_schools_pooled() {
    let effects = [28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0];
    let errors = [15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0];
    let seen = |(school, (value, sd)): (usize, (f64, f64))| LinearObservation {
        value,
        sd,
        loads: vec![(0, 1.0), (school + 1, 1.0)],
    };
    let observations: Vec<_> = effects
        .into_iter()
        .zip(errors)
        .enumerate()
        .map(seen)
        .collect();
    // As good as no prior for the common effect, no difference between schools.
    let mut priors = vec![1e4];
    priors.extend([0.0; 8]);
    let posterior = condition(&priors, &observations).unwrap();
    let common = posterior.belief(&[(0, 1.0)]).unwrap();
    assert!(
        (common.mean - 7.7).abs() < 0.05 && (common.sd - 4.1).abs() < 0.05,
        "{common:?}"
    );
    let school = posterior.belief(&[(3, 1.0)]).unwrap();
    assert!(school.mean.abs() + school.sd < 1e-12);
}

/// Units of n like readings each: the precision of what they share is that of its prior and k / (unit variance + error
/// variance / n) (closed form of the balanced random-effects model). Many enough that both ways of elimination are used.
#[test]
fn balanced_groups() {
    let (units, parts, shop_sd, unit_sd, part_sd, error) =
        (120_usize, 12_usize, 0.3, 0.2, 0.15, 0.2);
    let mut priors = vec![shop_sd];
    priors.extend(vec![unit_sd; units]);
    priors.extend(vec![part_sd; units * parts]);
    let mut observations = Vec::new();
    for unit in 0..units {
        for part in 0..parts {
            observations.push(LinearObservation {
                value: 0.1 + 0.001 * unit as f64,
                sd: error,
                loads: vec![
                    (0, 1.0),
                    (1 + unit, 1.0),
                    (1 + units + unit * parts + part, 1.0),
                ],
            });
        }
    }
    let shop = condition(&priors, &observations)
        .unwrap()
        .belief(&[(0, 1.0)])
        .unwrap();
    let (s2, u2) = (shop_sd * shop_sd, unit_sd * unit_sd);
    let per_unit = u2 + (part_sd * part_sd + error * error) / parts as f64;
    let precision = 1.0 / s2 + units as f64 / per_unit;
    assert_close(shop.sd, precision.recip().sqrt(), 1e-12);
    let mean_seen = 0.1 + 0.001 * (units - 1) as f64 / 2.0;
    assert_close(
        shop.mean,
        mean_seen * units as f64 / per_unit / precision,
        1e-12,
    );
}

#[test]
fn refusals() {
    let seen = |sd: f64, effect: usize| LinearObservation {
        value: 1.0,
        sd,
        loads: vec![(effect, 1.0)],
    };
    // Certain twice: refused for what it is, not smoothed over.
    let twice = condition(&[0.5], &[seen(0.0, 0), seen(0.0, 0)]).unwrap_err();
    assert!(
        twice.to_string().contains("observation sd is 0, expected"),
        "{twice}"
    );
    let wrong = [
        condition(&[0.5], &[seen(0.4 * MIN_NOISE_SHARE, 0)]),
        condition(&[0.5], &[seen(f64::NAN, 0)]),
        condition(&[0.5], &[seen(0.1, 1)]),
        condition(&[-0.5], &[]),
        condition(&[f64::INFINITY], &[]),
    ];
    for answer in wrong {
        assert!(matches!(answer, Err(StatisticsError::OutOfRange { .. })));
    }
    assert!(condition(&[0.5], &[]).unwrap().belief(&[(1, 1.0)]).is_err());
}

const EFFECTS: usize = 9;

fn observation() -> impl Strategy<Value = LinearObservation> {
    let loads = prop::collection::vec((0..EFFECTS, -3.0..3.0_f64), 1..5);
    // From a millionth of a prior's variance to far beyond it.
    (-2.0..2.0_f64, -3.0..6.0_f64, loads).prop_map(|(value, lg_sd, loads)| LinearObservation {
        value,
        sd: 10.0_f64.powf(lg_sd),
        loads,
    })
}

fn priors() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(prop_oneof![1 => Just(0.0), 9 => 0.05..2.0_f64], EFFECTS)
}

/// Mean and covariance of all effects, moved by one observation after another in covariance form.
fn one_after_another(
    priors: &[f64],
    observations: &[LinearObservation],
) -> (Vec<f64>, Vec<Vec<f64>>) {
    let n = priors.len();
    let mut mean = vec![0.0; n];
    let mut covariance = vec![vec![0.0; n]; n];
    for (i, sd) in priors.iter().enumerate() {
        covariance[i][i] = sd * sd;
    }
    for seen in observations {
        let mut loads = vec![0.0; n];
        for (effect, load) in &seen.loads {
            loads[*effect] += load;
        }
        let with: Vec<f64> = covariance.iter().map(|row| dot(row, &loads)).collect();
        let variance = dot(&with, &loads) + seen.sd * seen.sd;
        let surprise = (seen.value - dot(&mean, &loads)) / variance;
        for i in 0..n {
            mean[i] += with[i] * surprise;
            for j in 0..n {
                covariance[i][j] -= with[i] * with[j] / variance;
            }
        }
    }
    (mean, covariance)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

proptest! {
    /// All at once, in any order, is one after another.
    #[test]
    fn at_once_is_one_after_another(
        priors in priors(),
        (observations, shuffled) in prop::collection::vec(observation(), 0..25)
            .prop_flat_map(|seen| (Just(seen.clone()), Just(seen).prop_shuffle())),
    ) {
        let posterior = condition(&priors, &observations).unwrap();
        let again = condition(&priors, &shuffled).unwrap();
        let (mean, covariance) = one_after_another(&priors, &observations);
        for i in 0..EFFECTS {
            for j in 0..EFFECTS {
                let sum = [(i, 1.0), (j, -0.5)];
                let belief = posterior.belief(&sum).unwrap();
                prop_assert_eq!(belief, again.belief(&sum).unwrap());
                let c = &covariance;
                let variance = c[i][i] - c[i][j] + 0.25 * c[j][j];
                let expected = mean[i] - 0.5 * mean[j];
                prop_assert!((belief.mean - expected).abs() < 1e-5, "{} {expected}", belief.mean);
                prop_assert!((belief.sd.powi(2) - variance).abs() < 1e-6);
            }
        }
    }

    /// Positive definite whatever was seen with an error above 0; never wider than the prior; never wider
    /// with more.
    #[test]
    fn observations_only_narrow(
        priors in priors(),
        observations in prop::collection::vec(observation(), 1..25),
    ) {
        let all = condition(&priors, &observations).unwrap();
        let fewer = condition(&priors, &observations[1..]).unwrap();
        for (effect, &prior) in priors.iter().enumerate() {
            let sum = [(effect, 1.0)];
            let (all, fewer) = (all.belief(&sum).unwrap().sd, fewer.belief(&sum).unwrap().sd);
            prop_assert!(fewer <= prior && all <= fewer * (1.0 + 1e-7));
            prop_assert!(all > 0.0 || prior == 0.0);
        }
    }
}

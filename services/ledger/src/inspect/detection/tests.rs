use super::*;
use proptest::prelude::*;

fn lives(lives: &[f64], risk: f64) -> MechanismLife {
    MechanismLife {
        lives_events: lives.to_vec(),
        risk_next_event: risk,
        point_shares: Vec::new(),
        shock_shares: Vec::new(),
    }
}

fn check(a90_m: f64, hours: f64) -> CleanCheck {
    CleanCheck {
        mechanism: 0,
        a90_m,
        hours,
    }
}

/// By the definition of a90; and half of a90 is found one time of two here (assumed).
#[test]
fn the_curve_passes_through_its_points() {
    assert!((probability_of_detection(2e-3, 2e-3) - 0.9).abs() < 1e-12);
    assert!((probability_of_detection(1e-3, 2e-3) - 0.5).abs() < 1e-12);
    assert!(probability_of_detection(0.1e-3, 2e-3) < 1e-3);
    assert!((crack_length_m(0.3) - INITIAL_M).abs() < 1e-18);
    assert!((crack_length_m(1.0) - CRITICAL_M).abs() < 1e-15);
}

/// Bayes by hand for two draws alike before: one ends in the next event with a crack of 5.4 mm at the check, the
/// other is far from its end.
#[test]
fn a_clean_check_weighs_as_bayes_says() {
    let mut mechanisms = [lives(&[1.0, 99.0], 0.5)];
    reweigh(&mut mechanisms, &[check(2e-3, 10.0)], 10.0, 1.0);
    let share: f64 = 10.0 / 11.0;
    let length = INITIAL_M * 100f64.powf((share - 0.7) / 0.3);
    let odds = 9.0 * (length / 2e-3).powf(9f64.ln() / 2f64.ln());
    let silent = 1.0 / (1.0 + odds);
    let far = 1.0 / (1.0 + 9.0 * 0.05f64.powf(9f64.ln() / 2f64.ln()));
    let expected = 0.5 * silent / (0.5 * (silent + far));
    let risk = mechanisms[0].risk_next_event;
    assert!((risk - expected).abs() < 1e-12, "{risk} {expected}");
    assert_eq!(mechanisms[0].lives_events, [99.0, 99.0]);
}

/// The check was made when the part was young: it says little of a crack that has begun since.
#[test]
fn duty_after_the_check_makes_it_fade() {
    let risk_after = |since: f64| {
        let mut mechanisms = [lives(&[0.5, 2.0, 30.0, 60.0], 0.25)];
        reweigh(&mut mechanisms, &[check(2e-3, 20.0)], 20.0 + since, 1.0);
        mechanisms[0].risk_next_event
    };
    let risks: Vec<f64> = [0.0, 2.0, 5.0, 20.0].map(risk_after).into();
    assert!(risks.windows(2).all(|pair| pair[0] < pair[1]), "{risks:?}");
    assert!(risks[0] < 0.05 && risks[3] > 0.245, "{risks:?}");
}

proptest! {
    #[test]
    fn a_clean_check_never_raises_the_risk_and_never_takes_more_than_it_can_find(
        drawn in proptest::collection::vec(0.0..200.0f64, 1..200),
        risk in 0.0..=1.0f64, a90_m in 0.2e-3..20e-3f64, now in 0.0..300.0f64, at in 0.0..=1.0f64,
    ) {
        let mut mechanisms = [lives(&drawn, risk)];
        reweigh(&mut mechanisms, &[check(a90_m, at * now)], now, 2.8);
        let after = mechanisms[0].risk_next_event;
        prop_assert!(after <= risk * (1.0 + 1e-12), "{after} over {risk}");
        let found = probability_of_detection(CRITICAL_M, a90_m);
        prop_assert!(after >= risk * (1.0 - found) - 1e-12, "{after} of {risk}, found {found}");
        prop_assert_eq!(mechanisms[0].lives_events.len(), drawn.len());
        let is_drawn = |life: &f64| drawn.contains(life);
        prop_assert!(mechanisms[0].lives_events.iter().all(is_drawn));
    }

    /// A method that finds nothing leaves everything as it was, to the bit.
    #[test]
    fn without_detection_nothing_changes(
        drawn in proptest::collection::vec(0.0..200.0f64, 1..600), risk in 0.0..=1.0f64, now in 0.0..300.0f64,
    ) {
        let before = [lives(&drawn, risk)];
        let mut after = before.clone();
        reweigh(&mut after, &[check(f64::INFINITY, now)], now, 2.8);
        prop_assert_eq!(after, before);
    }
}

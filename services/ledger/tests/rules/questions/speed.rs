//! More speed.

use super::{event, worn};
use crate::{
    fake::wear_part,
    shop::{Shop, profile, unit},
};
use ringland_ledger::{AskSpeedChange, AskedEvent, Basis, SpeedChange};
use std::collections::BTreeMap;

fn ask_speed(shop: &Shop, changes: &[f64], basis: Basis) -> SpeedChange {
    let ask = AskSpeedChange {
        unit: unit("engine-a"),
        event: AskedEvent {
            profile: Some(profile("race")),
            severity: None,
        },
        changes_rad_s: changes.to_vec(),
        basis,
        replace_costs: BTreeMap::from([("wear_part".into(), 100.0)]),
    };
    shop.ledger.ask_speed_change(&ask).unwrap()
}

/// The wear part wears with speed, so that by hand its new life goes with the inverse of the mean speed.
#[test]
fn no_change_of_speed_changes_no_bit_and_more_speed_is_less_life() {
    let shop = worn(wear_part());
    for basis in [Basis::New, Basis::Present] {
        let answer = ask_speed(&shop, &[0.0, 20.0, -20.0], basis);
        let [same, faster, slower] = answer.alternatives.as_slice() else {
            panic!("three alternatives");
        };
        let figures = |of: &ringland_ledger::SpeedAlternative| of.parts[0].figures.clone().unwrap();
        assert_eq!(same.earliest, answer.earliest);
        let ratio = figures(same).life_ratio;
        assert_eq!(
            ratio.p05.at_least.map(f64::to_bits),
            Some(1.0_f64.to_bits())
        );
        assert_eq!(ratio.p95.at_most.map(f64::to_bits), Some(1.0_f64.to_bits()));
        assert_eq!(
            figures(same).risk.to_bits(),
            figures(same).risk_before.to_bits()
        );
        assert!((figures(same).longer.equal - 1.0).abs() < 1e-12);
        let mean = |change: f64| 0.25 * (800.0 + change) + 0.75 * (640.0 + change);
        for (alternative, change) in [(faster, 20.0), (slower, -20.0)] {
            let ratio = figures(alternative).life_ratio.p50.at_least.unwrap();
            let by_hand = mean(0.0) / mean(change);
            assert!((ratio - by_hand).abs() < 1e-9, "{ratio} {by_hand}");
        }
        assert!(faster.cost_change.unwrap().at_least.unwrap() > 0.0);
        assert!(faster.later_events.p50.at_most.unwrap() < 0.0);
        assert!(faster.verdict.contains("+191 rpm"), "{}", faster.verdict);
    }
    let ask = AskSpeedChange {
        unit: unit("engine-a"),
        event: event(0.0),
        changes_rad_s: vec![f64::NAN, 1.0],
        basis: Basis::New,
        replace_costs: BTreeMap::from([("x".into(), -1.0)]),
    };
    let refused = shop.ledger.ask_speed_change(&ask).unwrap_err().to_string();
    for field in ["severity", "changes_rad_s[0]", "replace_costs[x]"] {
        assert!(refused.contains(field), "{field}: {refused}");
    }
}

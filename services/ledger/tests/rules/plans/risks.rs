//! The risk at every event, and what is worth a look before it.

use super::{plan, put, season, shop, wanted};
use crate::shop::part;
use ringland_ledger::{ComponentName, MakePlan, Plan, Substitution};
use std::collections::BTreeMap;

/// The first event has the risk that the prediction of the part tells; later ones rise; the sums are those of the parts.
#[test]
fn risks_follow_the_predictions_and_rise() {
    let shop = shop(&["spring_set", "bearing_set"]);
    shop.run("engine-a", 1.0, 800.0);
    put(&shop, season(6, &[]));
    let plan = shop.ledger.make_plan(&wanted()).unwrap();
    assert!(plan.teardowns.is_empty(), "nothing has a price");
    let told = |id: &str| shop.predict(&part(id)).unwrap().risk_next_event;
    for planned in &plan.events[0].parts {
        let told = told(planned.component.component());
        assert!(
            planned.any_end_risk >= told - 1e-12 && planned.any_end_risk < told + 0.01,
            "{planned:?} {told}"
        );
    }
    for event in &plan.events {
        let alive: f64 = event.parts.iter().map(|part| 1.0 - part.risk).product();
        assert!((event.risk - (1.0 - alive)).abs() < 1e-9, "{event:?}");
        assert!(
            event
                .parts
                .iter()
                .all(|part| part.used[0] <= part.used[1] && part.used[1] <= part.used[2])
        );
    }
    assert!(
        plan.events
            .windows(2)
            .all(|pair| pair[0].risk < pair[1].risk)
    );
    let failures: f64 = plan.events.iter().map(|event| event.failure_cost).sum();
    assert!(
        (failures - plan.cost.total).abs() < 1e-6
            && (failures - plan.cost_of_nothing.total).abs() < 1e-6
    );
    assert!(
        plan.notes
            .iter()
            .any(|note| note.field == "calendar.parts.spring_set")
    );
    assert!(
        plan.cautions
            .iter()
            .any(|caution| caution.contains("a low risk is not none"))
    );
    assert_eq!(
        plan,
        shop.ledger.make_plan(&wanted()).unwrap(),
        "the same ledger, the same plan"
    );
}

/// Of an event that is worth two, a part uses twice as much: the season of three such ends as a season of six.
#[test]
fn severity_counts_events() {
    let shop = shop(&["spring_set"]);
    let once = plan(&shop, season(6, &[]));
    let mut double = season(3, &[]);
    double
        .events
        .iter_mut()
        .for_each(|event| event.severity = 2.0);
    let double = plan(&shop, double);
    let used = |plan: &Plan| plan.events.last().unwrap().parts[0].used[1];
    assert!((used(&once) - used(&double)).abs() < 1e-9);
    let mut by_type = season(6, &[]);
    by_type.events.iter_mut().for_each(|event| {
        event.severity_by_type = BTreeMap::from([("spring_set".into(), 2.0)]);
    });
    assert!((used(&plan(&shop, by_type)) - 2.0 * used(&once)).abs() < 1e-9);
}

#[test]
fn a_spare_goes_in_with_its_own_history() {
    let shop = shop(&["spring_set"]);
    let spare = shop.installed("spare", "spring_set", "engine-b");
    for race in 0..5 {
        shop.run("engine-b", 1.0 + 2.0 * f64::from(race), 800.0);
    }
    put(&shop, season(3, &[]));
    let swap = |component: ComponentName| MakePlan {
        substitutions: vec![Substitution {
            replaces: part("spring-set"),
            component,
        }],
        ..wanted()
    };
    let without = shop.ledger.make_plan(&wanted()).unwrap();
    let with = shop.ledger.make_plan(&swap(spare)).unwrap();
    assert_eq!(with.events[0].parts[0].component, part("spare"));
    assert!(with.events[2].risk > without.events[2].risk);
    let wrong = shop
        .ledger
        .make_plan(&swap(shop.part("other", "wear_part")))
        .unwrap_err();
    assert_eq!(wrong.violations()[0].field, "substitutions[0].component");
    assert_eq!(
        without,
        shop.ledger.make_plan(&wanted()).unwrap(),
        "nothing was stored"
    );
}

#[test]
fn what_is_worth_a_look_comes_first_and_saves_something() {
    let types = ["spring_set", "bearing_set"];
    let shop = shop(&types);
    for race in 0..3 {
        shop.run("engine-a", 1.0 + 2.0 * f64::from(race), 800.0);
    }
    let mut content = season(6, &types);
    // One teardown halfway: what to do at it is the open question.
    content.opportunities.drain(..3);
    content.opportunities.truncate(1);
    let plan = plan(&shop, content);
    assert!(plan.checks.len() >= 2, "{:?}", plan.checks);
    assert!(
        plan.checks
            .windows(2)
            .all(|pair| pair[0].value_per_min >= pair[1].value_per_min)
    );
    for check in &plan.checks {
        assert!(check.value > 0.0 && check.changes_action > 0.0 && check.changes_action < 1.0);
        assert!(check.value < plan.cost_of_nothing.total);
        assert!(
            check.text.contains("common practice, no source"),
            "{}",
            check.text
        );
    }
}

//! What is replaced when: shared teardowns, caps, what must be ordered.

use super::{limit, plan, put, replaced, season, shop, wanted};
use crate::shop::at;
use ringland_ledger::{MakePlan, Plan};

/// Replacing both in one teardown pays its labour once: the plan never opens the engine twice where once serves.
#[test]
fn parts_of_one_level_share_a_teardown_and_pay_for_it_once() {
    let types = ["spring_set", "bearing_set"];
    let shop = shop(&types);
    let plan = plan(&shop, season(8, &types));
    let both = |parts: &Vec<&str>| parts.len() == 2;
    let changes = replaced(&plan);
    assert!(
        !changes.is_empty() && changes.iter().all(|(_, parts)| both(parts)),
        "{changes:?}"
    );
    let first = &plan.teardowns[0];
    assert!((first.labour_min - (240.0 + 2.0 * 60.0)).abs() < 1e-9);
    assert!((first.labour_cost - (60.0 + 360.0 * 75.0 / 60.0)).abs() < 1e-9);
    assert!((first.parts_cost - 1400.0).abs() < 1e-9);
    assert!(plan.cost.total < plan.cost_of_nothing.total);
    let sum = plan.cost.parts + plan.cost.labour + plan.cost.failures;
    assert!(
        (plan.cost.total - sum).abs() < 1e-9 && plan.cost.gap <= 1e-3,
        "{:?}",
        plan.cost
    );
    let labour: f64 = plan.teardowns.iter().map(|t| t.labour_cost).sum();
    assert!((plan.cost.labour - labour).abs() < 1e-6);
    assert!(
        first.replacements[0]
            .reason
            .contains("would end before the next change")
    );
    // After the change the risk is that of a new part.
    let after = plan
        .events
        .iter()
        .find(|event| event.parts.iter().all(|part| part.renewed))
        .unwrap();
    assert!(after.risk < after.risk_of_nothing);
}

#[test]
fn a_cap_makes_the_plan_replace_sooner_and_what_cannot_be_met_is_said() {
    let types = ["spring_set"];
    let shop = shop(&types);
    let loose = plan(&shop, season(8, &types));
    let mut tight = season(8, &types);
    tight.risk_caps.unit_loss = Some(0.01);
    let tight = plan(&shop, tight);
    let most = |plan: &Plan| {
        plan.events
            .iter()
            .map(|event| event.risk)
            .fold(0.0, f64::max)
    };
    assert!(
        tight.caps_met && most(&tight) <= 0.01 * (1.0 + 1e-6),
        "{}",
        most(&tight)
    );
    assert!(most(&loose) > 0.01 && tight.cost.total > loose.cost.total);
    let mut impossible = season(8, &types);
    impossible.risk_caps.unit_loss = Some(0.01);
    impossible.opportunities.truncate(2);
    let impossible = plan(&shop, impossible);
    assert!(!impossible.caps_met && most(&impossible) > 0.01);
    assert!(
        impossible.verdict.contains("Over the cap"),
        "{}",
        impossible.verdict
    );
    assert!(
        impossible
            .remedies
            .iter()
            .any(|remedy| remedy.starts_with("R8 is over its cap")),
        "{:?}",
        impossible.remedies
    );
}

#[test]
fn what_cannot_be_ordered_in_time_comes_from_the_shelf() {
    let types = ["spring_set"];
    let shop = shop(&types);
    let mut content = season(6, &types);
    content.limits.push(limit("spring_set", 2.0));
    content.parts[0].lead_days = 24.0;
    content.parts[0].stock = 1;
    put(&shop, content.clone());
    let from_start = MakePlan {
        as_of_time: Some(at(0.0)),
        ..wanted()
    };
    let plan = shop.ledger.make_plan(&from_start).unwrap();
    // Before day 24 there is one; the teardown after R4 (day 28) can be served by an order on day 4.
    assert_eq!(
        replaced(&plan),
        [("R2", vec!["spring-set"]), ("R4", vec!["spring-set"])]
    );
    let order_by: Vec<_> = plan
        .teardowns
        .iter()
        .map(|t| t.replacements[0].order_by_time)
        .collect();
    assert_eq!(order_by, [None, Some(at(4.0 * 24.0))]);
    content.parts[0].stock = 0;
    put(&shop, content);
    let without = shop.ledger.make_plan(&from_start).unwrap();
    assert_eq!(without.events.len(), 2);
    assert!(
        without.remedies[0].contains("add stock"),
        "{:?}",
        without.remedies
    );
}

//! What to replace when, the risk at every event, what to look at.

use super::{open, put, season};
use ringland_proto::v1::{GetCalendarRequest, LimitOwner, MakePlanRequest, PartLimit, Plan};
use ringland_tests::{Clients, Shop};

pub(super) async fn make(clients: &mut Clients, shop: &Shop, replace_nothing: bool) -> Plan {
    let request = MakePlanRequest {
        unit: shop.unit.clone(),
        calendar: "calendars/season".into(),
        replace_nothing,
        ..Default::default()
    };
    let plan = clients.plans.make_plan(request).await;
    plan.expect("a plan").into_inner()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_season_is_planned_from_the_predictions_of_its_parts() {
    let (_server, mut clients, shop) = open().await;
    let kept = put(&mut clients, season(8, &shop)).await;
    let request = GetCalendarRequest {
        name: kept.name.clone(),
        revision: 1,
    };
    let read = clients.plans.get_calendar(request).await;
    assert_eq!(read.expect("the calendar").into_inner(), kept);

    let nothing = make(&mut clients, &shop, true).await;
    assert!(nothing.teardowns.is_empty());
    assert_eq!(nothing.events.len(), 8);
    assert_eq!(nothing.events[0].parts.len(), 3);
    // What each part has by prediction in one event, it has at least in an event that is worth two.
    for part in &nothing.events[0].parts {
        let told = shop.predict_part(&mut clients, &part.component).await;
        let told = told.expect("a prediction").risk_next_event;
        assert!(part.any_end_risk >= told - 1e-8, "{part:?} {told}");
    }
    let used = |index: usize, component: &str| {
        let mut parts = nothing.events[index].parts.iter();
        let part = parts.find(|part| part.component == component);
        part.expect(component).used_p50
    };
    // Shares of one profile add up: after eight events eight times as much as after one.
    for part in &nothing.events[0].parts {
        let (one, eight) = (used(0, &part.component), used(7, &part.component));
        assert!((eight / one - 8.0).abs() < 1e-6, "{one} {eight}");
    }

    let plan = make(&mut clients, &shop, false).await;
    let cost = plan.cost.expect("a cost");
    let of_nothing = plan.cost_of_nothing.expect("a cost");
    assert_eq!(Some(of_nothing), nothing.cost_of_nothing);
    assert!(
        cost.total <= of_nothing.total || !nothing.caps_met,
        "{cost:?} {of_nothing:?}"
    );
    assert!((cost.parts + cost.labour + cost.failures - cost.total).abs() < 1e-6);
    assert!(cost.at_least <= cost.total && cost.gap < 1e-3, "{cost:?}");
    let parts: f64 = plan.teardowns.iter().map(|t| t.parts_cost).sum();
    assert!((cost.parts - parts).abs() < 1e-6);
    if plan.caps_met {
        assert!(
            plan.events
                .iter()
                .all(|e| e.risk <= e.risk_cap * (1.0 + 1e-6))
        );
    }
    assert!(!plan.cautions.is_empty() && plan.notes.iter().any(|n| n.field == "components"));
    assert_eq!(
        make(&mut clients, &shop, false).await,
        plan,
        "the same answer again"
    );

    // Each event counts two: rings that may run five are replaced after every other one, whatever that costs.
    let mut limited = season(8, &shop);
    limited.limits.push(PartLimit {
        component_type: "ring_pack".into(),
        most_events: Some(5.0),
        owner: LimitOwner::Maker.into(),
        source: "sheet of the rings".into(),
        ..Default::default()
    });
    put(&mut clients, limited).await;
    let plan = make(&mut clients, &shop, false).await;
    assert_eq!(plan.events.len(), 8, "{}", plan.verdict);
    let rings = plan
        .teardowns
        .iter()
        .flat_map(|teardown| &teardown.replacements);
    let rings = rings
        .filter(|part| part.component_type == "ring_pack")
        .count();
    assert!(rings >= 3, "{}", plan.verdict);
    let labour: f64 = plan.teardowns.iter().map(|t| t.labour_cost).sum();
    assert!((plan.cost.expect("a cost").labour - labour).abs() < 1e-6);
}

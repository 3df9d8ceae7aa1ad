//! Whether to buy the spare, and whether a part can move.

use super::{engine, never_safe};
use ringland_proto::v1::{AskPartMoveRequest, AskSpareRequest, AskedEvent};
use ringland_tests::Shop;

#[tokio::test(flavor = "multi_thread")]
async fn a_spare_and_a_move_are_answered() {
    let mut engine = engine().await;
    let other = Shop::open(&mut engine.clients, "b").await.expect("a shop");
    let ask = AskPartMoveRequest {
        component: engine.shop.component.clone(),
        unit: other.unit.clone(),
        event: Some(AskedEvent {
            profile: engine.profile.clone(),
            ..Default::default()
        }),
        ..Default::default()
    };
    let answer = engine.clients.questions.ask_part_move(ask.clone()).await;
    let answer = answer.expect("an answer").into_inner();
    assert_eq!(answer.replaces, other.component);
    assert!(!answer.refused, "{}", answer.verdict);
    assert!(answer.from.is_some() && answer.to.is_some());
    never_safe(&[&answer.verdict]);
    // A rod has no place in an engine that the ledger knows without one.
    let rod = AskPartMoveRequest {
        component: "components/rod".into(),
        ..ask
    };
    let answer = engine.clients.questions.ask_part_move(rod).await;
    let answer = answer.expect("an answer").into_inner();
    assert!(
        answer.refused && answer.verdict.starts_with("No: "),
        "{}",
        answer.verdict
    );

    let mut ask = AskSpareRequest {
        units: vec![engine.shop.unit.clone()],
        component_type: "ring_pack".into(),
        event: Some(AskedEvent {
            profile: engine.profile.clone(),
            ..Default::default()
        }),
        events: 10,
        spare_price: 1_200.0,
        lead_time_days: 14.0,
        days_between_events: 14.0,
        missed_event_cost: 4_500.0,
        ..Default::default()
    };
    let one = engine.clients.questions.ask_spare(ask.clone()).await;
    let one = one.expect("an answer").into_inner();
    ask.units.push(other.unit.clone());
    let two = engine.clients.questions.ask_spare(ask).await;
    let two = two.expect("an answer").into_inner();
    for (one, two) in one.events.iter().zip(&two.events) {
        assert!(two.down_probability >= one.down_probability);
    }
    assert_eq!(two.events.len(), 10);
    println!("{}\n{}", one.verdict, two.verdict);
}

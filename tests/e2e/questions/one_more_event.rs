//! One more event, or pull it.

use super::{engine, never_safe};
use ringland_proto::v1::{AskOneMoreEventRequest, AskedEvent, Decision, Stakes};
use std::collections::HashMap;
use tonic::Code;

#[tokio::test(flavor = "multi_thread")]
async fn one_more_event_is_weighed_against_pulling() {
    let mut engine = engine().await;
    let mut ask = AskOneMoreEventRequest {
        target: engine.shop.unit.clone(),
        event: Some(AskedEvent::default()),
        stakes: Some(Stakes {
            failure_cost: 22_000.0,
            unfinished_event_cost: 4_500.0,
            missed_event_cost: 0.0,
            replace_costs: HashMap::from([("valve_spring".into(), 970.0)]),
        }),
    };
    let mut risks = Vec::new();
    for severity in [0.5, 1.0, 2.0] {
        ask.event = Some(AskedEvent {
            severity: Some(severity),
            ..Default::default()
        });
        let answer = engine
            .clients
            .questions
            .ask_one_more_event(ask.clone())
            .await;
        let answer = answer.expect("an answer").into_inner();
        assert_eq!(answer.parts.len(), 3);
        assert!(answer.parts.iter().all(|part| {
            let outlook = part.outlook.as_ref().expect("an outlook");
            outlook.error.is_none() && outlook.life.is_some()
        }));
        let cost = answer.cost.as_ref().expect("a cost");
        assert!((cost.run - answer.failure_risk * 26_500.0).abs() < 1e-6 * cost.run);
        // A rod that breaks hurts people: whatever says so comes before the money.
        let overridden = !answer.overriding.is_empty();
        if overridden {
            assert_eq!(answer.decision(), Decision::Pull);
            assert!(
                answer
                    .verdict
                    .starts_with("Pull it, whatever the money says")
            );
        }
        assert!(!answer.cautions.is_empty() && answer.earliest.is_some());
        never_safe(&[&answer.verdict]);
        println!("x{severity}: {}", answer.verdict);
        risks.push(answer.risk);
    }
    assert!(risks.is_sorted(), "{risks:?}");
    ask.event = Some(AskedEvent {
        severity: Some(-1.0),
        ..Default::default()
    });
    let refused = engine.clients.questions.ask_one_more_event(ask).await;
    assert_eq!(refused.unwrap_err().code(), Code::InvalidArgument);
}

//! What a shock cost.

use super::{Engine, RPM, engine, least};
use ringland_proto::v1::{AskOverRevCostRequest, OverRevCost};
use tonic::Code;

async fn shock(engine: &mut Engine, kind: &str) -> Result<OverRevCost, tonic::Status> {
    let ask = AskOverRevCostRequest {
        duty_record: engine.missed.clone(),
        kind: kind.into(),
        ..Default::default()
    };
    let answer = engine.clients.questions.ask_over_rev_cost(ask).await;
    answer.map(tonic::Response::into_inner)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_missed_shift_has_its_price_in_events() {
    let mut engine = engine().await;
    let answer = shock(&mut engine, "").await.expect("an answer");
    assert_eq!(answer.shocks.len(), 1);
    assert!((answer.shocks[0].fields["peak_engine_speed_rad_s"] - 9420.0 * RPM).abs() < 1e-6);
    assert!(
        (answer.removed_time_s - 0.5).abs() < 0.11,
        "{}",
        answer.removed_time_s
    );
    let rod = answer
        .parts
        .iter()
        .find(|part| part.component_type == "connecting_rod");
    let rod = rod.expect("the rod");
    let damage = rod
        .condition
        .iter()
        .find(|slot| slot.slot == "shoulder_surface_damage");
    let damage = damage.expect("damage of the shoulder");
    assert!(damage.with > damage.without, "{damage:?}");
    let lost = rod.lost_events.expect("lost");
    assert!(least(lost.p05) >= 0.0 && rod.probability_shorter_without <= 0.0);
    assert!(rod.risk >= rod.risk_without);
    assert!(answer.verdict.contains("9420 rpm"), "{}", answer.verdict);
    assert!(!answer.check.is_empty() && !answer.why.is_empty());
    println!("{}\nrod: {rod:#?}", answer.verdict);
    // What is not in the record is refused with what is.
    let refused = shock(&mut engine, "knock_burst").await.unwrap_err();
    assert_eq!(refused.code(), Code::InvalidArgument);
    assert!(
        refused.message().contains("over_rev (1)"),
        "{}",
        refused.message()
    );
}

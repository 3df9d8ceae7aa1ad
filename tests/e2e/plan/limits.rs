//! Limits that neither plans nor overrides pass.

use super::{DAY_S, open, put, season, season::make};
use ringland_proto::v1::{
    LimitOwner, ListOverridesRequest, Override, PartLimit, RecordOverrideRequest,
};
use ringland_tests::at;
use tonic::Code;
use tonic_types::StatusExt;

#[tokio::test(flavor = "multi_thread")]
async fn limits_stand_against_plans_and_overrides() {
    let (_server, mut clients, shop) = open().await;
    let mut calendar = season(4, &shop);
    calendar.opportunities.clear();
    calendar.limits.push(PartLimit {
        component_type: "ring_pack".into(),
        most_events: Some(5.0),
        owner: LimitOwner::SanctioningBody.into(),
        source: "rule 7.2 of an invented series".into(),
        ..Default::default()
    });
    put(&mut clients, calendar.clone()).await;
    let plan = make(&mut clients, &shop, false).await;
    // Each event counts two; 0.1 events are behind it.
    assert_eq!(plan.events.len(), 2);
    let standing = &plan.standing_limits[0];
    assert_eq!(
        (standing.component.as_str(), standing.event.as_str()),
        (shop.component.as_str(), "R3")
    );
    assert!(standing.text.contains("rule 7.2"), "{}", standing.text);

    let decided = Override {
        subject: shop.component.clone(),
        calendar: "calendars/season".into(),
        event: "R3".into(),
        advice: "replace the rings".into(),
        decision: "run on".into(),
        decided_by: "owner".into(),
        reason: "no time".into(),
        decision_time: Some(at(40 * DAY_S)),
        ..Default::default()
    };
    let record = |decided: Override| RecordOverrideRequest {
        r#override: Some(decided),
        ..Default::default()
    };
    // Something is left to the limit yet: the decision is recorded, and no plan is other for it.
    let recorded = clients.plans.record_override(record(decided.clone())).await;
    let recorded = recorded.expect("an override").into_inner();
    let again = make(&mut clients, &shop, false).await;
    assert_eq!(again.overrides, [recorded]);
    assert_eq!(
        (again.events, again.standing_limits),
        (plan.events, plan.standing_limits)
    );
    // Where nothing is left, it is refused.
    calendar.limits[0].most_events = Some(0.05);
    put(&mut clients, calendar).await;
    let refused = clients.plans.record_override(record(Override {
        decision_time: Some(at(41 * DAY_S)),
        ..decided.clone()
    }));
    let refused = refused.await.expect_err("refused");
    assert_eq!(refused.code(), Code::FailedPrecondition);
    let details = refused.get_error_details();
    assert_eq!(
        details.error_info().expect("a reason").reason,
        "LIMIT_STANDS"
    );

    let nobody = clients.plans.record_override(record(Override {
        decided_by: String::new(),
        reason: String::new(),
        ..decided
    }));
    let refused = nobody.await.expect_err("refused");
    let details = refused.get_error_details();
    let fields: Vec<&str> = details
        .bad_request()
        .expect("fields")
        .field_violations
        .iter()
        .map(|violation| violation.field.as_str())
        .collect();
    assert_eq!(fields, ["override.decided_by", "override.reason"]);
    let request = ListOverridesRequest {
        subject: shop.unit.clone(),
        ..Default::default()
    };
    let listed = clients.plans.list_overrides(request).await;
    assert_eq!(listed.expect("a list").into_inner().overrides.len(), 1);
}

//! Limits that neither a plan nor an override passes; overrides.

use super::{WEEK_H, limit, name, plan, put, replaced, season, shop, wanted};
use crate::shop::{Shop, at, page, part, unit};
use ringland_ledger::{
    ComponentName, ErrorKind, FailureCosts, InspectionInput, LimitOwner, MeasuredReading,
    OverrideInput, OverrideSubject, PartLimit, Plan, Reason,
};

/// Failure costs nothing here: only the limit can make the plan replace.
#[test]
fn a_makers_limit_is_never_passed_whatever_it_costs() {
    let types = ["spring_set"];
    let shop = shop(&types);
    let mut cheap = season(7, &types);
    cheap.failure_costs = FailureCosts::default();
    cheap.risk_caps.unit_loss = Some(0.999);
    assert!(plan(&shop, cheap.clone()).teardowns.is_empty());
    cheap.limits.push(limit("spring_set", 2.0));
    let limited = plan(&shop, cheap.clone());
    let places: Vec<&str> = limited
        .teardowns
        .iter()
        .map(|t| t.after_event.as_str())
        .collect();
    assert_eq!(places, ["R2", "R4", "R6"]);
    assert!(
        limited.standing_limits[0]
            .text
            .contains("sheet of the springs")
    );
    assert_eq!(limited.standing_limits[0].event, "");
    // With nothing to replace it by, the plan ends before the event that would pass the limit.
    cheap.opportunities.clear();
    let stopped = plan(&shop, cheap);
    assert_eq!(stopped.events.len(), 2);
    assert_eq!(stopped.standing_limits[0].event, "R3");
    assert!(
        stopped.verdict.contains("up to R3, which it may not run"),
        "{}",
        stopped.verdict
    );
}

fn measure(shop: &Shop, component: &ComponentName, hours: f64, value: f64) {
    let reading = MeasuredReading {
        reading: "wear_depth".into(),
        value,
        instrument: "gauge".into(),
        instrument_id: "gauge-1".into(),
        instrument_sd: Some(0.01),
        ..MeasuredReading::default()
    };
    let input = InspectionInput {
        inspection_time: Some(at(hours)),
        inspected_by: "builder".into(),
        readings: vec![reading],
        ..InspectionInput::default()
    };
    shop.ledger.record_inspection(component, input, "").unwrap();
}

#[test]
fn a_part_measured_past_its_limit_is_replaced_before_it_runs_or_does_not_run() {
    let types = ["spring_set"];
    let shop = shop(&types);
    shop.run("engine-a", 1.0, 800.0);
    measure(&shop, &part("spring-set"), 3.0, 1.2);
    let replacing = plan(&shop, season(3, &types));
    assert_eq!(replaced(&replacing)[0], ("", vec!["spring-set"]));
    let mut none = season(3, &types);
    none.opportunities.remove(0);
    let barred = plan(&shop, none);
    assert!(
        barred.events.is_empty() && barred.verdict.contains("may not run R1"),
        "{}",
        barred.verdict
    );
    let refused = shop.ledger.record_override(decided("R1"), "").unwrap_err();
    assert_eq!(
        (refused.kind(), refused.reason()),
        (ErrorKind::FailedPrecondition, Reason::LimitStands)
    );
}

fn decided(event: &str) -> OverrideInput {
    OverrideInput {
        subject: OverrideSubject::Component(part("spring-set")),
        prediction: None,
        calendar: Some(name()),
        event: event.into(),
        advice: "replace the springs before it".into(),
        decision: "run on".into(),
        decided_by: "owner".into(),
        reason: "no spare at the track".into(),
        decision_time: at(WEEK_H),
    }
}

#[test]
fn an_override_is_kept_with_who_and_why_and_moves_no_number() {
    let shop = shop(&["spring_set"]);
    let before = plan(&shop, season(3, &["spring_set"]));
    let recorded = shop.ledger.record_override(decided("R1"), "o-1").unwrap();
    assert_eq!(
        shop.ledger.record_override(decided("R1"), "o-1").unwrap(),
        recorded
    );
    assert_eq!(
        shop.ledger
            .record_override(decided("R1"), "")
            .unwrap_err()
            .kind(),
        ErrorKind::AlreadyExists
    );
    let after = shop.ledger.make_plan(&wanted()).unwrap();
    assert_eq!(after.overrides.as_slice(), std::slice::from_ref(&recorded));
    assert_eq!(
        Plan {
            overrides: Vec::new(),
            ..after
        },
        before
    );
    let of = |subject: OverrideSubject| {
        shop.ledger
            .list_overrides(Some(&subject), &page(0, ""))
            .unwrap()
            .items
    };
    assert_eq!(of(OverrideSubject::Unit(unit("engine-a"))), [recorded]);
    assert_eq!(of(OverrideSubject::Unit(unit("engine-b"))), []);
    let mut nobody = decided("R2");
    nobody.decided_by = " ".into();
    nobody.reason = String::new();
    let error = shop.ledger.record_override(nobody, "").unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["override.decided_by", "override.reason"]);
}

#[test]
fn no_override_passes_a_makers_limit() {
    let shop = shop(&["spring_set"]);
    let mut content = season(3, &["spring_set"]);
    content.limits.push(PartLimit {
        most_hours: Some(2.0),
        most_events: None,
        owner: LimitOwner::SanctioningBody,
        ..limit("spring_set", 1.0)
    });
    put(&shop, content);
    shop.run("engine-a", 1.0, 800.0);
    assert!(shop.ledger.record_override(decided("R1"), "").is_ok());
    shop.run("engine-a", 3.0, 800.0);
    let refused = shop.ledger.record_override(decided("R2"), "").unwrap_err();
    assert_eq!(refused.reason(), Reason::LimitStands);
    assert!(
        refused.to_string().contains("the sanctioning body"),
        "{refused}"
    );
}

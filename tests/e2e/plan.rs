//! Plans over real gRPC with the real plugins and from the command line: what to replace when, the risk at every event, what to
//! look at; limits that nothing passes; overrides; ages of replacement.

use ringland_proto::v1::{
    Calendar, CalendarEvent, EventRiskCaps, FailureCosts, FindReplacementAgeRequest,
    GetCalendarRequest, LimitOwner, ListOverridesRequest, MakePlanRequest, Opportunity, Override,
    PartLimit, PartPrice, Plan, PredictRequest, PutCalendarRequest, RecordOverrideRequest,
    TeardownLevel, WeibullLaw, find_replacement_age_request::Source,
};
use ringland_tests::{Clients, Server, Shop, at, install, plugin, program};
use std::process::Command;
use tonic::Code;
use tonic_types::StatusExt;

const DAY_S: i64 = 86_400;
/// Of the engine that is planned here.
const TYPES: [&str; 3] = ["ring_pack", "piston_pin", "plain_bearing"];

/// A server with three models, an engine with a part of each, an event profile.
async fn open() -> (Server, Clients, Shop) {
    let plugins = TYPES.map(|kind| plugin(&format!("ringland-plugin-{}", kind.replace('_', "-"))));
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("a shop");
    for kind in ["piston_pin", "plain_bearing"] {
        install(&mut clients, &shop.build, &kind.replace('_', "-"), kind).await;
    }
    (server, clients, shop)
}

fn event(index: i64, shop: &Shop) -> CalendarEvent {
    CalendarEvent {
        code: format!("R{index}"),
        start_time: Some(at(14 * DAY_S * index)),
        profile: shop.profile.clone(),
        severity: Some(2.0),
        race: true,
        ..Default::default()
    }
}

/// Races a fortnight apart, a teardown before each.
fn season(races: i64, shop: &Shop) -> Calendar {
    let after = |index: i64| {
        if index == 1 {
            String::new()
        } else {
            format!("R{}", index - 1)
        }
    };
    let price = |kind: &&str| PartPrice {
        component_type: (*kind).into(),
        price: 600.0,
        fitting_min: 90.0,
        level: "strip".into(),
        ..Default::default()
    };
    Calendar {
        display_name: "Season".into(),
        events: (1..=races).map(|index| event(index, shop)).collect(),
        opportunities: (1..=races)
            .map(|index| Opportunity {
                after_event: after(index),
                ..Default::default()
            })
            .collect(),
        levels: vec![TeardownLevel {
            name: "strip".into(),
            labour_min: 480.0,
            cost: 120.0,
            ..Default::default()
        }],
        parts: TYPES.iter().map(price).collect(),
        labour_rate_per_h: 75.0,
        failure_costs: Some(FailureCosts {
            nuisance: 50.0,
            power_loss: 1500.0,
            unit_loss: 22_000.0,
            hazard: 50_000.0,
            did_not_finish: 4_500.0,
        }),
        risk_caps: Some(EventRiskCaps {
            unit_loss: Some(0.3),
            hazard: Some(0.3),
        }),
        ..Default::default()
    }
}

async fn put(clients: &mut Clients, calendar: Calendar) -> Calendar {
    let request = PutCalendarRequest {
        calendar_id: "season".into(),
        calendar: Some(calendar),
        ..Default::default()
    };
    let put = clients.plans.put_calendar(request).await;
    put.expect("a calendar").into_inner()
}

async fn make(clients: &mut Clients, shop: &Shop, replace_nothing: bool) -> Plan {
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
        let request = PredictRequest {
            component: part.component.clone(),
            profile: shop.profile.clone(),
            ..Default::default()
        };
        let told = clients.predictions.predict(request).await;
        let told = told.expect("a prediction").into_inner().risk_next_event;
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

/// The roots are those of a general root finder; see `services/ledger/tests/rules/plans.rs` for the whole table.
#[tokio::test(flavor = "multi_thread")]
async fn an_age_of_replacement_is_found_or_said_not_to_be() {
    let server = Server::start(&[]).await;
    let mut clients = server.clients().await;
    let request = |shape: f64| FindReplacementAgeRequest {
        planned_cost: 1.0,
        failure_cost: 5.0,
        source: Some(Source::Weibull(WeibullLaw {
            shape,
            scale: 1000.0,
            age_unit: "h".into(),
        })),
    };
    let found = clients.plans.find_replacement_age(request(2.5)).await;
    let found = found.expect("an age").into_inner();
    assert!((found.age.expect("an age") - 493.046_958).abs() < 1e-6);
    assert!((found.cost_rate - 0.003_462_042_739).abs() < 1e-11);
    let none = clients.plans.find_replacement_age(request(1.0)).await;
    assert_eq!(none.expect("an answer").into_inner().age, None);
    let wrong = clients
        .plans
        .find_replacement_age(FindReplacementAgeRequest::default())
        .await;
    assert_eq!(wrong.expect_err("refused").code(), Code::InvalidArgument);
}

/// The command with these arguments.
fn ringland(server: &Server, arguments: &[&str]) -> String {
    let output = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(arguments)
        .env("COLUMNS", "140")
        .output()
        .expect("the command runs");
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}\n{out}\n{err}");
    out
}

const CALENDAR: &str = r#"
display_name = "Short season"
labour_rate_per_h = 75
[failure_costs]
power_loss = 1500
unit_loss = 22000
did_not_finish = 4500
[[events]]
code = "R1"
title = "medium"
start_time = "2026-04-04T08:00:00Z"
profile = "event-a"
severity = 3
oil_temp_k = 383
race = true
[[events]]
code = "R2"
title = "fast, hot"
start_time = "2026-04-18T08:00:00Z"
profile = "event-a"
severity = 4
oil_temp_k = 394
race = true
[[opportunities]]
after_event = ""
[[opportunities]]
after_event = "R1"
time = "2026-04-10T08:00:00Z"
[[levels]]
name = "top_end"
labour_min = 240
[[parts]]
component_type = "piston_pin"
price = 720
fitting_min = 90
level = "top_end"
lead_days = 2
"#;

#[tokio::test(flavor = "multi_thread")]
async fn the_command_puts_a_calendar_plans_by_it_and_records_an_override() {
    let (server, _clients, shop) = open().await;
    let file = server.folder().join("season.toml");
    std::fs::write(&file, CALENDAR).expect("the calendar can be written");
    let file = file.to_string_lossy();
    let said = ringland(&server, &["plan", "calendar", "put", "short", &file]);
    assert_eq!(said.trim(), "calendars/short, revision 1");
    let shown = ringland(&server, &["plan", "calendar", "show", "short"]);
    for word in ["R2", "fast, hot", "piston_pin", "230 degF", "110 degC"] {
        assert!(shown.contains(word), "{word} is missing from\n{shown}");
    }
    assert!(ringland(&server, &["plan", "calendar", "list"]).contains("Short season"));

    let plan = ringland(
        &server,
        &["plan", "make", "engine-a", "--calendar", "short"],
    );
    for word in [
        "Verdict",
        "Risk by event",
        "R1",
        "R2",
        "Expected cost",
        "replace nothing",
        "P10 to P90",
        "come first",
    ] {
        assert!(plan.contains(word), "{word} is missing from\n{plan}");
    }
    let run_on = [
        "--json",
        "plan",
        "make",
        "engine-a",
        "--calendar",
        "short",
        "--replace-nothing",
    ];
    let json = ringland(&server, &run_on);
    assert!(
        json.contains("\"teardowns\": []") && json.contains("\"risk_of_nothing\""),
        "{json}"
    );

    let id = shop.component.trim_start_matches("components/");
    let decided = [
        "override",
        "record",
        id,
        "--advice",
        "replace it",
        "--decision",
        "run R1",
        "--by",
        "owner",
        "--reason",
        "no spare",
        "--at",
        "2026-04-02",
        "--calendar",
        "short",
        "--event",
        "R1",
    ];
    assert!(ringland(&server, &decided).contains("by owner: no spare"));
    assert!(ringland(&server, &["override", "list", id]).contains("done: run R1"));
    let plan = ringland(
        &server,
        &["plan", "make", "engine-a", "--calendar", "short"],
    );
    assert!(plan.contains("Decided other than advised"), "{plan}");

    let age = [
        "plan",
        "age",
        "--shape",
        "2.5",
        "--scale",
        "1000",
        "--planned-cost",
        "1",
        "--failure-cost",
        "5",
    ];
    assert!(
        ringland(&server, &age).contains("493.05 h"),
        "{}",
        ringland(&server, &age)
    );
}

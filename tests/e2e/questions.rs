//! Questions of the week over real gRPC and the command line, with the real plugins.

use ringland_proto::v1::{
    AskOneMoreEventRequest, AskOverRevCostRequest, AskPartMoveRequest, AskSpareRequest,
    AskSpeedChangeRequest, AskedEvent, Bounds, Column, ComparisonBasis, CreateProfileRequest,
    Decision, DutyTable, OverRevCost, PartAtSpeed, Profile, ShockThresholds, SpeedChange, Stakes,
    Unit, UpdateUnitRequest,
};
use ringland_tests::{Clients, Server, Shop, at, install, lap_csv, plugin, program, record_csv};
use std::{collections::HashMap, process::Command};
use tonic::Code;

const RPM: f64 = std::f64::consts::TAU / 60.0;

/// An event of the invented shop: rpm, torque in N.m, share of 170 minutes. Ours, no source.
const EVENT: [(f64, f64, f64); 8] = [
    (1500.0, 20.0, 0.07),
    (4000.0, 90.0, 0.12),
    (5500.0, 180.0, 0.19),
    (6250.0, 440.0, 0.16),
    (7250.0, 425.0, 0.22),
    (8000.0, 401.0, 0.08),
    (6500.0, -45.0, 0.15),
    (8400.0, 300.0, 0.01),
];

async fn profile(clients: &mut Clients) -> String {
    let column = |value: &dyn Fn(&(f64, f64, f64)) -> f64| Column {
        values: EVENT.iter().map(value).collect(),
    };
    let time_s: Vec<f64> = EVENT.iter().map(|bin| bin.2 * 170.0 * 60.0).collect();
    let table = DutyTable {
        duration_s: time_s.iter().sum(),
        channels: ["engine_speed_rad_s", "engine_torque_n_m", "oil_temp_k"]
            .map(Into::into)
            .into(),
        points: vec![
            column(&|bin| bin.0 * RPM),
            column(&|bin| bin.1),
            column(&|_| 381.0),
        ],
        time_s,
        ..Default::default()
    };
    let request = CreateProfileRequest {
        profile_id: "race".into(),
        profile: Some(Profile {
            duty: Some(table),
            ..Default::default()
        }),
        ..Default::default()
    };
    let created = clients.duty.create_profile(request).await;
    created.expect("a profile").into_inner().name
}

/// Engine A with rings, rod and springs, and what was recorded of it.
struct Engine {
    server: Server,
    clients: Clients,
    shop: Shop,
    profile: String,
    missed: String,
}

/// A lap log in which a downshift is missed once: 9420 rpm for half a second.
fn missed_shift() -> String {
    let csv = lap_csv(800);
    let lines = csv.lines().enumerate().map(|(row, line)| {
        if !(4001..4006).contains(&row) {
            return line.to_owned();
        }
        let mut cells: Vec<&str> = line.split(',').collect();
        (cells[1], cells[2]) = ("9420", "-30.0");
        cells.join(",")
    });
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

async fn engine() -> Engine {
    let plugins = [
        plugin("ringland-plugin-ring-pack"),
        plugin("ringland-plugin-connecting-rod"),
        plugin("ringland-plugin-valve-spring"),
    ];
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("a shop");
    let profile = profile(&mut clients).await;
    let unit = Unit {
        name: shop.unit.clone(),
        event_profile: profile.clone(),
        shock_thresholds: Some(ShockThresholds {
            over_rev_engine_speed_rad_s: Some(8600.0 * RPM),
            ..Default::default()
        }),
        ..Default::default()
    };
    let mask = ["event_profile", "shock_thresholds"].map(Into::into);
    let update = UpdateUnitRequest {
        unit: Some(unit),
        update_mask: Some(prost_types::FieldMask { paths: mask.into() }),
    };
    clients.units.update_unit(update).await.expect("thresholds");
    install(&mut clients, &shop.build, "rod", "connecting_rod").await;
    install(&mut clients, &shop.build, "springs", "valve_spring").await;
    let (unit, csv) = (shop.unit.clone(), missed_shift());
    let missed = record_csv(&mut clients, &unit, "missed", at(20_000), &csv).await;
    let missed = missed
        .expect("a record")
        .duty_record
        .expect("a record")
        .name;
    let later = record_csv(&mut clients, &unit, "later", at(40_000), &lap_csv(800)).await;
    later.expect("a record");
    Engine {
        server,
        clients,
        shop,
        profile,
        missed,
    }
}

fn least(bounds: Option<Bounds>) -> f64 {
    bounds.and_then(|b| b.at_least).unwrap_or(f64::NEG_INFINITY)
}

fn never_safe(texts: &[&str]) {
    for text in texts {
        let lower = text.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphabetic());
        assert!(words.all(|word| word != "safe"), "{text}");
    }
}

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

async fn speeds(engine: &mut Engine, rpm: &[f64]) -> SpeedChange {
    let ask = AskSpeedChangeRequest {
        unit: engine.shop.unit.clone(),
        event: Some(AskedEvent {
            profile: engine.profile.clone(),
            ..Default::default()
        }),
        changes_rad_s: rpm.iter().map(|rpm| rpm * RPM).collect(),
        basis: ComparisonBasis::New.into(),
        replace_costs: HashMap::from([("connecting_rod".into(), 900.0)]),
    };
    let answer = engine.clients.questions.ask_speed_change(ask).await;
    answer.expect("an answer").into_inner()
}

fn part<'a>(parts: &'a [PartAtSpeed], component_type: &str) -> &'a PartAtSpeed {
    let mut parts = parts.iter();
    let found = parts.find(|part| part.component_type == component_type);
    found.expect(component_type)
}

/// A simpler rod (equivalent stress by Smith, Watson and Topper at the big-end shoulder, slope 9; computed by hand, from memory)
/// has x0.78 at +200 rpm, x0.61 at +400, x1.29 at -200 on this event. Our model is another: what it gives is printed beside them,
/// and held to their side of 1 and their order.
#[tokio::test(flavor = "multi_thread")]
async fn rods_are_killed_by_speed() {
    let mut engine = engine().await;
    let answer = speeds(&mut engine, &[0.0, 200.0, 400.0, -200.0]).await;
    let ratios: Vec<f64> = answer
        .alternatives
        .iter()
        .map(|each| {
            let rod = part(&each.parts, "connecting_rod");
            least(rod.life_ratio.and_then(|ratio| ratio.p50))
        })
        .collect();
    let [same, faster, fastest, slower] = ratios[..] else {
        panic!("four alternatives");
    };
    println!("rod: x{faster:.3} at +200, x{fastest:.3} at +400, x{slower:.3} at -200");
    for each in &answer.alternatives {
        println!("{}", each.verdict);
    }
    assert_eq!(same.to_bits(), 1.0_f64.to_bits());
    assert_eq!(answer.alternatives[0].earliest, answer.earliest);
    assert!(
        fastest < faster && faster < 1.0 && slower > 1.0,
        "{ratios:?}"
    );
    let rod = part(&answer.alternatives[1].parts, "connecting_rod");
    assert!(rod.cost.is_some() && rod.cost_before.is_some());
    assert!(rod.risk >= rod.risk_before);
    assert!(answer.assumptions.len() >= 4);
}

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

#[tokio::test(flavor = "multi_thread")]
async fn the_command_line_asks_every_question() {
    let mut engine = engine().await;
    let other = Shop::open(&mut engine.clients, "b").await.expect("a shop");
    let profile = format!("--profile={}", engine.profile);
    let cases: [(&[&str], &[&str]); 5] = [
        (
            &[
                "one-more-event",
                "engine-a",
                "--severity=1.1",
                "--failure=22000",
                "--unfinished=4500",
                "--replace=valve_spring=970",
            ],
            &[
                "risk",
                "unused",
                "expected loss of running",
                "Why",
                "Cautions",
            ],
        ),
        (
            &["over-rev", &engine.missed, "--replace=connecting_rod=900"],
            &[
                "The over-rev (9420 rpm",
                "without it",
                "What it left in the conditions",
                "Check",
                "Cautions",
            ],
        ),
        (
            &[
                "speed",
                "engine-a",
                "--change=200rpm",
                "--change=-200rpm",
                "--new",
                &profile,
            ],
            &[
                "+200 rpm",
                "-200 rpm",
                "life x",
                "Taken for granted",
                "Cautions",
            ],
        ),
        (
            &["move", "rings-a", "engine-b", &profile],
            &[
                "rings-b is there and comes out for it",
                "with the move",
                "Left behind",
                "Cautions",
            ],
        ),
        (
            &[
                "spare",
                "engine-a",
                "engine-b",
                "--type=ring_pack",
                "--at=2026-04-18,2026-05-02,2026-05-16",
                "--price=1200",
                "--lead=14",
                "--missed=4500",
                &profile,
            ],
            &["any down", "break-even price", "2026-05-02", "Cautions"],
        ),
    ];
    for (arguments, expected) in cases {
        let arguments: Vec<&str> = ["ask"].iter().chain(arguments).copied().collect();
        let said = ringland(&engine.server, &arguments);
        println!("$ ringland {}\n{said}", arguments.join(" "));
        let one_line = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for text in expected {
            assert!(one_line.contains(text), "{text} is missing from\n{said}");
        }
        let as_json: Vec<&str> = arguments.iter().copied().chain(["--json"]).collect();
        let said = ringland(&engine.server, &as_json);
        assert!(said.contains("\"verdict\""), "{said}");
    }
    assert!(!other.unit.is_empty());
}

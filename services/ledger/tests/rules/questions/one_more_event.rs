//! One more event, or pull it.

use super::{event, never_safe, worn};
use crate::{
    fake::{FakePlugin, mechanism, wear_part},
    shop::{Shop, at, log, part, steady, unit},
};
use ringland_host::contract::{Card, Consequence, DutyShocks};
use ringland_ledger::{
    AskOneMoreEvent, AskedEvent, AskedOf, Bounds, ComponentName, CrackCheck, CrackMethod,
    CrackResult, Decision, ErrorKind, InspectionInput, MeasuredReading, OneMoreEvent, RecordDuty,
    Stakes,
};
use std::collections::BTreeMap;

/// The wear part with a wear that costs so much, of which no measurement tells.
fn costly(consequence: Consequence) -> Card {
    let mut card = wear_part();
    card.mechanisms[0] = mechanism("wear", consequence, None);
    card.readings.clear();
    card
}

fn ask_event(shop: &Shop, severity: f64, stakes: Option<Stakes>) -> OneMoreEvent {
    let ask = AskOneMoreEvent {
        of: AskedOf::Unit(unit("engine-a")),
        event: event(severity),
        stakes,
    };
    shop.ledger.ask_one_more_event(&ask).unwrap()
}

/// A failure at 22 000 and a renewal at 970.
fn stakes() -> Stakes {
    Stakes {
        failure_cost: 22_000.0,
        unfinished_event_cost: 4_500.0,
        missed_event_cost: 0.0,
        replace_costs: BTreeMap::from([("wear_part".into(), 970.0)]),
    }
}

#[test]
fn risk_rises_with_the_severity_of_the_event() {
    let shop = worn(wear_part());
    let risks: Vec<f64> = [0.5, 1.0, 1.5, 2.0, 3.0]
        .iter()
        .map(|severity| ask_event(&shop, *severity, None).risk)
        .collect();
    assert!(risks.is_sorted(), "{risks:?}");
    assert!(risks[4] > risks[0], "{risks:?}");
    // Once is the profile itself, bit for bit.
    let once = ask_event(&shop, 1.0, None).risk;
    let mut ask = AskOneMoreEvent {
        of: AskedOf::Component(part("wp")),
        event: AskedEvent::default(),
        stakes: None,
    };
    let alone = shop.ledger.ask_one_more_event(&ask).unwrap();
    assert_eq!(once.to_bits(), alone.risk.to_bits());
    ask.event.severity = Some(100.0);
    let error = shop.ledger.ask_one_more_event(&ask).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::InvalidArgument);
}

#[test]
fn more_parts_in_a_unit_are_more_risk() {
    let shop = worn(wear_part());
    let one = ask_event(&shop, 2.0, None);
    shop.installed("wp-2", "wear_part", "engine-a");
    let two = ask_event(&shop, 2.0, None);
    assert!(two.risk > one.risk);
    let by_part: f64 = two
        .parts
        .iter()
        .map(|part| 1.0 - part.outlook.figures.as_ref().unwrap().risk)
        .product();
    assert!((two.risk - (1.0 - by_part)).abs() < 1e-12);
}

/// Where a failure costs more than the life thrown away, it is pulled; where it costs next to nothing, it is not.
#[test]
fn money_decides_where_nothing_overrides_it() {
    let shop = worn(costly(Consequence::UnitLoss));
    let pulled = ask_event(&shop, 2.0, Some(stakes()));
    let cost = pulled.cost.clone().unwrap();
    let Bounds { at_most, .. } = cost.pull;
    assert!(cost.run > at_most.unwrap(), "{cost:?}");
    assert_eq!(
        (pulled.decision, &cost.replaced),
        (Decision::Pull, &vec![part("wp")])
    );
    assert!((cost.run - pulled.failure_risk * 26_500.0).abs() < 1e-6);
    assert!(pulled.overriding.is_empty());
    assert!(
        pulled.verdict.starts_with("Pull it and replace wp"),
        "{}",
        pulled.verdict
    );
    // What is thrown away is the share of a new one's life that is left.
    let unused = pulled.parts[0].unused_share.unwrap();
    assert!(unused.p05.at_least.unwrap() > 0.0 && unused.p95.at_most.unwrap() < 1.0);
    let cheap = Stakes {
        failure_cost: 1.0,
        unfinished_event_cost: 0.0,
        ..stakes()
    };
    let mild = ask_event(&shop, 0.05, Some(cheap));
    assert!(mild.cost.as_ref().unwrap().run < mild.cost.as_ref().unwrap().pull.at_least.unwrap());
    assert_eq!(mild.decision, Decision::Run, "{}", mild.verdict);
    never_safe(&[&mild.verdict, &pulled.verdict]);
    assert!(mild.verdict.contains("the risk stays"));
    assert!(
        mild.cautions
            .iter()
            .any(|caution| caution == "a measured limit comes first")
    );
}

#[test]
fn what_can_hurt_people_is_pulled_whatever_the_money_says() {
    let shop = worn(costly(Consequence::Hazard));
    let free = Stakes::default();
    let answer = ask_event(&shop, 2.0, Some(free));
    assert!(answer.failure_risk >= 0.001);
    assert_eq!(answer.decision, Decision::Pull);
    assert_eq!(answer.overriding[0].component, Some(part("wp")));
    assert!(
        answer
            .verdict
            .starts_with("Pull it, whatever the money says: ")
    );
}

fn look(shop: &Shop, hours: f64, result: CrackResult) {
    let check = CrackCheck {
        method: CrackMethod::WetFluorescentMagneticParticle,
        mechanisms: Vec::new(),
        result,
        indication_length_m: None,
        a90_m: None,
        note: String::new(),
    };
    let found = InspectionInput {
        inspection_time: Some(at(hours)),
        inspected_by: "builder".into(),
        crack_checks: vec![check],
        ..InspectionInput::default()
    };
    shop.ledger
        .record_inspection(&part("wp"), found, "")
        .unwrap();
}

/// No price and no shop operation ends it, only a look that finds none.
#[test]
fn a_crack_is_pulled_whatever_the_money_says_until_a_look_finds_none() {
    let shop = worn(wear_part());
    assert!(ask_event(&shop, 0.05, None).overriding.is_empty());
    look(&shop, 3.0, CrackResult::Indication);
    let answer = ask_event(&shop, 0.05, Some(Stakes::default()));
    assert_eq!(answer.decision, Decision::Pull);
    assert!((answer.risk - 1.0).abs() < 1e-12 && (answer.failure_risk - 1.0).abs() < 1e-12);
    let found = &answer.overriding[0].text;
    assert!(found.contains("found at wp"), "{answer:?}");
    shop.ledger
        .record_rework(&part("wp"), "reface", at(4.0), "", "")
        .unwrap();
    assert_eq!(ask_event(&shop, 0.05, None).decision, Decision::Pull);
    look(&shop, 5.0, CrackResult::Clean);
    assert!(ask_event(&shop, 0.05, None).overriding.is_empty());
}

/// A log with dips of oil pressure.
fn dips(start_h: f64, duration_s: f64) -> RecordDuty {
    let mut duty = steady(1.0, 400.0);
    duty.shocks.push(DutyShocks {
        kind: "oil_pressure_dip".into(),
        fields: [
            "start_s",
            "duration_s",
            "minimum_oil_pressure_pa",
            "mean_engine_speed_rad_s",
        ]
        .map(Into::into)
        .into(),
        columns: vec![
            vec![10.0, 20.0],
            vec![duration_s; 2],
            vec![1.6e5; 2],
            vec![600.0; 2],
        ],
    });
    RecordDuty {
        duty,
        ..log("engine-a", &format!("dips-{start_h}"), start_h, 400.0)
    }
}

#[test]
fn an_alarm_is_open_until_someone_has_looked() {
    let shop = worn(wear_part());
    shop.ledger.record_duty(dips(3.0, 0.3)).unwrap();
    assert!(
        ask_event(&shop, 0.05, None).overriding.is_empty(),
        "too short"
    );
    shop.ledger.record_duty(dips(5.0, 0.6)).unwrap();
    let answer = ask_event(&shop, 0.05, Some(Stakes::default()));
    assert_eq!(answer.decision, Decision::Pull);
    assert!(answer.verdict.contains("open alarm"), "{}", answer.verdict);
    let looked = InspectionInput {
        inspection_time: Some(at(7.0)),
        inspected_by: "builder".into(),
        readings: vec![MeasuredReading {
            reading: "wear_depth".into(),
            value: shop.wear(&part("wp")),
            instrument_sd: Some(0.01),
            ..MeasuredReading::default()
        }],
        ..InspectionInput::default()
    };
    shop.ledger
        .record_inspection(&part("wp"), looked, "")
        .unwrap();
    assert!(ask_event(&shop, 0.05, None).overriding.is_empty());
}

#[test]
fn a_unit_without_a_model_for_a_part_is_looked_at_first() {
    let shop = worn(wear_part());
    let trap = FakePlugin {
        traps: true,
        ..FakePlugin::of(Card {
            component_type: "trap".into(),
            ..wear_part()
        })
    };
    shop.activate(&trap);
    let name: ComponentName = shop.installed("t", "trap", "engine-a");
    let answer = ask_event(&shop, 0.05, None);
    assert_eq!(answer.decision, Decision::LookFirst);
    assert!(
        answer
            .notes
            .iter()
            .any(|note| note.field == name.to_string())
    );
}

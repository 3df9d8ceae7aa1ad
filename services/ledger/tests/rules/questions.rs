//! Questions about one unit: one more event, what a shock cost, more speed.

use crate::{
    fake::{FakePlugin, mechanism, reader, shock, wear_part},
    shop::{LOG, Shop, at, log, part, profile, steady, unit},
};
use ringland_host::contract::{Card, Consequence, DutyShocks, DutyTable};
use ringland_ledger::{
    Advice, AskOneMoreEvent, AskShockCost, AskSpeedChange, AskedEvent, AskedOf, Basis, Bounds,
    ComponentName, CrackCheck, CrackMethod, CrackResult, Decision, DutyRecordName, ErrorKind,
    InspectionInput, MeasuredReading, OneMoreEvent, RecordDuty, ShockCost, SpeedChange, Stakes,
};
use ringland_store::Table;
use std::collections::BTreeMap;

/// The wear part with a wear that costs so much, of which no measurement tells.
fn costly(consequence: Consequence) -> Card {
    let mut card = wear_part();
    card.mechanisms[0] = mechanism("wear", consequence, None);
    card.readings.clear();
    card
}

fn event(severity: f64) -> AskedEvent {
    AskedEvent {
        profile: None,
        severity: Some(severity),
    }
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

/// A part in engine-a after an hour.
fn worn(card: Card) -> Shop {
    let shop = Shop::open();
    shop.activate_card(card);
    shop.installed("wp", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop
}

/// No answer calls a part safe.
fn never_safe(texts: &[&str]) {
    for text in texts {
        let lower = text.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphabetic());
        assert!(
            words.all(|word| word != "safe" && word != "safely"),
            "{text}"
        );
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

/// A record with an over-rev that stands in its operating points.
fn over_rev(start_h: f64) -> RecordDuty {
    let duty = steady(1.0, 500.0);
    let mut points = duty.points.clone();
    points[0].push(980.0);
    points[1].push(0.0);
    let table = DutyTable {
        duration_s: duty.duration_s + 100.0,
        time_s: [duty.time_s.as_slice(), &[100.0]].concat(),
        points,
        shocks: vec![DutyShocks {
            kind: "over_rev".into(),
            fields: [
                "start_s",
                "duration_s",
                "peak_engine_speed_rad_s",
                "mean_engine_speed_rad_s",
                "mean_engine_torque_n_m",
            ]
            .map(Into::into)
            .into(),
            columns: vec![vec![5.0], vec![100.0], vec![985.0], vec![979.0], vec![0.0]],
        }],
        ..duty
    };
    RecordDuty {
        duty: table,
        ..log("engine-a", "missed", start_h, 500.0)
    }
}

/// Parts that read each other's wear, one of which adds up the peaks of over-revs.
fn readers() -> Shop {
    let shop = Shop::open();
    let mut hot = wear_part();
    hot.duty.shocks = vec![shock(
        "over_rev",
        &["duration_s", "peak_engine_speed_rad_s"],
    )];
    shop.activate_card(hot);
    shop.activate_card(reader("spring", "wear_part"));
    shop.installed("wp", "wear_part", "engine-a");
    shop.installed("spring", "spring", "engine-a");
    shop
}

fn ask_shock(shop: &Shop, record: &DutyRecordName) -> ShockCost {
    let ask = AskShockCost {
        duty_record: record.clone(),
        kind: String::new(),
        number: None,
        event: AskedEvent::default(),
        replace_costs: BTreeMap::from([("wear_part".into(), 970.0)]),
    };
    shop.ledger.ask_over_rev_cost(&ask).unwrap()
}

fn condition(shop: &Shop, id: &str) -> BTreeMap<String, f64> {
    shop.predict(&part(id)).unwrap().provenance.condition
}

/// Without the shock every condition is, bit for bit, that of a ledger in which it never was.
#[test]
fn without_a_shock_a_history_is_as_if_it_had_never_been() {
    let shop = readers();
    shop.run("engine-a", 1.0, 500.0);
    let missed = shop.ledger.record_duty(over_rev(3.0)).unwrap();
    shop.run("engine-a", 5.0, 600.0);
    let twin = readers();
    twin.run("engine-a", 1.0, 500.0);
    let mut never = over_rev(3.0);
    never.duty.duration_s = 3600.0;
    never.duty.time_s[2] = 0.0;
    never.duty.shocks[0].columns.iter_mut().for_each(Vec::clear);
    twin.ledger.record_duty(never).unwrap();
    twin.run("engine-a", 5.0, 600.0);
    let before = [condition(&shop, "wp"), condition(&shop, "spring")];
    let stored = shop.store.dump(&[Table::Conditions, Table::Predictions]);
    let kept = shop.store.dump(&LOG);

    let answer = ask_shock(&shop, &missed.duty_record.name);
    for told in &answer.parts {
        let figures = told.figures.as_ref().unwrap();
        let other = condition(&twin, told.component.component());
        assert!(!figures.condition.is_empty(), "{}", told.component);
        for slot in &figures.condition {
            assert_eq!(
                slot.without.to_bits(),
                other[&slot.slot].to_bits(),
                "{slot:?}"
            );
            assert!(slot.with > slot.without, "{slot:?}");
        }
    }
    assert!((answer.removed_time_s - 100.0).abs() < 1e-9);
    assert_eq!(
        stored,
        shop.store.dump(&[Table::Conditions, Table::Predictions]),
        "nothing is stored"
    );
    assert_eq!(kept, shop.store.dump(&LOG));
    assert_eq!(before, [condition(&shop, "wp"), condition(&shop, "spring")]);
}

#[test]
fn a_shock_that_is_taken_out_never_shortens_a_life() {
    let shop = readers();
    let missed = shop.ledger.record_duty(over_rev(3.0)).unwrap();
    let answer = ask_shock(&shop, &missed.duty_record.name);
    assert_eq!(
        answer.shocks[0].fields["peak_engine_speed_rad_s"].to_bits(),
        985.0_f64.to_bits()
    );
    for told in &answer.parts {
        let figures = told.figures.as_ref().unwrap();
        assert!(figures.lost_events.p05.at_least.unwrap() >= 0.0);
        assert!(figures.lost_events.p50.at_least.unwrap() > 0.0);
        assert!(figures.longer_without.less <= 0.0);
        assert!(figures.risk >= figures.risk_without);
        assert_eq!(figures.price.is_some(), told.component_type == "wear_part");
        let Advice { text, .. } = &figures.advice;
        assert!(answer.check.iter().any(|check| check.contains(text)));
    }
    assert!(answer.lost_events.p50.at_least.unwrap() > 0.0);
    assert!(
        answer
            .verdict
            .starts_with("The over-rev (9406 rpm, 100.00 s) cost"),
        "{}",
        answer.verdict
    );
    never_safe(&[&answer.verdict]);
    let none = shop.run("engine-a", 6.0, 500.0);
    let error = shop
        .ledger
        .ask_over_rev_cost(&AskShockCost {
            duty_record: none.duty_record.name,
            kind: "over_rev".into(),
            number: None,
            event: event(50.0),
            replace_costs: BTreeMap::new(),
        })
        .unwrap_err();
    assert!(error.to_string().contains("severity"), "{error}");
}

fn ask_speed(shop: &Shop, changes: &[f64], basis: Basis) -> SpeedChange {
    let ask = AskSpeedChange {
        unit: unit("engine-a"),
        event: AskedEvent {
            profile: Some(profile("race")),
            severity: None,
        },
        changes_rad_s: changes.to_vec(),
        basis,
        replace_costs: BTreeMap::from([("wear_part".into(), 100.0)]),
    };
    shop.ledger.ask_speed_change(&ask).unwrap()
}

/// The wear part wears with speed, so that by hand its new life goes with the inverse of the mean speed.
#[test]
fn no_change_of_speed_changes_no_bit_and_more_speed_is_less_life() {
    let shop = worn(wear_part());
    for basis in [Basis::New, Basis::Present] {
        let answer = ask_speed(&shop, &[0.0, 20.0, -20.0], basis);
        let [same, faster, slower] = answer.alternatives.as_slice() else {
            panic!("three alternatives");
        };
        let figures = |of: &ringland_ledger::SpeedAlternative| of.parts[0].figures.clone().unwrap();
        assert_eq!(same.earliest, answer.earliest);
        let ratio = figures(same).life_ratio;
        assert_eq!(
            ratio.p05.at_least.map(f64::to_bits),
            Some(1.0_f64.to_bits())
        );
        assert_eq!(ratio.p95.at_most.map(f64::to_bits), Some(1.0_f64.to_bits()));
        assert_eq!(
            figures(same).risk.to_bits(),
            figures(same).risk_before.to_bits()
        );
        assert!((figures(same).longer.equal - 1.0).abs() < 1e-12);
        let mean = |change: f64| 0.25 * (800.0 + change) + 0.75 * (640.0 + change);
        for (alternative, change) in [(faster, 20.0), (slower, -20.0)] {
            let ratio = figures(alternative).life_ratio.p50.at_least.unwrap();
            let by_hand = mean(0.0) / mean(change);
            assert!((ratio - by_hand).abs() < 1e-9, "{ratio} {by_hand}");
        }
        assert!(faster.cost_change.unwrap().at_least.unwrap() > 0.0);
        assert!(faster.later_events.p50.at_most.unwrap() < 0.0);
        assert!(faster.verdict.contains("+191 rpm"), "{}", faster.verdict);
    }
    let ask = AskSpeedChange {
        unit: unit("engine-a"),
        event: event(0.0),
        changes_rad_s: vec![f64::NAN, 1.0],
        basis: Basis::New,
        replace_costs: BTreeMap::from([("x".into(), -1.0)]),
    };
    let refused = shop.ledger.ask_speed_change(&ask).unwrap_err().to_string();
    for field in ["severity", "changes_rad_s[0]", "replace_costs[x]"] {
        assert!(refused.contains(field), "{field}: {refused}");
    }
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

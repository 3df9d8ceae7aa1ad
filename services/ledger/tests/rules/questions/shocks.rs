//! What a shock cost.

use super::{event, never_safe};
use crate::{
    fake::{reader, shock, wear_part},
    shop::{LOG, Shop, log, part, steady},
};
use ringland_host::contract::{DutyShocks, DutyTable};
use ringland_ledger::{Advice, AskShockCost, AskedEvent, DutyRecordName, RecordDuty, ShockCost};
use ringland_store::Table;
use std::collections::BTreeMap;

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

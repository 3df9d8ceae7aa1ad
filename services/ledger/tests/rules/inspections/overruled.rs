//! What overrules every computed life.

use super::{card, line, look, looked, record, shop};
use crate::{
    fake::{channel, mechanism},
    shop::{Shop, at},
};
use ringland_host::contract::Consequence;
use ringland_ledger::{Action, ComponentName, CrackResult, LedgerOptions};

#[test]
fn a_limit_measured_past_overrules_everything_until_a_better_reading() {
    let (shop, name) = shop();
    let wear = shop.wear(&name);
    assert!(wear < 0.5 && shop.predict(&name).unwrap().overruled_by.is_empty());
    // The worst line counts for the limit of 1, the mean for the rate.
    let mut lines = vec![line(0.2, 0.01), line(1.01, 0.01)];
    lines[1].position = "2".into();
    let found = record(&shop, &name, 3.0, lines);
    assert!((found.comparisons[0].measured - 0.605).abs() < 1e-12);
    let stopped = shop.predict(&name).unwrap();
    assert_eq!(stopped.overruled_by[0].inspection, found.inspection.name);
    assert!(
        (stopped.overruled_by[0].probability - 0.8413).abs() < 1e-4,
        "one standard deviation over"
    );
    assert!(stopped.life.events.p95.abs() < 1e-12);
    assert!((stopped.risk_next_event - 1.0).abs() < 1e-12);
    assert_eq!(stopped.limiting_mechanism, "wear");
    assert_eq!(
        stopped.advice.action,
        Action::Replace,
        "it costs power, not the unit"
    );
    assert!(
        stopped.advice.text.contains("past the limit"),
        "{}",
        stopped.advice.text
    );
    // A worse instrument does not clear it, one as good does.
    record(&shop, &name, 3.1, vec![line(0.2, 0.05)]);
    assert!(!shop.predict(&name).unwrap().overruled_by.is_empty());
    record(&shop, &name, 3.2, vec![line(0.2, 0.01)]);
    assert!(shop.predict(&name).unwrap().overruled_by.is_empty());
    // In the guard band it is said and not more.
    record(&shop, &name, 3.3, vec![line(0.995, 0.01)]);
    let near = shop.predict(&name).unwrap();
    assert!(
        near.overruled_by.is_empty() && near.notes.iter().any(|n| n.remedy.contains("guard band"))
    );
    record(&shop, &name, 3.4, vec![line(1.5, 0.01)]);
    assert!(!shop.predict(&name).unwrap().overruled_by.is_empty());
    shop.ledger
        .record_rework(&name, "reface", at(4.0), "", "")
        .unwrap();
    assert!(shop.predict(&name).unwrap().overruled_by.is_empty());
}

/// A part of which the wear has no reading: it ends by a crack, soon.
fn cracking() -> (Shop, ComponentName) {
    let options = LedgerOptions {
        samples: 512,
        ..LedgerOptions::default()
    };
    let shop = Shop::opened(options);
    let mut card = card();
    card.readings.clear();
    card.mechanisms = vec![mechanism("crack", Consequence::UnitLoss, None)];
    card.duty.channels = vec![channel("engine_speed_rad_s", None)];
    shop.activate_card(card);
    let name = shop.installed("rod-1", "wear_part", "engine-a");
    for i in 0..20 {
        shop.run("engine-a", 1.0 + 2.0 * f64::from(i), 80.0);
    }
    (shop, name)
}

#[test]
fn a_crack_stops_the_part_whatever_else_and_no_operation_hides_it() {
    let (shop, name) = cracking();
    looked(&shop, &name, 50.0, look(CrackResult::Indication, None));
    let stopped = shop.predict(&name).unwrap();
    assert_eq!(stopped.advice.action, Action::Stop);
    assert!((stopped.risk_next_event - 1.0).abs() < 1e-12);
    shop.ledger
        .record_rework(&name, "reface", at(51.0), "", "")
        .unwrap();
    assert_eq!(shop.predict(&name).unwrap().advice.action, Action::Stop);
    // A worse method cannot clear what a better one has found.
    looked(&shop, &name, 52.0, look(CrackResult::Clean, Some(5e-3)));
    assert_eq!(shop.predict(&name).unwrap().advice.action, Action::Stop);
    looked(&shop, &name, 53.0, look(CrackResult::Clean, None));
    assert!(shop.predict(&name).unwrap().overruled_by.is_empty());
}

#[test]
fn a_clean_look_lowers_the_risk_fades_with_duty_and_resets_nothing() {
    let (shop, name) = cracking();
    let before = shop.predict(&name).unwrap();
    let risk = before.risk_next_event;
    assert!(risk > 0.2 && risk < 0.8, "{risk}");
    looked(&shop, &name, 50.0, look(CrackResult::Clean, None));
    let after = shop.predict(&name).unwrap();
    assert!(
        after.risk_next_event < 0.8 * risk,
        "{} from {risk}",
        after.risk_next_event
    );
    assert!(after.life.events.p50 > before.life.events.p50);
    assert_eq!(after.provenance.condition, before.provenance.condition);
    assert!(after.notes.iter().any(|n| n.field == "crack_checks"));
}

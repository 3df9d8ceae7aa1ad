//! Whether to buy the spare now.

use crate::{
    fake::wear_part,
    shop::{Shop, at, profile, unit},
};
use ringland_ledger::{AskSpare, AskedEvent, SpareAnswer};

fn spare(units: &[&str], events: u32) -> AskSpare {
    AskSpare {
        units: units.iter().map(|id| unit(id)).collect(),
        component_type: "wear_part".into(),
        event: AskedEvent {
            profile: Some(profile("race")),
            severity: None,
        },
        events,
        event_times: Vec::new(),
        spare_price: 500.0,
        lead_time_days: 30.0,
        days_between_events: 14.0,
        missed_event_cost: 4_500.0,
    }
}

fn two_units() -> Shop {
    let shop = Shop::open();
    for (id, engine) in [("wp-a", "engine-a"), ("wp-b", "engine-b")] {
        shop.installed(id, "wear_part", engine);
        shop.run(engine, 1.0, 500.0);
    }
    shop
}

#[test]
fn more_units_are_down_more_often_and_later_events_too() {
    let shop = two_units();
    let ask = |units: &[&str]| -> SpareAnswer { shop.ledger.ask_spare(&spare(units, 6)).unwrap() };
    let (one, two) = (ask(&["engine-a"]), ask(&["engine-a", "engine-b"]));
    let down = |answer: &SpareAnswer| -> Vec<f64> {
        answer
            .events
            .iter()
            .map(|event| event.down_probability)
            .collect()
    };
    assert!(down(&one).is_sorted() && down(&two).is_sorted());
    assert!(
        down(&one)
            .iter()
            .zip(down(&two))
            .all(|(one, two)| *one <= two)
    );
    assert!(down(&two)[1] > down(&one)[1]);
    for event in &two.events {
        let survive: f64 = event.by_unit.iter().map(|p| 1.0 - p).product();
        assert!((event.down_probability - (1.0 - survive)).abs() < 1e-12);
    }
    assert!((two.break_even_price - (two.loss_without - two.loss_with)).abs() < 1e-9);
    let avoided: Vec<f64> = two.events.iter().map(|e| e.avoided_from_here).collect();
    assert!(avoided.iter().rev().is_sorted(), "{avoided:?}");
    assert!(two.break_even_price >= one.break_even_price);
    assert!((two.break_even_price - avoided[0]).abs() < 1e-9);
}

/// Parts that have hardly run: no drawn life of 64 is over by the end of the first event.
#[test]
fn no_drawn_life_that_ends_is_told_as_less_than_one_of_them() {
    let mut card = wear_part();
    card.numbers[0].default_value = 1e6;
    let shop = Shop::open();
    shop.activate_card(card);
    for (id, engine) in [("wp-a", "engine-a"), ("wp-b", "engine-b")] {
        shop.installed(id, "wear_part", engine);
    }
    let ask = |units: &[&str]| shop.ledger.ask_spare(&spare(units, 1)).unwrap();
    let one = ask(&["engine-a"]);
    assert_eq!(one.events[0].by_unit, [0.0]);
    assert!(one.verdict.contains("with below 1/64 some unit"), "{one:?}");
    assert!(
        one.why[0].contains("first event with below 1/64"),
        "{one:?}"
    );
    let two = ask(&["engine-a", "engine-b"]);
    assert!(two.verdict.contains("with below 2/64 some unit"), "{two:?}");
}

#[test]
fn a_spare_pays_up_to_its_break_even_price() {
    let shop = two_units();
    let days = [0, 14, 28, 42, 56, 70];
    let ask = |price: f64| {
        let ask = AskSpare {
            spare_price: price,
            event_times: days
                .iter()
                .map(|day| at(24.0 * f64::from(100 + day)))
                .collect(),
            ..spare(&["engine-a", "engine-b"], 0)
        };
        shop.ledger.ask_spare(&ask).unwrap()
    };
    let worth = ask(0.0).break_even_price;
    assert!(worth > 0.0);
    let cheap = ask(0.5 * worth);
    assert!(
        cheap.pays && cheap.verdict.starts_with("Buy it"),
        "{}",
        cheap.verdict
    );
    let event = cheap.latest_arrival_event.unwrap() as usize;
    let arrival = 24.0 * f64::from(100 + days[event - 1]);
    assert_eq!(cheap.latest_order_time, Some(at(arrival - 30.0 * 24.0)));
    assert!(cheap.events[event - 1].avoided_from_here >= 0.5 * worth);
    let dear = ask(2.0 * worth);
    assert!(!dear.pays && dear.latest_order_time.is_none());
    assert!(
        dear.verdict.starts_with("Not by these figures"),
        "{}",
        dear.verdict
    );
}

#[test]
fn everything_wrong_with_a_call_comes_at_once() {
    let shop = two_units();
    let wrong = AskSpare {
        spare_price: -1.0,
        lead_time_days: f64::NAN,
        days_between_events: 0.0,
        ..spare(&["engine-a", "engine-a"], 0)
    };
    let refused = shop.ledger.ask_spare(&wrong).unwrap_err().to_string();
    for field in [
        "units",
        "spare_price",
        "lead_time_days",
        "events",
        "days_between_events",
    ] {
        assert!(refused.contains(field), "{field}: {refused}");
    }
    let none = AskSpare {
        component_type: "gear".into(),
        ..spare(&["engine-a"], 3)
    };
    let refused = shop.ledger.ask_spare(&none).unwrap_err().to_string();
    assert!(refused.contains("nothing of type gear"), "{refused}");
}

//! Questions about several units: a move, a spare.

use crate::{
    fake::{mechanism, reader, wear_part},
    shop::{LOG, Shop, at, build, part, profile, unit},
};
use ringland_host::contract::Consequence;
use ringland_ledger::{
    AskPartMove, AskSpare, AskedEvent, ComponentInput, ComponentName, ObstacleKind, PartMove,
    PredictRequest, SpareAnswer,
};
use std::collections::BTreeMap;

fn ask_move(shop: &Shop, id: &str, to: &str, position: &str) -> PartMove {
    let ask = AskPartMove {
        component: part(id),
        unit: unit(to),
        position: position.into(),
        event: AskedEvent::default(),
    };
    shop.ledger.ask_part_move(&ask).unwrap()
}

fn kinds(answer: &PartMove) -> Vec<(ObstacleKind, bool)> {
    let obstacles = answer.obstacles.iter();
    obstacles.map(|each| (each.kind, each.refuses)).collect()
}

fn labelled(shop: &Shop, id: &str, label: (&str, &str)) -> ComponentName {
    let input = ComponentInput {
        component_type: "wear_part".into(),
        labels: BTreeMap::from([(label.0.into(), label.1.into())]),
        ..ComponentInput::default()
    };
    shop.ledger.create_component(id, input, "").unwrap().name
}

fn place(shop: &Shop, name: &ComponentName, unit: &str, position: &str) {
    shop.ledger
        .install_component(name, &build(unit, "b1"), position, at(0.0), "")
        .unwrap();
}

/// What is told before a move is what is predicted after it, for the part and for those that read it.
#[test]
fn a_move_is_told_as_it_comes_out() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    shop.installed("wp-a", "wear_part", "engine-a");
    shop.installed("s-a", "spring", "engine-a");
    shop.installed("wp-b", "wear_part", "engine-b");
    shop.installed("s-b", "spring", "engine-b");
    shop.run("engine-a", 1.0, 700.0);
    shop.run("engine-b", 1.0, 400.0);
    let before = shop.store.dump(&LOG);
    let answer = ask_move(&shop, "wp-a", "engine-b", "");
    assert_eq!(before, shop.store.dump(&LOG), "nothing is moved");
    assert_eq!(answer.replaces, Some(part("wp-b")));
    assert_eq!(kinds(&answer), [(ObstacleKind::PositionTaken, false)]);
    assert!(!answer.refused);
    assert!(
        answer
            .verdict
            .starts_with("Nothing in this ledger refuses wp-a there.")
    );
    assert!(
        answer.to.risk_after >= answer.to.risk,
        "the worn one is worse"
    );
    assert!(answer.set_risk_after >= answer.set_risk);
    assert!(answer.to.later_events.p50.at_most.unwrap() <= 0.0);
    assert!(
        answer
            .leaves_behind
            .iter()
            .any(|line| line.contains("s-a has run with wp-a"))
    );
    assert!(answer.from.is_some());

    let ledger = &shop.ledger;
    ledger.remove_component(&part("wp-b"), at(4.0), "").unwrap();
    ledger
        .move_component(&part("wp-a"), &build("engine-b", "b1"), "", at(4.0), "")
        .unwrap();
    let predict = |id: &str| ledger.predict(&PredictRequest::of(part(id))).unwrap();
    let told = answer.outlook.figures.as_ref().unwrap();
    assert_eq!(told.life, predict("wp-a").life);
    assert_eq!(
        told.risk.to_bits(),
        predict("wp-a").risk_next_event.to_bits()
    );
    let survival = ["wp-a", "s-b"].map(|id| 1.0 - predict(id).risk_next_event);
    let risk = 1.0 - survival.iter().product::<f64>();
    assert!(
        (answer.to.risk_after - risk).abs() < 1e-12,
        "its reader reads it"
    );
}

#[test]
fn a_place_for_another_type_is_none() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    let spring = shop.part("s", "spring");
    place(&shop, &spring, "engine-b", "2");
    shop.installed("wp", "wear_part", "engine-a");
    let answer = ask_move(&shop, "wp", "engine-b", "2");
    assert!(answer.refused);
    assert!(kinds(&answer).contains(&(ObstacleKind::WrongType, true)));
    assert!(answer.verdict.starts_with("No: "), "{}", answer.verdict);
    let nowhere = ask_move(&shop, "wp", "engine-b", "");
    assert!(kinds(&nowhere).contains(&(ObstacleKind::WrongType, true)));
}

#[test]
fn hands_and_matched_sets_are_kept() {
    let shop = Shop::open();
    for (id, position) in [("left", "left"), ("right", "right")] {
        let name = labelled(&shop, id, ("matched_set", "pair-7"));
        place(&shop, &name, "engine-a", position);
    }
    for (id, position) in [("left-b", "left"), ("right-b", "right")] {
        let name = shop.part(id, "wear_part");
        place(&shop, &name, "engine-b", position);
    }
    shop.run("engine-a", 1.0, 300.0);
    let answer = ask_move(&shop, "left", "engine-b", "right");
    let found = kinds(&answer);
    assert!(found.contains(&(ObstacleKind::Hand, true)), "{found:?}");
    assert!(
        found.contains(&(ObstacleKind::MatchedSet, true)),
        "{found:?}"
    );
    let kept = ask_move(&shop, "left", "engine-b", "left");
    assert!(!kinds(&kept).contains(&(ObstacleKind::Hand, true)));
    // Two of its type are there: which one it takes the place of must be said.
    let ask = AskPartMove {
        component: part("left"),
        unit: unit("engine-b"),
        position: String::new(),
        event: AskedEvent {
            severity: Some(-1.0),
            ..AskedEvent::default()
        },
    };
    let refused = shop.ledger.ask_part_move(&ask).unwrap_err().to_string();
    assert!(
        refused.contains("position") && refused.contains("severity"),
        "{refused}"
    );
    let home = AskPartMove {
        unit: unit("engine-a"),
        position: "left".into(),
        event: AskedEvent::default(),
        ..ask
    };
    let refused = shop.ledger.ask_part_move(&home).unwrap_err().to_string();
    assert!(refused.contains("another unit"), "{refused}");
}

/// Unknown use counts as the end of life where no measurement tells it.
#[test]
fn an_unknown_history_ends_a_part_that_fails_by_fatigue() {
    let shop = Shop::open();
    shop.installed("wp-b", "wear_part", "engine-b");
    shop.run("engine-b", 1.0, 300.0);
    labelled(&shop, "found", ("history", "unknown"));
    let answer = ask_move(&shop, "found", "engine-b", "");
    // Its heat costs the unit and has no reading.
    assert!(answer.refused, "{answer:?}");
    assert!(kinds(&answer).contains(&(ObstacleKind::HistoryUnknown, true)));
    let mut card = wear_part();
    card.mechanisms[1] = mechanism("heat", Consequence::Nuisance, None);
    shop.activate_card(card);
    let worn = ask_move(&shop, "found", "engine-b", "");
    assert!(kinds(&worn).contains(&(ObstacleKind::HistoryUnknown, false)));
    assert!(!worn.refused);
}

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

//! Whether a part can go in another unit.

use crate::{
    fake::{mechanism, reader, wear_part},
    shop::{LOG, Shop, at, build, part, unit},
};
use ringland_host::contract::Consequence;
use ringland_ledger::{
    AskPartMove, AskedEvent, ComponentInput, ComponentName, ObstacleKind, PartMove, PredictRequest,
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

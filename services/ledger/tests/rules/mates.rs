//! What a model reads of other components in the same build.

use crate::{
    fake::{FakePlugin, reader, wear_part},
    shop::{Shop, at, build, content},
};
use std::sync::atomic::Ordering;

/// Wear of a reader of a mate, by hand: the mate's wear before the record multiplies it.
fn step(wear: f64, speed: f64, mate: f64) -> f64 {
    let load = 0.25 * 3600.0 * speed + 0.75 * 3600.0 * (0.8 * speed);
    wear + 1e-7 * load * (1.0 + 0.1 * wear) * (1.0 + mate)
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} is not {b}");
}

#[test]
fn a_record_sees_its_mate_as_it_was_just_before() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    let mate = shop.installed("wp-1", "wear_part", "engine-a");
    let spring = shop.installed("s-1", "spring", "engine-a");
    for (hour, speed) in [(1.0, 500.0), (3.0, 600.0), (5.0, 700.0)] {
        shop.run("engine-a", hour, speed);
    }
    let m1 = step(0.0, 500.0, 0.0);
    let m2 = step(m1, 600.0, 0.0);
    let by_hand = step(step(step(0.0, 500.0, 0.0), 600.0, m1), 700.0, m2);
    close(shop.wear(&spring), by_hand);
    // A late rework of the mate reaches its reader.
    shop.ledger
        .record_rework(&mate, "reface", at(4.0), "", "")
        .unwrap();
    let by_hand = step(step(step(0.0, 500.0, 0.0), 600.0, m1), 700.0, 0.25 * m2);
    close(shop.wear(&spring), by_hand);
}

#[test]
fn without_a_mate_the_default_stands_in_and_is_noted() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    let spring = shop.installed("s-1", "spring", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop.run("engine-a", 3.0, 600.0);
    let prediction = shop.predict(&spring).unwrap();
    close(
        prediction.provenance.condition["wear"],
        step(step(0.0, 500.0, 0.5), 600.0, 0.5),
    );
    let notes: Vec<&str> = prediction.notes.iter().map(|n| n.value.as_str()).collect();
    assert!(
        notes.contains(&"not known in 2 of 2 duty records"),
        "{notes:?}"
    );
    assert!(
        notes.contains(&"no wear_part is installed in the build"),
        "{notes:?}"
    );
    // One that is entered afterwards, from before the second record on, is read there.
    let mate = shop.part("wp-1", "wear_part");
    shop.ledger
        .install_component(&mate, &build("engine-a", "b1"), "", at(2.0), "")
        .unwrap();
    close(shop.wear(&spring), step(step(0.0, 500.0, 0.5), 600.0, 0.0));
}

#[test]
fn the_mate_at_the_own_position_is_read() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    let place = build("engine-a", "b1");
    let spring = shop.part("s-1", "spring");
    shop.ledger
        .install_component(&spring, &place, "2", at(0.0), "")
        .unwrap();
    for (id, position) in [("wp-1", "1"), ("wp-2", "2")] {
        let mate = shop.part(id, "wear_part");
        shop.ledger
            .install_component(&mate, &place, position, at(0.0), "")
            .unwrap();
        if position == "2" {
            shop.ledger
                .record_rework(&mate, "reface", at(1.5), "", "")
                .unwrap();
        }
    }
    shop.run("engine-a", 1.0, 500.0);
    shop.run("engine-a", 3.0, 600.0);
    // The one at position 2 was refaced between the records, the other was not.
    let refaced = 0.25 * step(0.0, 500.0, 0.0);
    close(
        shop.wear(&spring),
        step(step(0.0, 500.0, 0.0), 600.0, refaced),
    );
}

/// Two that read each other form no loop, whoever is asked first.
#[test]
fn mates_may_read_each_other() {
    let by_hand = {
        let (mut left, mut right) = (0.0, 0.0);
        for speed in [500.0, 600.0, 700.0] {
            (left, right) = (step(left, speed, right), step(right, speed, left));
        }
        left
    };
    for first in ["l-1", "r-1"] {
        let shop = Shop::open();
        shop.activate_card(reader("left", "right"));
        shop.activate_card(reader("right", "left"));
        let left = shop.installed("l-1", "left", "engine-a");
        let right = shop.installed("r-1", "right", "engine-a");
        for (hour, speed) in [(1.0, 500.0), (3.0, 600.0), (5.0, 700.0)] {
            shop.run("engine-a", hour, speed);
        }
        shop.wear(if first == "l-1" { &left } else { &right });
        close(shop.wear(&left), by_hand);
        close(shop.wear(&right), by_hand);
    }
}

/// While a mate's model fails, its reader is predicted with the default; once it is mended, from what the mate is.
#[test]
fn a_failing_mate_holds_nobody_up() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    let mended = shop.activate_card(wear_part());
    let broken = FakePlugin {
        refuses_above: 550.0,
        ..FakePlugin::of(wear_part())
    };
    let broken = shop.activate(&broken);
    shop.installed("wp-1", "wear_part", "engine-a");
    let spring = shop.installed("s-1", "spring", "engine-a");
    for (hour, speed) in [(1.0, 500.0), (3.0, 600.0), (5.0, 700.0)] {
        shop.run("engine-a", hour, speed);
    }
    let m1 = step(0.0, 500.0, 0.0);
    let prediction = shop.predict(&spring).unwrap();
    // The second record finds the mate before it; the third cannot.
    let by_hand = step(step(step(0.0, 500.0, 0.0), 600.0, m1), 700.0, 0.5);
    close(prediction.provenance.condition["wear"], by_hand);
    assert!(
        prediction.notes.iter().any(|n| n.value.contains("trapped")),
        "{:?}",
        prediction.notes
    );
    shop.ledger
        .activate_model(ringland_ledger::ModelName(mended), "")
        .unwrap();
    let m2 = step(m1, 600.0, 0.0);
    let by_hand = step(step(step(0.0, 500.0, 0.0), 600.0, m1), 700.0, m2);
    close(shop.wear(&spring), by_hand);
    assert_ne!(mended, broken);
}

/// A host that is short of memory is no ground for a default.
#[test]
fn a_host_that_is_down_is_an_error() {
    let shop = Shop::open();
    shop.activate_card(reader("spring", "wear_part"));
    shop.installed("wp-1", "wear_part", "engine-a");
    let spring = shop.installed("s-1", "spring", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    let sound = content(shop.predict(&spring).unwrap());
    shop.run("engine-a", 3.0, 500.0);
    shop.models.host_is_down.store(true, Ordering::Relaxed);
    let error = shop.predict(&spring).unwrap_err();
    assert_eq!(error.kind(), ringland_ledger::ErrorKind::Unavailable);
    shop.models.host_is_down.store(false, Ordering::Relaxed);
    assert_ne!(content(shop.predict(&spring).unwrap()), sound);
}

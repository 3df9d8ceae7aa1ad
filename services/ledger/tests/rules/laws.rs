//! Laws: what is derived follows from the log alone, in whatever order it arrived and whoever looked
//! when.

use crate::{
    fake::reader,
    shop::{Shop, at, build, content, part},
};
use proptest::prelude::*;
use ringland_ledger::{ComponentInput, LedgerOptions, Prediction};
use std::ops::ControlFlow;

/// The components: a part, a reader of it, and two that read each other.
const PARTS: [(&str, &str); 4] = [
    ("wp-1", "wear_part"),
    ("s-1", "spring"),
    ("l-1", "left"),
    ("r-1", "right"),
];

/// Something that enters the ledger.
#[derive(Clone, Debug)]
enum Entry {
    Duty {
        unit: &'static str,
        hour: u16,
        speed: f64,
    },
    Rework {
        part: usize,
        hour: u16,
    },
    Revise {
        part: usize,
        hour: u16,
        coefficient: f64,
    },
    /// The n-th installation of a part. Those of one part arrive in order.
    Place {
        part: usize,
        nth: usize,
    },
}

/// Each part is in one engine first and in the other later.
const MOVES: [(u16, u16); 4] = [(0, 40), (0, 50), (10, 45), (0, 60)];

fn engine(part: usize, nth: usize) -> &'static str {
    if (part + nth) % 3 == 2 {
        "engine-b"
    } else {
        "engine-a"
    }
}

fn shop() -> Shop {
    let shop = Shop::opened(LedgerOptions {
        samples: 8,
        fold_batch_records: 3,
        ..LedgerOptions::default()
    });
    shop.activate_card(reader("spring", "wear_part"));
    shop.activate_card(reader("left", "right"));
    shop.activate_card(reader("right", "left"));
    for (id, kind) in PARTS {
        shop.part(id, kind);
    }
    shop
}

fn enter(shop: &Shop, entry: &Entry) {
    match entry {
        Entry::Duty { unit, hour, speed } => {
            shop.run(unit, f64::from(*hour), *speed);
        }
        Entry::Rework { part: i, hour } => {
            let name = part(PARTS[*i].0);
            shop.ledger
                .record_rework(&name, "reface", at(f64::from(*hour)), "", "")
                .unwrap();
        }
        Entry::Revise {
            part: i,
            hour,
            coefficient,
        } => {
            let mut input = ComponentInput::default();
            let face = input.surfaces.entry("face".into()).or_default();
            face.properties
                .insert("wear_coefficient_m2_n".into(), *coefficient);
            let (name, mask) = (part(PARTS[*i].0), ["surfaces".to_owned()]);
            let from = Some(at(f64::from(*hour)));
            shop.ledger
                .update_component(&name, input, &mask, "", from, "")
                .unwrap();
        }
        Entry::Place { part: i, nth } => {
            let name = part(PARTS[*i].0);
            let place = build(engine(*i, *nth), "b1");
            let (first, second) = MOVES[*i];
            if *nth == 0 {
                shop.ledger
                    .install_component(&name, &place, "", at(f64::from(first)), "")
                    .unwrap();
            } else {
                shop.ledger
                    .move_component(&name, &place, "", at(f64::from(second)), "")
                    .unwrap();
            }
        }
    }
}

fn hour_of(entry: &Entry) -> (u16, u8) {
    match entry {
        Entry::Place { part, nth: 0 } => (MOVES[*part].0, 0),
        Entry::Place { part, .. } => (MOVES[*part].1, 0),
        Entry::Rework { hour, .. } => (*hour, 1),
        Entry::Revise { hour, .. } => (*hour, 2),
        Entry::Duty { hour, .. } => (*hour, 3),
    }
}

/// Installations of one part keep their order.
fn in_order(mut entries: Vec<Entry>) -> Vec<Entry> {
    for i in 0..PARTS.len() {
        let places: Vec<usize> = entries
            .iter()
            .enumerate()
            .filter(|(_, e)| matches!(e, Entry::Place { part, .. } if *part == i))
            .map(|(place, _)| place)
            .collect();
        for (nth, place) in places.into_iter().enumerate() {
            entries[place] = Entry::Place { part: i, nth };
        }
    }
    entries
}

fn entries() -> impl Strategy<Value = Vec<Entry>> {
    let hours = |n| proptest::sample::subsequence((0u16..90).collect::<Vec<_>>(), n);
    let speeds = || proptest::collection::vec(300.0..900.0f64, 12);
    let reworks = proptest::collection::btree_set((0usize..4, 0u16..90), 0..4);
    let revisions = proptest::collection::btree_map((0usize..4, 0u16..90), 0.5..4.0f64, 0..4);
    (
        hours(0..12),
        hours(0..12),
        speeds(),
        speeds(),
        reworks,
        revisions,
    )
        .prop_flat_map(|(in_a, in_b, fast_a, fast_b, reworks, revisions)| {
            let mut all: Vec<Entry> = (0..PARTS.len())
                .flat_map(|part| [0, 1].map(|nth| Entry::Place { part, nth }))
                .collect();
            for (unit, hours, speeds) in [("engine-a", in_a, fast_a), ("engine-b", in_b, fast_b)] {
                let duty = hours.into_iter().zip(speeds);
                all.extend(duty.map(|(hour, speed)| Entry::Duty { unit, hour, speed }));
            }
            all.extend(
                reworks
                    .into_iter()
                    .map(|(part, hour)| Entry::Rework { part, hour }),
            );
            all.extend(
                revisions
                    .into_iter()
                    .map(|((part, hour), coefficient)| Entry::Revise {
                        part,
                        hour,
                        coefficient,
                    }),
            );
            Just(all).prop_shuffle().prop_map(in_order)
        })
}

fn all(shop: &Shop) -> Vec<Prediction> {
    PARTS
        .iter()
        .map(|(id, _)| content(shop.predict(&part(id)).unwrap()))
        .collect()
}

proptest! {
    #[test]
    fn the_order_of_arrival_leaves_no_trace(
        entries in entries(),
        looks in proptest::collection::vec(proptest::option::of(0usize..4), 60),
    ) {
        let (shuffled, ordered) = (shop(), shop());
        for (entry, look) in entries.iter().zip(looks.iter().chain(std::iter::repeat(&None))) {
            enter(&shuffled, entry);
            if let Some(i) = look {
                shuffled.predict(&part(PARTS[*i].0)).unwrap();
            }
        }
        let mut sorted = entries;
        sorted.sort_by_key(hour_of);
        for entry in &sorted {
            enter(&ordered, entry);
        }
        // Whoever is asked first, too.
        let backwards: Vec<Prediction> =
            PARTS.iter().rev().map(|(id, _)| content(ordered.predict(&part(id)).unwrap())).collect();
        let expected: Vec<Prediction> = backwards.into_iter().rev().collect();
        prop_assert_eq!(&all(&shuffled), &expected);
        shuffled.ledger.rebuild_conditions(None, &mut |_| ControlFlow::Continue(())).unwrap();
        prop_assert_eq!(&all(&shuffled), &expected);
    }
}

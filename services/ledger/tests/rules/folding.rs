//! Which duty a component has seen, and what late news does.

use crate::{
    fake::{FakePlugin, wear_part},
    shop::{Shop, at, build, content, log, page, part},
};
use ringland_ledger::{ComponentInput, ErrorKind, Reason, RebuildProgress};
use ringland_store::{Store, Table};
use std::{ops::ControlFlow, sync::atomic::Ordering};

/// The fake's wear by hand: each hour adds `1e-7 x 3600 x 0.85 x speed x (1 + 0.1 w)`.
fn wear_by_hand(speeds: &[f64]) -> f64 {
    speeds.iter().fold(0.0, |wear, speed| {
        wear + 1e-7 * (0.25 * 3600.0 * speed + 0.75 * 3600.0 * (0.8 * speed)) * (1.0 + 0.1 * wear)
    })
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} is not {b}");
}

#[test]
fn only_duty_that_starts_while_installed_counts() {
    let shop = Shop::open();
    let name = shop.part("wp-1", "wear_part");
    let (a, b) = (build("engine-a", "b1"), build("engine-b", "b1"));
    for hour in 0..6 {
        shop.run("engine-a", f64::from(hour), 500.0 + f64::from(hour));
        shop.run("engine-b", f64::from(hour), 600.0 + f64::from(hour));
    }
    // From the start of a record (in) to the start of another (out), then to the other engine.
    shop.ledger
        .install_component(&name, &a, "", at(1.0), "")
        .unwrap();
    close(
        shop.wear(&name),
        wear_by_hand(&[501.0, 502.0, 503.0, 504.0, 505.0]),
    );
    shop.ledger
        .move_component(&name, &b, "", at(3.0), "")
        .unwrap();
    close(
        shop.wear(&name),
        wear_by_hand(&[501.0, 502.0, 603.0, 604.0, 605.0]),
    );
    shop.ledger.remove_component(&name, at(4.5), "").unwrap();
    let prediction = shop.predict(&name).unwrap();
    close(
        prediction.provenance.condition["wear"],
        wear_by_hand(&[501.0, 502.0, 603.0, 604.0]),
    );
    assert_eq!(prediction.usage.duty_records, 4);
    close(prediction.usage.hours, 4.0);
    close(prediction.usage.events, 2.0);
    assert_eq!(prediction.as_of_time, Some(at(5.0)));
}

#[test]
fn a_used_component_begins_where_it_is() {
    let shop = Shop::open();
    let mut input = ComponentInput {
        component_type: "wear_part".into(),
        ..ComponentInput::default()
    };
    input.opening_condition.insert("wear".into(), 0.25);
    let name = shop
        .ledger
        .create_component("wp-1", input, "")
        .unwrap()
        .name;
    close(shop.wear(&name), 0.25);
}

#[test]
fn a_late_record_a_late_rework_and_a_late_revision_are_folded_in() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop.run("engine-a", 5.0, 700.0);
    close(shop.wear(&name), wear_by_hand(&[500.0, 700.0]));
    shop.run("engine-a", 3.0, 600.0);
    close(shop.wear(&name), wear_by_hand(&[500.0, 600.0, 700.0]));
    shop.ledger
        .record_rework(&name, "reface", at(3.0), "", "")
        .unwrap();
    let refaced = 0.25 * wear_by_hand(&[500.0]);
    let step = |wear: f64, speed: f64, k: f64| {
        let load = 0.25 * 3600.0 * speed + 0.75 * 3600.0 * (0.8 * speed);
        wear + 1e-7 * k * load * (1.0 + 0.1 * wear)
    };
    close(
        shop.wear(&name),
        step(step(refaced, 600.0, 1.0), 700.0, 1.0),
    );
    let mut input = ComponentInput::default();
    let face = input.surfaces.entry("face".into()).or_default();
    face.properties.insert("wear_coefficient_m2_n".into(), 2.0);
    let mask = ["surfaces".to_owned()];
    let without_time = shop
        .ledger
        .update_component(&name, input.clone(), &mask, "", None, "");
    assert_eq!(
        without_time.unwrap_err().violations()[0].field,
        "effective_time"
    );
    let updated = shop
        .ledger
        .update_component(&name, input, &mask, "", Some(at(5.0)), "nitrided");
    close(
        updated.unwrap().surfaces["face"].properties["wear_coefficient_m2_n"],
        2.0,
    );
    close(
        shop.wear(&name),
        step(step(refaced, 600.0, 1.0), 700.0, 2.0),
    );
    let revisions = shop
        .ledger
        .list_revisions(&name, &page(0, ""))
        .unwrap()
        .items;
    assert_eq!(
        revisions
            .iter()
            .map(|r| r.effective_time)
            .collect::<Vec<_>>(),
        [None, Some(at(5.0))]
    );
    assert_eq!(
        shop.ledger
            .list_reworks(&name, &page(0, ""))
            .unwrap()
            .items
            .len(),
        1
    );
}

#[test]
fn a_rework_that_the_model_does_not_know_is_refused() {
    let shop = Shop::open();
    let name = shop.part("wp-1", "wear_part");
    let error = shop
        .ledger
        .record_rework(&name, "polish", at(1.0), "", "")
        .unwrap_err();
    assert!(error.to_string().contains("reface"), "{error}");
    shop.ledger
        .record_rework(&name, "reface", at(1.0), "", "")
        .unwrap();
    let twice = shop
        .ledger
        .record_rework(&name, "reface", at(1.0), "", "")
        .unwrap_err();
    assert_eq!(twice.reason(), Reason::ResourceExists);
}

/// Rows after a late record are made again, those before it are not.
#[test]
fn late_news_costs_what_comes_after_it() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    for hour in 0..40 {
        shop.run("engine-a", 2.0 * f64::from(hour), 500.0);
    }
    shop.wear(&name);
    shop.run("engine-a", 75.0, 500.0);
    let before = shop.store.counts();
    shop.wear(&name);
    let after = shop.store.counts();
    // Three rows (75, 76, 78 h), the state, the prediction's three rows, and two stale rows dropped.
    assert!(after[3] - before[3] <= 10, "{before:?} {after:?}");
}

#[test]
fn a_rebuild_gives_the_same_bits() {
    let shop = Shop::open();
    let names = ["wp-1", "wp-2"].map(|id| shop.installed(id, "wear_part", "engine-a"));
    for hour in 0..10 {
        shop.run("engine-a", f64::from(hour), 500.0 + f64::from(hour));
        shop.wear(&names[0]);
    }
    shop.ledger
        .record_rework(&names[0], "reface", at(4.0), "", "")
        .unwrap();
    let before: Vec<_> = names
        .iter()
        .map(|name| content(shop.predict(name).unwrap()))
        .collect();
    let rows = |shop: &Shop| {
        let rows = shop
            .store
            .inner
            .scan(Table::Conditions, b"c\0", None, usize::MAX)
            .unwrap();
        (rows.len(), rows)
    };
    let chain = rows(&shop);
    let mut told: Vec<RebuildProgress> = Vec::new();
    shop.ledger
        .rebuild_conditions(None, &mut |progress| {
            told.push(progress);
            ControlFlow::Continue(())
        })
        .unwrap();
    assert_eq!(
        told.iter().map(|p| (p.done, p.total)).collect::<Vec<_>>(),
        [(1, 2), (2, 2)]
    );
    assert!(told.iter().all(|p| p.error.is_none()));
    assert_eq!(rows(&shop), chain);
    assert_eq!(shop.ledger.status().unwrap().predictions, 0);
    let after: Vec<_> = names
        .iter()
        .map(|name| content(shop.predict(name).unwrap()))
        .collect();
    assert_eq!(after, before);
}

/// Dropped behind the ledger's back, all of the derived tables come back.
#[test]
fn derived_tables_can_be_lost() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    for hour in 0..10 {
        shop.run("engine-a", f64::from(hour), 500.0 + f64::from(hour));
    }
    let before = content(shop.predict(&name).unwrap());
    for table in [Table::Conditions, Table::Predictions] {
        for (key, _) in shop.store.inner.scan(table, b"", None, usize::MAX).unwrap() {
            shop.store
                .inner
                .commit(&ringland_store::Batch::new().delete(table, key))
                .unwrap();
        }
    }
    assert_eq!(content(shop.predict(&name).unwrap()), before);
}

#[test]
fn a_rebuild_stops_when_told_to() {
    let shop = Shop::open();
    for id in ["wp-1", "wp-2", "wp-3"] {
        shop.part(id, "wear_part");
    }
    let mut calls = 0;
    let progress = &mut |_| {
        calls += 1;
        ControlFlow::Break(())
    };
    shop.ledger.rebuild_conditions(None, progress).unwrap();
    assert_eq!(calls, 1);
}

/// The records before a bad one count, the bad one is named, and nobody else is held up.
#[test]
fn a_failing_plugin_costs_its_own_component() {
    let shop = Shop::open();
    let mut card = wear_part();
    card.component_type = "fragile".into();
    shop.activate(&FakePlugin {
        refuses_above: 550.0,
        ..FakePlugin::of(card)
    });
    let fragile = shop.installed("f-1", "fragile", "engine-a");
    let sound = shop.installed("wp-1", "wear_part", "engine-a");
    for (hour, speed) in [(0.0, 500.0), (1.0, 510.0), (2.0, 600.0), (3.0, 520.0)] {
        shop.run("engine-a", hour, speed);
    }
    let error = shop.predict(&fragile).unwrap_err();
    assert_eq!(
        (error.kind(), error.reason()),
        (ErrorKind::FailedPrecondition, Reason::ModelFailed)
    );
    assert!(error.to_string().contains("20260101t020000z"), "{error}");
    shop.predict(&sound).unwrap();
    let rows = shop
        .store
        .inner
        .scan(Table::Conditions, b"c\0f-1\0", None, 100)
        .unwrap();
    assert_eq!(rows.len(), 2);
    // Asked again, it goes on from there.
    let before = shop.models.advances.load(Ordering::Relaxed);
    shop.predict(&fragile).unwrap_err();
    let tries = shop.models.advances.load(Ordering::Relaxed) - before;
    assert_eq!(tries, 2, "the two records left, then the bad one alone");
}

#[test]
fn a_log_without_a_required_channel_is_named() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let mut record = log("engine-a", "r-1", 1.0, 500.0);
    record.duty.channels[0] = "oil_pressure_pa".into();
    shop.ledger.record_duty(record).unwrap();
    let error = shop.predict(&name).unwrap_err();
    assert_eq!(error.reason(), Reason::ChannelMissing);
    assert!(error.to_string().contains("engine_speed_rad_s"), "{error}");
    assert!(shop.predict(&part("wp-9")).is_err());
}

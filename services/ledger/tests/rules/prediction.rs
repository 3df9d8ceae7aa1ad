//! Predictions: profiles, readings, notes, storage.

use crate::{
    fake::{FakePlugin, wear_part},
    shop::{Shop, at, build, page, profile, steady},
};
use ringland_ledger::{
    Action, ComponentInput, ErrorKind, LedgerOptions, PredictRequest, ProfileInput, Reason,
    UnitInput,
};
use std::sync::atomic::Ordering;

#[test]
fn a_prediction_says_what_it_rests_on() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let record = shop.run("engine-a", 1.0, 500.0).duty_record;
    let prediction = shop
        .ledger
        .predict(&PredictRequest::of(name.clone()))
        .unwrap();
    assert_eq!(prediction.build, Some(build("engine-a", "b1")));
    assert_eq!(prediction.profile, profile("race"));
    assert_eq!(prediction.provenance.last_duty_record, Some(record.name));
    assert_eq!(prediction.cautions, ["a measured limit comes first"]);
    assert_eq!(prediction.leaves_out, ["everything but wear"]);
    assert_eq!(
        prediction.mechanisms[0].rate.evidence,
        "model prior; no inspection of this shop yet"
    );
    // Hours and turns are events times those of the profile: 2 h, 2 h x 680 rad/s.
    let life = prediction.life;
    assert!((life.hours.p50 - 2.0 * life.events.p50).abs() < 1e-9);
    let turns = 7200.0 * 680.0 / std::f64::consts::TAU;
    let counted = life.crank_revolutions.unwrap().p50;
    assert!((counted / (life.events.p50 * turns) - 1.0).abs() < 1e-12);
    assert!(life.events.p05 < life.events.p50 && life.events.p50 < life.events.p95);
    // Wear only: the heat of the fake is far from its limit.
    assert_eq!(prediction.limiting_mechanism, "wear");
    assert!((prediction.limiting_probability - 1.0).abs() < 1e-12);
    let heat = &prediction.mechanisms[1].life.events;
    assert!((heat.p05 - 200.0).abs() < 1e-12, "at least the horizon");
    let reading = &prediction.readings[0];
    assert_eq!(
        reading.ahead.iter().map(|a| a.events).collect::<Vec<_>>(),
        [1.0, 2.0, 4.0, 8.0, 16.0]
    );
    assert!(reading.probability_past_limit.unwrap() < 1e-12);
    let absent = prediction
        .notes
        .iter()
        .find(|n| n.field == "duty.oil_temp_k")
        .unwrap();
    assert_eq!(absent.value, "absent from 1 of 1 duty records");
    assert!(
        prediction
            .notes
            .iter()
            .any(|n| n.field == "profiles/race.oil_temp_k")
    );
    assert_eq!(prediction.advice.action, Action::Run);
    assert!(prediction.advice.within_events <= life.events.p05);
}

#[test]
fn drivers_are_in_words() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let drivers = shop
        .predict(&name)
        .unwrap()
        .mechanisms
        .swap_remove(0)
        .drivers;
    // 800 rad/s is 7639 rpm for a quarter of the time, 640 rad/s is 6112 rpm for the rest.
    let said: Vec<(&str, f64, Option<f64>)> = drivers
        .iter()
        .map(|d| (d.label.as_str(), d.share, d.time_share))
        .collect();
    assert_eq!(
        said,
        [
            ("shock: engine start", 0.5, None),
            ("6000-6500 rpm, 100 to 150 N.m", 0.375, Some(0.75)),
            ("7500-8000 rpm, 300 to 350 N.m", 0.125, Some(0.25)),
        ]
    );
}

#[test]
fn a_profile_comes_from_the_call_or_the_unit() {
    let shop = Shop::open();
    let name = shop.part("wp-1", "wear_part");
    let nowhere = shop
        .ledger
        .predict(&PredictRequest::of(name.clone()))
        .unwrap_err();
    assert_eq!(
        (nowhere.kind(), nowhere.reason()),
        (ErrorKind::FailedPrecondition, Reason::ProfileMissing)
    );
    let on_the_shelf = shop.predict(&name).unwrap();
    assert_eq!(on_the_shelf.build, None);
    assert!(
        on_the_shelf
            .notes
            .iter()
            .any(|n| n.field == "installed_build")
    );
    shop.ledger
        .install_component(&name, &build("engine-a", "b1"), "", at(0.0), "")
        .unwrap();
    shop.ledger
        .predict(&PredictRequest::of(name.clone()))
        .unwrap();
    let mask = ["event_profile".to_owned()];
    let engine = build("engine-a", "b1").parent();
    shop.ledger
        .update_unit(&engine, UnitInput::default(), &mask, "")
        .unwrap();
    let without = shop
        .ledger
        .predict(&PredictRequest::of(name.clone()))
        .unwrap_err();
    assert!(without.to_string().contains("units/engine-a"), "{without}");
    let unknown = PredictRequest {
        profile: Some(profile("none")),
        ..PredictRequest::of(name)
    };
    assert_eq!(
        shop.ledger.predict(&unknown).unwrap_err().kind(),
        ErrorKind::NotFound
    );
}

#[test]
fn a_profile_of_little_data_is_noted() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let record = shop.run("engine-a", 1.0, 500.0).duty_record.name;
    let input = ProfileInput {
        duty_records: vec![record],
        ..ProfileInput::default()
    };
    shop.ledger.create_profile("one", input, "").unwrap();
    let request = PredictRequest {
        profile: Some(profile("one")),
        ..PredictRequest::of(name)
    };
    let prediction = shop.ledger.predict(&request).unwrap();
    assert!(
        prediction
            .notes
            .iter()
            .any(|n| n.value == "made from 0.5 events")
    );
}

#[test]
fn the_same_prediction_is_stored_once() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let first = shop.predict(&name).unwrap();
    assert_eq!(shop.predict(&name).unwrap(), first);
    assert_eq!(shop.models.forecasts.load(Ordering::Relaxed), 1);
    assert_eq!(first.name.to_string(), "components/wp-1/predictions/1");
    shop.run("engine-a", 1.0, 500.0);
    let second = shop.predict(&name).unwrap();
    assert_eq!(second.name.prediction(), "2");
    let list = shop
        .ledger
        .list_predictions(&name, &page(0, ""))
        .unwrap()
        .items;
    assert_eq!(list, [second.clone(), first], "newest first");
    assert_eq!(shop.ledger.get_prediction(&second.name).unwrap(), second);
}

#[test]
fn the_oldest_predictions_make_room() {
    let shop = Shop::opened(LedgerOptions {
        samples: 16,
        max_predictions_per_component: 3,
        ..LedgerOptions::default()
    });
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let mut first = None;
    for hour in 0..6 {
        shop.run("engine-a", f64::from(hour), 500.0);
        first.get_or_insert(shop.predict(&name).unwrap().name);
    }
    let list = shop
        .ledger
        .list_predictions(&name, &page(0, ""))
        .unwrap()
        .items;
    let numbers: Vec<&str> = list.iter().map(|p| p.name.prediction()).collect();
    assert_eq!(numbers, ["6", "5", "4"]);
    let gone = shop.ledger.get_prediction(&first.unwrap()).unwrap_err();
    assert_eq!(gone.kind(), ErrorKind::NotFound);
    assert_eq!(shop.ledger.status().unwrap().predictions, 3);
}

#[test]
fn in_a_batch_what_fails_fails_alone() {
    let shop = Shop::opened(LedgerOptions {
        samples: 16,
        max_batch: 3,
        ..LedgerOptions::default()
    });
    let mut card = wear_part();
    card.component_type = "trap".into();
    shop.activate(&FakePlugin {
        traps: true,
        ..FakePlugin::of(card)
    });
    let good = shop.installed("wp-1", "wear_part", "engine-a");
    let bad = shop.installed("t-1", "trap", "engine-a");
    let requests = [&good, &bad, &good].map(|name| PredictRequest::of(name.clone()));
    let results = shop.ledger.batch_predict(&requests).unwrap();
    assert!(results[0].is_ok() && results[2].is_ok());
    assert_eq!(
        results[1].as_ref().unwrap_err().reason(),
        Reason::ModelFailed
    );
    let many = vec![PredictRequest::of(good); 4];
    assert_eq!(
        shop.ledger.batch_predict(&many).unwrap_err().kind(),
        ErrorKind::ResourceExhausted
    );
}

#[test]
fn bad_times_ahead_are_refused() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let ask = |ahead_events: Vec<f64>| {
        shop.ledger.predict(&PredictRequest {
            ahead_events,
            ..PredictRequest::of(name.clone())
        })
    };
    let error = ask(vec![1.0, f64::NAN, -1.0]).unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["ahead_events[1]", "ahead_events[2]"]);
    assert!(ask(vec![1.0; 65]).is_err());
    let ahead = ask(vec![4.0, 2.0, 2.0, 0.0])
        .unwrap()
        .readings
        .swap_remove(0)
        .ahead;
    assert_eq!(
        ahead.iter().map(|a| a.events).collect::<Vec<_>>(),
        [2.0, 4.0]
    );
}

#[test]
fn a_worn_part_is_replaced() {
    let shop = Shop::open();
    let mut input = ComponentInput {
        component_type: "wear_part".into(),
        ..ComponentInput::default()
    };
    input.opening_condition.insert("wear".into(), 1.2);
    let name = shop
        .ledger
        .create_component("wp-1", input, "")
        .unwrap()
        .name;
    let prediction = shop.predict(&name).unwrap();
    assert_eq!(prediction.advice.action, Action::Replace);
    assert!((prediction.life.events.p95).abs() < 1e-15);
    assert!(prediction.readings[0].probability_past_limit.unwrap() > 0.99);
    assert!((prediction.risk_next_event - 1.0).abs() < 1e-12);
}

#[test]
fn status_counts() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop.run("engine-b", 1.0, 500.0);
    shop.predict(&name).unwrap();
    let status = shop.ledger.status().unwrap();
    let counts = (
        status.units,
        status.components,
        status.duty_records,
        status.predictions,
    );
    assert_eq!(counts, (2, 1, 2, 1));
    shop.profile("test-day", steady(1.0, 100.0));
}

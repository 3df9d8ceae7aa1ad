//! How power fades.

use crate::{
    fake::{FakePlugin, reading, wear_part},
    shop::{Shop, at, log, part, unit},
};
use ringland_host::contract::LimitSide;
use ringland_ledger::{AirCorrection, AssessPowerFade, ComponentInput, PowerPull, Reason};

/// A wear part that costs power: its first slot is the share lost.
pub(super) fn with_power() -> Shop {
    let shop = Shop::open();
    let mut card = wear_part();
    card.component_type = "power_part".into();
    card.readings = vec![reading("power_loss_fraction", "1", LimitSide::Unlimited)];
    card.mechanisms[0].reading = None;
    shop.activate(&FakePlugin {
        rate: 1e-9,
        ..FakePlugin::of(card)
    });
    for (id, kind) in [("rings", "power_part"), ("plates", "wear_part")] {
        let input = ComponentInput {
            component_type: kind.into(),
            ..ComponentInput::default()
        };
        shop.ledger.create_component(id, input, "").unwrap();
        let build = crate::shop::build("engine-a", "b1");
        shop.ledger
            .install_component(&part(id), &build, "", at(0.0), "")
            .unwrap();
    }
    for hour in 0..4 {
        let id = format!("log-{hour}");
        shop.ledger
            .record_duty(log("engine-a", &id, 1.0 + 2.0 * f64::from(hour), 800.0))
            .unwrap();
    }
    shop
}

pub(super) fn fade(pulls: Vec<PowerPull>) -> AssessPowerFade {
    AssessPowerFade {
        unit: unit("engine-a"),
        profile: None,
        pulls,
        baseline_power_w: None,
        loss_limit_fraction: None,
        correction: None,
        engine_factor: None,
        sd_relative: None,
    }
}

pub(super) fn pull(events: f64, power_w: f64) -> PowerPull {
    PowerPull {
        events: Some(events),
        power_w,
        ..PowerPull::default()
    }
}

#[test]
fn fade_adds_what_parts_predict_and_says_who_is_left_out() {
    let shop = with_power();
    let found = shop.ledger.assess_power_fade(&fade(Vec::new())).unwrap();
    // Four hours of two-hour events.
    assert!(
        (found.age_events - 2.0).abs() < 1e-9,
        "{}",
        found.age_events
    );
    let predicted = found.predicted.unwrap();
    assert_eq!(predicted.components.len(), 1);
    assert!(predicted.loss_fraction_now.p50 > 0.0);
    let rate = predicted.ahead[0].value.p50 - predicted.loss_fraction_now.p50;
    let expected = (0.02 - predicted.loss_fraction_now.p50) / rate;
    assert!(
        (predicted.events_to_limit.p50 / expected - 1.0).abs() < 1e-6,
        "{:?} {expected}",
        predicted.events_to_limit
    );
    assert_eq!(found.left_out.len(), 1);
    assert!(found.left_out[0].contains("plates"), "{:?}", found.left_out);
    assert!(found.measured.is_none() && found.comparison.is_none());
}

#[test]
fn measured_loss_beyond_the_parts_is_unexplained_and_its_age_comes_from_the_records() {
    let shop = with_power();
    let by_time = |hours: f64, power_w: f64| PowerPull {
        time: Some(at(hours)),
        power_w,
        ..PowerPull::default()
    };
    let found = shop
        .ledger
        .assess_power_fade(&fade(vec![
            by_time(20.0, 2.85e5),
            by_time(0.5, 3e5),
            by_time(4.5, 2.92e5),
        ]))
        .unwrap();
    let ages: Vec<f64> = found.pulls.iter().map(|pull| pull.events).collect();
    assert_eq!(ages, [0.0, 1.0, 2.0]);
    let measured = found.measured.unwrap();
    assert!(
        (measured.loss_fraction_now.p50 - 0.05).abs() < 0.005,
        "{measured:?}"
    );
    assert!(measured.events_to_limit.p50 < 1e-9, "past it");
    let comparison = found.comparison.unwrap();
    assert!(
        comparison.unexplained && comparison.more_probability > 0.99,
        "{comparison:?}"
    );
    assert!(found.text.contains("valve sealing"), "{}", found.text);
    // Nothing was learnt: the prediction is as it was.
    let before = with_power()
        .ledger
        .assess_power_fade(&fade(Vec::new()))
        .unwrap()
        .predicted
        .unwrap();
    assert_eq!(
        found.predicted.unwrap().loss_fraction_now,
        before.loss_fraction_now
    );
}

#[test]
fn power_is_brought_to_reference_air_by_the_law_asked_for() {
    let shop = with_power();
    let in_air = PowerPull {
        air_pressure_pa: Some(95_000.0),
        air_temp_k: Some(308.0),
        ..pull(0.0, 3e5)
    };
    let missing = shop
        .ledger
        .assess_power_fade(&fade(vec![in_air]))
        .unwrap_err();
    assert_eq!(missing.violations()[0].field, "correction");
    let mut call = fade(vec![in_air, pull(1.0, 3e5)]);
    call.correction = Some(AirCorrection::SparkIgnition);
    let found = shop.ledger.assess_power_fade(&call).unwrap();
    // (99/95)^1.2 (308/298)^0.6, by hand.
    assert!(
        (found.pulls[0].correction_factor - 1.0717).abs() < 3e-4,
        "{}",
        found.pulls[0].correction_factor
    );
    let fields: Vec<&str> = found.findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        ["pulls.correction_factor", "pulls.correction_factor"],
        "outside, and not alike"
    );
}

#[test]
fn a_call_about_power_is_checked_as_a_whole() {
    let shop = with_power();
    let mut call = fade(vec![
        PowerPull {
            power_w: 300.0,
            ..PowerPull::default()
        },
        pull(1.0, 1.0),
    ]);
    call.sd_relative = Some(2.0);
    let error = shop.ledger.assess_power_fade(&call).unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(
        fields,
        ["pulls[0].events", "pulls[1].power_w", "sd_relative"]
    );
    let mut nowhere = fade(Vec::new());
    nowhere.unit = unit("engine-z");
    assert_eq!(
        shop.ledger
            .assess_power_fade(&nowhere)
            .unwrap_err()
            .reason(),
        Reason::ResourceNotFound
    );
}

//! Inspections: what moves, what overrules, what is refused.

mod batch;
mod learnt;
mod overruled;
mod refused;
mod unlikely;

use crate::{
    fake::{FakePlugin, reading, wear_part},
    shop::{Shop, at},
};
use jiff::Timestamp;
use ringland_host::contract::{Card, LimitSide};
use ringland_ledger::{
    ComponentName, CrackCheck, CrackMethod, CrackResult, ExplainInspection, Explanation,
    InspectionInput, InspectionName, LedgerOptions, MeasuredReading, RecordInspectionResponse,
};

/// A wear part whose reading informs the wear, and which may leak.
fn card() -> Card {
    let mut card = wear_part();
    card.readings[0].informs = Some("wear".into());
    card.readings[0].instrument_sd = 0.01;
    let mut leak = reading("leak_down_fraction", "1", LimitSide::Unlimited);
    leak.instrument_sd = 0.01;
    leak.informs = Some("heat".into());
    card.readings.push(leak);
    card.mechanisms[0].rate_ln_sd = 0.45;
    card
}

/// A shop whose wear part shows the rate and nothing but the rate, after one hour of use.
fn shop() -> (Shop, ComponentName) {
    let options = LedgerOptions {
        samples: 256,
        ..LedgerOptions::default()
    };
    let shop = Shop::opened(options);
    shop.activate(&FakePlugin {
        spread: 0.0,
        ..FakePlugin::of(card())
    });
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    (shop, name)
}

fn line(value: f64, sd: f64) -> MeasuredReading {
    MeasuredReading {
        reading: "wear_depth".into(),
        value,
        instrument: "gauge".into(),
        instrument_id: "gauge-1".into(),
        instrument_sd: Some(sd),
        ..MeasuredReading::default()
    }
}

fn input(time: Timestamp, readings: Vec<MeasuredReading>) -> InspectionInput {
    InspectionInput {
        inspection_time: Some(time),
        inspected_by: "builder".into(),
        readings,
        ..InspectionInput::default()
    }
}

fn record(
    shop: &Shop,
    name: &ComponentName,
    hours: f64,
    lines: Vec<MeasuredReading>,
) -> RecordInspectionResponse {
    let recorded = shop
        .ledger
        .record_inspection(name, input(at(hours), lines), "");
    recorded.unwrap()
}

fn look(result: CrackResult, a90_m: Option<f64>) -> CrackCheck {
    CrackCheck {
        method: CrackMethod::WetFluorescentMagneticParticle,
        mechanisms: Vec::new(),
        result,
        indication_length_m: None,
        a90_m,
        note: String::new(),
    }
}

fn looked(shop: &Shop, name: &ComponentName, hours: f64, check: CrackCheck) {
    let input = InspectionInput {
        crack_checks: vec![check],
        ..input(at(hours), Vec::new())
    };
    shop.ledger.record_inspection(name, input, "").unwrap();
}

fn explain(shop: &Shop, inspection: &InspectionName, explanation: Explanation) {
    let explain = ExplainInspection {
        name: inspection.clone(),
        reading: "wear_depth".into(),
        position: String::new(),
        explanation,
        by: "builder".into(),
        reason: "seen at the part".into(),
    };
    shop.ledger.explain_inspection(&explain, "").unwrap();
}

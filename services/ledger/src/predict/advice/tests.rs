//! Each rule, and which of two wins.

use super::*;
use crate::{Quantiles, RateBelief, RemainingLife};
use ringland_host::contract::{DutyNeed, LimitSide};

fn gap(name: &str) -> ReadingField {
    ReadingField {
        name: name.into(),
        label: "end gap of the ring".into(),
        unit: "m".into(),
        limit_side: LimitSide::Above,
        limit_source: String::new(),
        instrument: "feeler gauge".into(),
        instrument_sd: 1e-5,
        instrument_sd_relative: 0.0,
        informs: None,
    }
}

fn card(consequence: Consequence, reading: Option<&str>) -> Card {
    Card {
        component_type: "part".into(),
        label: String::new(),
        version: "1.0.0".into(),
        description: String::new(),
        numbers: Vec::new(),
        choices: Vec::new(),
        tables: Vec::new(),
        surfaces: Vec::new(),
        condition: Vec::new(),
        readings: reading.map(gap).into_iter().collect(),
        mechanisms: vec![Mechanism {
            name: "wear".into(),
            label: "wear".into(),
            consequence,
            life_ends_when: String::new(),
            reading: reading.map(Into::into),
            rate_ln_sd: 0.3,
        }],
        duty: DutyNeed::default(),
        operations: Vec::new(),
        constants: Vec::new(),
        references: Vec::new(),
        leaves_out: Vec::new(),
        cautions: Vec::new(),
    }
}

fn mechanism(consequence: Consequence, risk: f64, p05: f64) -> MechanismPrediction {
    let events = Quantiles {
        p05,
        p50: 2.0 * p05,
        p95: 3.0 * p05,
    };
    MechanismPrediction {
        mechanism: "wear".into(),
        label: "wear".into(),
        consequence,
        life_ends_when: String::new(),
        life: RemainingLife {
            events,
            horizon_events: 200.0,
            ..RemainingLife::default()
        },
        risk_next_event: risk,
        first_probability: 1.0,
        drivers: Vec::new(),
        rate: RateBelief {
            median: 1.0,
            ln_sd: 0.3,
            evidence: String::new(),
            layers: Vec::new(),
            instrument_biases: Vec::new(),
            unproven: String::new(),
        },
    }
}

fn past(probability: f64) -> ReadingPrediction {
    ReadingPrediction {
        reading: "gap".into(),
        label: "end gap".into(),
        unit: "m".into(),
        now: Quantiles::default(),
        limit: Some(1e-3),
        limit_side: LimitSide::Above,
        limit_source: String::new(),
        probability_past_limit: Some(probability),
        instrument: String::new(),
        instrument_sd: 0.0,
        ahead: Vec::new(),
    }
}

fn advice(consequence: Consequence, reading: Option<&str>, risk: f64, probability: f64) -> Advice {
    let mechanisms = [mechanism(consequence, risk, 10.0)];
    advise(
        &card(consequence, reading),
        &mechanisms,
        &[past(probability)],
        &RiskCaps::default(),
    )
}

#[test]
fn a_reading_past_its_limit_stops_or_replaces() {
    use Consequence::{Hazard, Nuisance, PowerLoss, UnitLoss};
    for (consequence, action) in [
        (Nuisance, Action::Replace),
        (PowerLoss, Action::Replace),
        (UnitLoss, Action::Stop),
        (Hazard, Action::Stop),
    ] {
        let advice = advice(consequence, Some("gap"), 0.0, 0.51);
        assert_eq!(advice.action, action, "{consequence:?}");
        assert_eq!(advice.reading, "gap");
        assert!(advice.text.contains("51.0 %"), "{}", advice.text);
    }
    assert_eq!(advice(Hazard, Some("gap"), 0.0, 0.5).action, Action::Run);
}

#[test]
fn a_risk_over_its_cap_measures_or_replaces() {
    use Consequence::{Hazard, Nuisance, PowerLoss, UnitLoss};
    for (consequence, cap) in [
        (Nuisance, 0.49),
        (PowerLoss, 0.2),
        (UnitLoss, 0.02),
        (Hazard, 0.001),
    ] {
        let below = advice(consequence, Some("gap"), cap * 0.99, 0.0);
        assert_eq!(below.action, Action::Run, "{consequence:?}");
        if consequence != Nuisance {
            assert_eq!(
                advice(consequence, Some("gap"), cap, 0.0).action,
                Action::Measure
            );
            assert_eq!(advice(consequence, None, cap, 0.0).action, Action::Replace);
        }
    }
    assert_eq!(
        advice(Nuisance, Some("gap"), 0.5, 0.0).action,
        Action::Replace
    );
    assert_eq!(advice(Hazard, Some("gap"), 0.5, 0.0).action, Action::Stop);
}

/// 0.02 = 1 - (1 - 0.001)^n for n = ln 0.98 / ln 0.999 = 20.19.
#[test]
fn running_on_ends_at_the_cap_or_at_the_fifth_percentile() {
    let run = |risk: f64, p05: f64| {
        let consequence = Consequence::UnitLoss;
        let mechanisms = [mechanism(consequence, risk, p05)];
        advise(
            &card(consequence, None),
            &mechanisms,
            &[],
            &RiskCaps::default(),
        )
    };
    assert!((run(0.001, 50.0).within_events - 20.192_6).abs() < 1e-3);
    assert!((run(0.001, 8.0).within_events - 8.0).abs() < 1e-12);
    assert!((run(0.0, 50.0).within_events - 50.0).abs() < 1e-12);
    assert!(run(0.001, 8.0).text.contains("8.00 events"));
}

#[test]
fn figures_have_three_places() {
    for (value, text) in [
        (0.0, "0"),
        (12.345, "12.3"),
        (0.012_34, "0.0123"),
        (1234.0, "1234"),
        (1e-6, "1.00e-6"),
    ] {
        assert_eq!(figure(value), text);
    }
}

/// "Run for 0.07 events" is no advice: with an event ahead it means measure first.
#[test]
fn the_five_percent_quantile_within_the_next_event_means_measure_first() {
    let near = |reading| {
        let mechanisms = [mechanism(Consequence::PowerLoss, 0.12, 0.07)];
        advise(
            &card(Consequence::PowerLoss, reading),
            &mechanisms,
            &[],
            &RiskCaps::default(),
        )
    };
    let measured = near(Some("gap"));
    assert_eq!(measured.action, Action::Measure);
    assert!(
        measured
            .text
            .contains("measure the end gap of the ring before"),
        "{}",
        measured.text
    );
    assert_eq!(near(None).action, Action::Run);
}

//! What says "pull" whatever the money says: findings, limits, mechanisms that can hurt people.

use super::{outlook::State, words};
use crate::{Overriding, ReadingPrediction, RiskCaps, limits::past_limit, predict::figure};
use ringland_host::contract::Consequence;

/// Of one part.
pub(super) fn overriding(state: &State, caps: &RiskCaps) -> Vec<Overriding> {
    let prediction = &state.made.prediction;
    let name = &prediction.component;
    let of = |text: String, closes: &str| Overriding {
        component: Some(name.clone()),
        text,
        closes: closes.into(),
    };
    let mut found = Vec::new();
    for finding in &prediction.overruled_by {
        let text = format!("found at {}: {}", name.component(), finding.text);
        found.push(of(
            text,
            "Replacing it ends this, or a newer inspection that finds otherwise.",
        ));
    }
    for reading in &prediction.readings {
        found.extend(
            limit_passed(reading).map(|when| of(
                format!("{} of {} {when}", reading.label, name.component()),
                "A measured reading within the limit, or replacing it, ends this. The limit itself cannot be moved here.",
            )),
        );
    }
    for mechanism in &prediction.mechanisms {
        let risk = mechanism.risk_next_event;
        if mechanism.consequence == Consequence::Hazard
            && risk >= caps.hazard
            && prediction.overruled_by.is_empty()
        {
            let text = format!(
                "{} of {} can hurt people, and its risk in the event is {}, at or over the cap of {}",
                mechanism.label,
                name.component(),
                words::risk(risk),
                words::risk(caps.hazard)
            );
            found.push(of(
                text,
                "Replacing it, or a check that brings the risk below the cap, ends this.",
            ));
        }
    }
    found
}

/// How a limit is passed: now, or by the end of the event.
pub(super) fn limit_passed(reading: &ReadingPrediction) -> Option<String> {
    let limit = reading.limit?;
    let now = past_limit(reading, reading.now).map(|p| ("is past", reading.now, p));
    let after = || {
        let value = reading.ahead.first()?.value;
        Some((
            "passes within the event",
            value,
            past_limit(reading, value)?,
        ))
    };
    let (when, value, probability) = now.or_else(after)?;
    Some(format!(
        "{when} its limit of {} {} with {} (predicted {}, {} to {}; the limit is by: {})",
        figure(limit),
        reading.unit,
        words::risk(probability),
        figure(value.p50),
        figure(value.p05),
        figure(value.p95),
        reading.limit_source,
    ))
}

//! What goes into a plugin, against its card: the contract promises plugins lists in card order and
//! of the card's length, of finite numbers.

use crate::contract::{
    Card, Duty, Finding, ForecastRequest, LoadCycles, Severity, Slot, Specimen, Table,
};

/// Whether every list of a specimen has the card's length, so that it can be handed to the plugin.
pub(super) fn has_card_shape(card: &Card, specimen: &Specimen) -> bool {
    let tables = card.tables.iter().zip(&specimen.tables);
    let surfaces = card.surfaces.iter().zip(&specimen.surfaces);
    card.numbers.len() == specimen.numbers.len()
        && card.choices.len() == specimen.choices.len()
        && card.tables.len() == specimen.tables.len()
        && card.surfaces.len() == specimen.surfaces.len()
        && tables.into_iter().all(|(field, table)| {
            let rows = table.columns.first().map_or(0, Vec::len);
            field.columns.len() == table.columns.len()
                && table.columns.iter().all(|column| column.len() == rows)
        })
        && surfaces.into_iter().all(|(field, surface)| {
            field.properties.len() == surface.values.len()
                && field.properties.len() == surface.ln_sd.len()
                && surface.depth_m.len() == surface.residual_stress_pa.len()
        })
}

pub(super) fn opening(card: &Card, opening: &[Option<f64>]) -> Vec<Finding> {
    let mut findings = count("opening", card.condition.len(), opening.len());
    for (slot, value) in card.condition.iter().zip(opening) {
        findings.extend(value.and_then(|value| slot_value(slot, value)));
    }
    findings
}

pub(super) fn condition(card: &Card, condition: &[f64]) -> Vec<Finding> {
    let mut findings = count("condition", card.condition.len(), condition.len());
    let slots = card.condition.iter().zip(condition);
    findings.extend(slots.filter_map(|(slot, &value)| slot_value(slot, value)));
    findings
}

fn slot_value(slot: &Slot, value: f64) -> Option<Finding> {
    let in_range = (slot.minimum..=slot.maximum).contains(&value) && value.is_finite();
    let expected = format!("{} to {} {}", slot.minimum, slot.maximum, slot.unit);
    (!in_range).then(|| finding(&slot.name, value.to_string(), expected))
}

pub(super) fn operation(card: &Card, operation: u32) -> Vec<Finding> {
    if (operation as usize) < card.operations.len() {
        return Vec::new();
    }
    let names: Vec<&str> = card.operations.iter().map(|o| o.name.as_str()).collect();
    let expected = if names.is_empty() {
        "none: the card has no operations".to_owned()
    } else {
        format!("the index of one of {}", names.join(", "))
    };
    vec![finding("operation", operation.to_string(), expected)]
}

pub(super) fn duty(card: &Card, duty: &Duty) -> Vec<Finding> {
    let need = &card.duty;
    let mut findings = Vec::from_iter(not_negative("duration_s", &[duty.duration_s]));
    findings.extend(not_negative("time_s", &duty.time_s));
    findings.extend(count("points", need.channels.len(), duty.points.len()));
    for (channel, column) in need.channels.iter().zip(&duty.points) {
        findings.extend(count(&channel.name, duty.time_s.len(), column.len()));
        findings.extend(not_finite(&channel.name, column));
    }
    findings.extend(count("cycles", need.cycles.len(), duty.cycles.len()));
    for (channel, counted) in need.cycles.iter().zip(&duty.cycles) {
        findings.extend(cycles(channel, counted));
    }
    findings.extend(count("shocks", need.shocks.len(), duty.shocks.len()));
    for (need, table) in need.shocks.iter().zip(&duty.shocks) {
        findings.extend(shocks(&need.kind, &need.fields, table));
    }
    findings.extend(count("mates", need.mates.len(), duty.mates.len()));
    findings.extend(not_finite("mates", &duty.mates));
    findings
}

fn cycles(channel: &str, cycles: &LoadCycles) -> Vec<Finding> {
    let LoadCycles {
        ranges,
        means,
        counts,
    } = cycles;
    let name = format!("cycles of {channel}");
    let mut findings = count(&name, ranges.len(), means.len());
    findings.extend(count(&name, ranges.len(), counts.len()));
    findings.extend(not_negative(&name, ranges));
    findings.extend(not_finite(&name, means));
    findings.extend(not_negative(&name, counts));
    findings
}

fn shocks(kind: &str, fields: &[String], table: &Table) -> Vec<Finding> {
    let mut findings = count(kind, fields.len(), table.columns.len());
    let rows = table.columns.first().map_or(0, Vec::len);
    for (field, column) in fields.iter().zip(&table.columns) {
        let name = format!("{kind}.{field}");
        findings.extend(count(&name, rows, column.len()));
        findings.extend(not_finite(&name, column));
    }
    findings
}

pub(super) fn request(card: &Card, request: &ForecastRequest, most: u32) -> Vec<Finding> {
    let mut findings = condition(card, &request.condition);
    findings.extend(duty(card, &request.event));
    findings.extend(count("rates", card.mechanisms.len(), request.rates.len()));
    for (mechanism, rate) in card.mechanisms.iter().zip(&request.rates) {
        let name = format!("rates.{}", mechanism.name);
        findings.extend(not_finite(&name, &[rate.ln_mean]));
        findings.extend(not_negative(&name, &[rate.ln_sd]));
    }
    if !(1..=most).contains(&request.samples) {
        let expected = format!("1 to {most}");
        findings.push(finding("samples", request.samples.to_string(), expected));
    }
    let horizon = request.horizon_events;
    if !(horizon.is_finite() && horizon > 0.0) {
        let expected = "a finite number above 0".to_owned();
        findings.push(finding("horizon_events", horizon.to_string(), expected));
    }
    let ahead = &request.ahead_events;
    let rises = ahead.windows(2).all(|pair| pair[0] < pair[1]);
    let starts_now = ahead.first() == Some(&0.0);
    if !(rises && starts_now && ahead.iter().all(|at| at.is_finite())) {
        let expected = "rising numbers of events that start with 0".to_owned();
        findings.push(finding("ahead_events", format!("{ahead:?}"), expected));
    }
    findings
}

fn not_finite(field: &str, values: &[f64]) -> Option<Finding> {
    let bad = values.iter().find(|value| !value.is_finite())?;
    Some(finding(field, bad.to_string(), "finite numbers".into()))
}

fn not_negative(field: &str, values: &[f64]) -> Option<Finding> {
    let bad = values
        .iter()
        .find(|value| !(value.is_finite() && **value >= 0.0))?;
    Some(finding(
        field,
        bad.to_string(),
        "finite numbers, 0 or more".into(),
    ))
}

fn count(field: &str, expected: usize, given: usize) -> Vec<Finding> {
    if expected == given {
        return Vec::new();
    }
    let expected = format!("{expected} values, in card order");
    vec![finding(field, format!("{given} values"), expected)]
}

fn finding(field: &str, value: String, expected: String) -> Finding {
    Finding {
        severity: Severity::Error,
        field: field.into(),
        value,
        expected,
        remedy: "give the values that the model's card asks for".into(),
    }
}

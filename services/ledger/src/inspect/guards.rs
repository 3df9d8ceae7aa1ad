//! What is checked of an inspection before it is taken: typical mistakes of the trade.

use super::{
    findings::{error, warning},
    standing::checked,
    temperature::at_reference,
    written::{is_oil_analysis, is_set_to_a_master, looks_like_leak_down},
};
use crate::{
    CrackCheck, CrackResult, InspectionInput, MasterComparison, MeasuredReading, ThermalState,
};
use ringland_host::contract::{Card, Finding, ReadingField};
use std::collections::BTreeSet;

const MOST_READINGS: usize = 200;
const MOST_CHECKS: usize = 50;
const MOST_FINDINGS: usize = 200;
/// Temperatures at which a shop measures \[K\]: colder is degrees given as kelvins.
const SHOP_K: std::ops::RangeInclusive<f64> = 230.0..=450.0;

/// Everything that can be said of an inspection without the component's history.
pub(super) fn written(card: &Card, input: &InspectionInput) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (field, text, most) in [
        ("inspection.inspected_by", &input.inspected_by, 255),
        ("inspection.notes", &input.notes, 4000),
    ] {
        text_length(&mut findings, field, text, most);
    }
    if input.inspected_by.is_empty() {
        findings.push(warning(
            "inspection.inspected_by",
            "empty",
            "a role or initials",
            "say who measured",
        ));
    }
    counts(&mut findings, input);
    for (i, line) in input.readings.iter().take(MOST_READINGS).enumerate() {
        let place = format!("inspection.readings[{i}]");
        reading(&mut findings, card, &place, line);
    }
    repeated(&mut findings, input);
    for (i, check) in input.crack_checks.iter().take(MOST_CHECKS).enumerate() {
        let place = format!("inspection.crack_checks[{i}]");
        crack_check(&mut findings, card, &place, check);
    }
    findings.truncate(MOST_FINDINGS);
    findings
}

/// The value at 20 degC.
pub(super) fn corrected(line: &MeasuredReading) -> f64 {
    line.master
        .as_ref()
        .map_or(line.value, |master| at_reference(line.value, master))
}

fn counts(findings: &mut Vec<Finding>, input: &InspectionInput) {
    if input.readings.is_empty() && input.crack_checks.is_empty() {
        findings.push(error(
            "inspection",
            "nothing measured and nothing looked for",
            "at least one reading or crack check",
            "enter what was measured",
        ));
    }
    for (field, count, most) in [
        ("inspection.readings", input.readings.len(), MOST_READINGS),
        (
            "inspection.crack_checks",
            input.crack_checks.len(),
            MOST_CHECKS,
        ),
    ] {
        if count > most {
            let expected = format!("at most {most}");
            findings.push(error(field, count, &expected, "enter several inspections"));
        }
    }
}

fn text_length(findings: &mut Vec<Finding>, field: &str, text: &str, most: usize) {
    if text.len() > most {
        let expected = format!("at most {most} bytes");
        findings.push(error(field, text, &expected, "shorten it"));
    }
}

fn reading(findings: &mut Vec<Finding>, card: &Card, place: &str, line: &MeasuredReading) {
    for (field, text) in [
        ("reading", &line.reading),
        ("position", &line.position),
        ("instrument", &line.instrument),
        ("instrument_id", &line.instrument_id),
    ] {
        text_length(findings, &format!("{place}.{field}"), text, 255);
    }
    let Some(field) = card.readings.iter().find(|r| r.name == line.reading) else {
        findings.push(unknown(card, place, line));
        return;
    };
    for (name, value) in [("value", Some(line.value)), ("zero", line.zero)] {
        if let Some(value) = value.filter(|value| !value.is_finite()) {
            let expected = format!("a finite number in {}", field.unit);
            findings.push(error(
                format!("{place}.{name}"),
                value,
                &expected,
                "correct it",
            ));
        }
    }
    if line
        .zero
        .is_some_and(|zero| zero.total_cmp(&line.value).is_eq())
    {
        findings.push(warning(
            format!("{place}.value"),
            line.value,
            "a value of its own",
            "it is the value of the build to all digits: copied?",
        ));
    }
    instrument(findings, place, field, line);
    temperature(findings, place, field, line);
    if looks_like_leak_down(field) && line.thermal_state != ThermalState::Hot {
        let state = match line.thermal_state {
            ThermalState::Cold => "cold",
            _ => "not said",
        };
        findings.push(warning(
            format!("{place}.thermal_state"),
            state,
            "hot, with the same orifice",
            "repeat it hot; it is kept and not learnt",
        ));
    }
}

fn unknown(card: &Card, place: &str, line: &MeasuredReading) -> Finding {
    let names: Vec<&str> = card.readings.iter().map(|r| r.name.as_str()).collect();
    let expected = if names.is_empty() {
        format!(
            "nothing: the model of {} has no readings",
            card.component_type
        )
    } else {
        format!("one of {}", names.join(", "))
    };
    let remedy = if is_oil_analysis(&line.reading) {
        "an oil sample is of the unit, not of one part: it is not entered here"
    } else {
        "is it measured at this part? take the name from the model's card"
    };
    error(
        format!("{place}.reading"),
        format!("{:?}", line.reading),
        &expected,
        remedy,
    )
}

fn instrument(
    findings: &mut Vec<Finding>,
    place: &str,
    field: &ReadingField,
    line: &MeasuredReading,
) {
    if line.instrument_id.is_empty() {
        findings.push(warning(
            format!("{place}.instrument_id"),
            "empty",
            "a serial, or the shop's name for the instrument",
            "say which instrument: two testers may differ by 2 to 3 %, and only a named one's bias can be learnt",
        ));
    }
    let field_name = format!("{place}.instrument_sd");
    match line.instrument_sd {
        Some(sd) if !(sd.is_finite() && sd > 0.0) => {
            let expected = format!("more than 0 {}", field.unit);
            findings.push(error(
                field_name,
                sd,
                &expected,
                "give one standard deviation",
            ));
        }
        Some(_) => {}
        None if field
            .instrument_sd
            .hypot(field.instrument_sd_relative * line.value)
            > 0.0 =>
        {
            findings.push(warning(
                field_name,
                "not given",
                "the error of this instrument, one standard deviation",
                &format!("the usual error of a {} is taken", field.instrument),
            ));
        }
        None => findings.push(error(
            field_name,
            "not given",
            "the error of this instrument, one standard deviation",
            "give it: the model's card has none, and without an error nothing can be weighed",
        )),
    }
}

fn temperature(
    findings: &mut Vec<Finding>,
    place: &str,
    field: &ReadingField,
    line: &MeasuredReading,
) {
    let Some(master) = &line.master else {
        let named = if line.instrument.is_empty() {
            &field.instrument
        } else {
            &line.instrument
        };
        if field.unit == "m" && is_set_to_a_master(named) {
            findings.push(warning(
                format!("{place}.master"),
                "no temperatures",
                "temperature of the part, and of the master when the gauge was set",
                "measure both: an 86 mm iron bore 10 K from its setting ring reads 9 um off; 20 degC is taken",
            ));
        }
        return;
    };
    if field.unit != "m" {
        findings.push(error(
            format!("{place}.master"),
            format!("given for a reading in {}", field.unit),
            "a length in m",
            "leave it out",
        ));
    }
    let numbers = |master: &MasterComparison| {
        [
            ("part_temperature_k", master.part_temperature_k, SHOP_K),
            ("master_temperature_k", master.master_temperature_k, SHOP_K),
            ("size_m", master.size_m, 1e-6..=5.0),
            (
                "part_expansion_per_k",
                master.part_expansion_per_k.unwrap_or(1e-6),
                -1e-6..=1e-4,
            ),
            (
                "master_expansion_per_k",
                master.master_expansion_per_k.unwrap_or(1e-6),
                -1e-6..=1e-4,
            ),
        ]
    };
    for (name, value, range) in numbers(master) {
        if !range.contains(&value) {
            findings.push(error(
                format!("{place}.master.{name}"),
                value,
                &format!("{} to {}", range.start(), range.end()),
                "give it in SI: kelvins, metres, per kelvin",
            ));
        }
    }
}

/// One finding typed twice counts twice.
fn repeated(findings: &mut Vec<Finding>, input: &InspectionInput) {
    let mut seen = BTreeSet::new();
    for (i, line) in input.readings.iter().take(MOST_READINGS).enumerate() {
        if !seen.insert((&line.reading, &line.position, &line.instrument_id)) {
            findings.push(error(
                format!("inspection.readings[{i}]"),
                format!("{} at position {:?} again", line.reading, line.position),
                "one line of a reading for each position and instrument",
                "tell positions apart, or leave the second out",
            ));
        }
    }
}

fn crack_check(findings: &mut Vec<Finding>, card: &Card, place: &str, check: &CrackCheck) {
    text_length(findings, &format!("{place}.note"), &check.note, 1000);
    for (i, name) in check.mechanisms.iter().take(100).enumerate() {
        if !card.mechanisms.iter().any(|m| m.name == *name) {
            let names: Vec<&str> = card.mechanisms.iter().map(|m| m.name.as_str()).collect();
            findings.push(error(
                format!("{place}.mechanisms[{i}]"),
                format!("{name:?}"),
                &format!("one of {}", names.join(", ")),
                "take the name from the model's card",
            ));
        }
    }
    if check.mechanisms.is_empty() && checked(card, check).is_empty() {
        findings.push(error(
            format!("{place}.mechanisms"),
            "empty",
            "a mechanism that a crack ends: the model measures each of its own by a reading",
            "name the mechanism that was looked for",
        ));
    }
    for (name, value) in [
        ("a90_m", check.a90_m),
        ("indication_length_m", check.indication_length_m),
    ] {
        if let Some(value) = value.filter(|value| !(1e-5..=1.0).contains(value)) {
            findings.push(error(
                format!("{place}.{name}"),
                value,
                "1e-5 to 1 m",
                "give it in metres",
            ));
        }
    }
    match (check.result, check.indication_length_m) {
        (CrackResult::Clean, Some(length)) => findings.push(error(
            format!("{place}.indication_length_m"),
            length,
            "nothing where no indication was found",
            "say that there was an indication, or leave the length out",
        )),
        (CrackResult::Indication, None) => findings.push(warning(
            format!("{place}.indication_length_m"),
            "not given",
            "the length of the longest indication",
            "measure it; the part does not run whatever it is",
        )),
        _ => {}
    }
}

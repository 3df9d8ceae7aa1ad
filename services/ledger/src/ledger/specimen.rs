//! From names to card order: spec, surfaces and opening condition as a plugin reads them.

use crate::{Spec, SurfaceState};
use ringland_host::contract::{
    Card, Finding, NumberField, Severity, Specimen, Surface, SurfaceField, Table, TableField,
    vocabulary::SURFACE_PROPERTIES,
};
use std::collections::BTreeMap;

/// A specimen and everything that is to be said of the names and numbers that it was made from.
/// It is complete even when findings are errors, so that a model can add its own.
pub(crate) fn specimen_of(
    card: &Card,
    spec: &Spec,
    surfaces: &BTreeMap<String, SurfaceState>,
) -> (Specimen, Vec<Finding>) {
    let mut findings = Vec::new();
    let numbers: Vec<&str> = card.numbers.iter().map(|f| f.name.as_str()).collect();
    unknown(&mut findings, "spec.numbers", spec.numbers.keys(), &numbers);
    let choices: Vec<&str> = card.choices.iter().map(|f| f.name.as_str()).collect();
    unknown(&mut findings, "spec.choices", spec.choices.keys(), &choices);
    let tables: Vec<&str> = card.tables.iter().map(|f| f.name.as_str()).collect();
    unknown(&mut findings, "spec.tables", spec.tables.keys(), &tables);
    let names: Vec<&str> = card.surfaces.iter().map(|f| f.name.as_str()).collect();
    unknown(&mut findings, "surfaces", surfaces.keys(), &names);
    let specimen = Specimen {
        numbers: card
            .numbers
            .iter()
            .map(|field| number(&mut findings, "spec.numbers", field, &spec.numbers))
            .collect(),
        choices: chosen(&mut findings, card, spec),
        tables: card
            .tables
            .iter()
            .map(|field| table(&mut findings, field, spec.tables.get(&field.name)))
            .collect(),
        surfaces: card
            .surfaces
            .iter()
            .map(|field| surface(&mut findings, field, surfaces.get(&field.name)))
            .collect(),
    };
    (specimen, findings)
}

/// The known slots of an opening condition in card order.
pub(crate) fn opening_of(
    card: &Card,
    opening: &BTreeMap<String, f64>,
) -> (Vec<Option<f64>>, Vec<Finding>) {
    let mut findings = Vec::new();
    let names: Vec<&str> = card
        .condition
        .iter()
        .map(|slot| slot.name.as_str())
        .collect();
    unknown(&mut findings, "opening_condition", opening.keys(), &names);
    let slots = card.condition.iter().map(|slot| {
        let value = *opening.get(&slot.name)?;
        if !(slot.minimum..=slot.maximum).contains(&value) {
            findings.push(error(
                format!("opening_condition.{}", slot.name),
                value.to_string(),
                format!("{} to {} {}", slot.minimum, slot.maximum, slot.unit),
                "correct the value, or leave the slot out if it is not known",
            ));
        }
        Some(value)
    });
    (slots.collect(), findings)
}

fn error(field: String, value: String, expected: String, remedy: &str) -> Finding {
    Finding {
        severity: Severity::Error,
        field,
        value,
        expected,
        remedy: remedy.into(),
    }
}

fn unknown<'a>(
    findings: &mut Vec<Finding>,
    field: &str,
    given: impl Iterator<Item = &'a String>,
    known: &[&str],
) {
    for name in given.filter(|name| !known.contains(&name.as_str())) {
        findings.push(error(
            format!("{field}.{name}"),
            "given".into(),
            if known.is_empty() {
                "nothing".into()
            } else {
                format!("one of {}", known.join(", "))
            },
            "correct the name or leave it out",
        ));
    }
}

fn number(
    findings: &mut Vec<Finding>,
    place: &str,
    field: &NumberField,
    given: &BTreeMap<String, f64>,
) -> f64 {
    let Some(value) = given.get(&field.name) else {
        return field.default_value;
    };
    if !value.is_finite() {
        findings.push(error(
            format!("{place}.{}", field.name),
            value.to_string(),
            format!("{} to {} {}", field.minimum, field.maximum, field.unit),
            "give a finite number",
        ));
        return field.default_value;
    }
    *value
}

fn chosen(findings: &mut Vec<Finding>, card: &Card, spec: &Spec) -> Vec<u32> {
    let choices = card.choices.iter().map(|field| {
        let Some(given) = spec.choices.get(&field.name) else {
            return field.default_option;
        };
        if let Some(index) = field
            .options
            .iter()
            .position(|option| option.name == *given)
        {
            return index as u32;
        }
        let options: Vec<&str> = field.options.iter().map(|o| o.name.as_str()).collect();
        findings.push(error(
            format!("spec.choices.{}", field.name),
            format!("{given:?}"),
            format!("one of {}", options.join(", ")),
            "choose one of them",
        ));
        field.default_option
    });
    choices.collect()
}

fn table(findings: &mut Vec<Finding>, field: &TableField, given: Option<&Table>) -> Table {
    let default = || Table {
        columns: field.default_columns.clone(),
    };
    let Some(given) = given else { return default() };
    let rows = given.columns.first().map_or(0, Vec::len);
    let even = given.columns.iter().all(|column| column.len() == rows);
    let finite = given
        .columns
        .iter()
        .flatten()
        .all(|value| value.is_finite());
    if given.columns.len() == field.columns.len() && even && finite {
        return given.clone();
    }
    let columns: Vec<String> = field
        .columns
        .iter()
        .map(|c| format!("{} [{}]", c.name, c.unit))
        .collect();
    let lengths: Vec<usize> = given.columns.iter().map(Vec::len).collect();
    findings.push(error(
        format!("spec.tables.{}", field.name),
        format!("columns of {lengths:?} numbers"),
        format!("finite columns of equal length: {}", columns.join(", ")),
        "give every column in this order",
    ));
    default()
}

fn surface(
    findings: &mut Vec<Finding>,
    field: &SurfaceField,
    given: Option<&SurfaceState>,
) -> Surface {
    let place = format!("surfaces.{}.properties", field.name);
    let empty = SurfaceState::default();
    let given = given.unwrap_or(&empty);
    let values = field
        .properties
        .iter()
        .map(|p| number(findings, &place, p, &given.properties));
    let values = values.collect();
    properties_not_read(findings, &place, field, given);
    let ln_sd = field
        .properties
        .iter()
        .map(|p| given.ln_sd.get(&p.name).copied().unwrap_or(0.0));
    let ln_sd: Vec<f64> = ln_sd.collect();
    for (property, sd) in field.properties.iter().zip(&ln_sd) {
        // A factor of e^3 = 20 either way is no knowledge at all.
        if !(0.0..=3.0).contains(sd) {
            findings.push(error(
                format!("surfaces.{}.ln_sd.{}", field.name, property.name),
                sd.to_string(),
                "0 to 3, the standard deviation of the natural logarithm".into(),
                "correct it: 0.1 is a spread of 10 %",
            ));
        }
    }
    let (depth_m, residual_stress_pa) = residual_stress(findings, field, given);
    Surface {
        values,
        ln_sd,
        depth_m,
        residual_stress_pa,
    }
}

/// A treatment may state more than one model reads; only a name that nobody knows is an error.
fn properties_not_read(
    findings: &mut Vec<Finding>,
    place: &str,
    field: &SurfaceField,
    given: &SurfaceState,
) {
    for name in given.properties.keys().chain(given.ln_sd.keys()) {
        if field.properties.iter().any(|p| p.name == *name) {
            continue;
        }
        let known = SURFACE_PROPERTIES.iter().any(|p| p.name == name);
        let read: Vec<&str> = field.properties.iter().map(|p| p.name.as_str()).collect();
        findings.push(Finding {
            severity: if known {
                Severity::Warning
            } else {
                Severity::Error
            },
            field: format!("{place}.{name}"),
            value: "given".into(),
            expected: format!("one of {}", read.join(", ")),
            remedy: if known {
                "the model of this type does not read it: it changes nothing".into()
            } else {
                "correct the name or leave it out".into()
            },
        });
    }
}

fn residual_stress(
    findings: &mut Vec<Finding>,
    field: &SurfaceField,
    given: &SurfaceState,
) -> (Vec<f64>, Vec<f64>) {
    let Some(profile) = &given.residual_stress else {
        return (Vec::new(), Vec::new());
    };
    let name = format!("surfaces.{}.residual_stress", field.name);
    if !field.residual_stress {
        findings.push(Finding {
            severity: Severity::Warning,
            field: name,
            value: "given".into(),
            expected: "nothing".into(),
            remedy: "the model of this type does not read it: it changes nothing".into(),
        });
        return (Vec::new(), Vec::new());
    }
    let rising = profile.depth_m.windows(2).all(|pair| pair[0] < pair[1]);
    let finite = profile
        .depth_m
        .iter()
        .chain(&profile.stress_pa)
        .all(|value| value.is_finite());
    let even = profile.depth_m.len() == profile.stress_pa.len() && profile.depth_m.len() <= 1000;
    if rising && finite && even && profile.depth_m.first().is_none_or(|depth| *depth >= 0.0) {
        return (profile.depth_m.clone(), profile.stress_pa.clone());
    }
    findings.push(error(
        name,
        format!(
            "{} depths, {} stresses",
            profile.depth_m.len(),
            profile.stress_pa.len()
        ),
        "as many finite stresses as rising depths from 0 on, at most 1000".into(),
        "correct the profile",
    ));
    (Vec::new(), Vec::new())
}

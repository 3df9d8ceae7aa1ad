//! Laws of `check` and `prepare`.

use crate::{
    report::Law,
    subject::{Subject, text},
};
use ringland_host::contract::{Card, Models, Severity, Specimen};

pub(crate) const LAWS: &[Law] = &[
    ("the default spec passes its check", default_passes),
    (
        "a value out of range or not a number is refused by its name",
        out_of_range_is_named,
    ),
    (
        "a spec at the edge of a range is refused by findings or answered",
        edges_are_answered,
    ),
    (
        "a known slot of a used component is taken as given",
        opening_is_taken,
    ),
];

fn default_passes(subject: &Subject) -> Result<String, String> {
    let findings = subject
        .models
        .check(subject.plugin, &subject.specimen())
        .map_err(text)?;
    match findings
        .iter()
        .find(|finding| finding.severity == Severity::Error)
    {
        Some(finding) => Err(format!("{finding:?}")),
        None => Ok(String::new()),
    }
}

/// A change of one value of a spec.
#[derive(Clone, Copy)]
enum Value {
    /// Index in the card, value.
    Number(usize, f64),
    /// Surface, property, value.
    Property(usize, usize, f64),
    /// Index in the card, option.
    Choice(usize, u32),
}

/// A change with the name of its field.
struct Change {
    field: String,
    value: Value,
}

/// The default spec with values changed.
fn with<'a>(subject: &Subject, changes: impl IntoIterator<Item = &'a Change>) -> Specimen {
    let mut specimen = subject.specimen();
    for change in changes {
        match change.value {
            Value::Number(index, value) => specimen.numbers[index] = value,
            Value::Property(surface, index, value) => {
                specimen.surfaces[surface].values[index] = value;
            }
            Value::Choice(index, option) => specimen.choices[index] = option,
        }
    }
    specimen
}

/// Every number and every property of a surface, changed to a value that follows from its range.
fn changes(card: &Card, value: impl Fn(f64, f64) -> f64) -> Vec<Change> {
    let mut changes = Vec::new();
    for (index, number) in card.numbers.iter().enumerate() {
        changes.push(Change {
            field: number.name.clone(),
            value: Value::Number(index, value(number.minimum, number.maximum)),
        });
    }
    for (at, surface) in card.surfaces.iter().enumerate() {
        for (index, property) in surface.properties.iter().enumerate() {
            let value = value(property.minimum, property.maximum);
            changes.push(Change {
                field: format!("{}.{}", surface.name, property.name),
                value: Value::Property(at, index, value),
            });
        }
    }
    changes
}

fn choices(card: &Card) -> Vec<Change> {
    let mut changes = Vec::new();
    for (index, choice) in card.choices.iter().enumerate() {
        for option in 0..choice.options.len() as u32 {
            changes.push(Change {
                field: choice.name.clone(),
                value: Value::Choice(index, option),
            });
        }
    }
    changes
}

/// The host finds these by itself; the plugin's own check sees them too, and must not trap.
fn out_of_range_is_named(subject: &Subject) -> Result<String, String> {
    let outside: [fn(f64, f64) -> f64; 3] = [
        |low, high| low - (1.0 + low.abs() + high.abs()),
        |low, high| high + (1.0 + low.abs() + high.abs()),
        |_, _| f64::NAN,
    ];
    let changes: Vec<Change> = outside
        .iter()
        .flat_map(|value| changes(&subject.card, value))
        .collect();
    for change in &changes {
        let findings = subject
            .models
            .check(subject.plugin, &with(subject, [change]))
            .map_err(|error| format!("{}: {error}", change.field))?;
        if !findings.iter().any(|finding| finding.field == change.field) {
            return Err(format!("{} is not named in {findings:?}", change.field));
        }
    }
    Ok(format!("{} specs", changes.len()))
}

/// Fields put to an edge at once. What is answered together is answered alone far more cheaply than one by one, as each spec is
/// prepared.
const TOGETHER: usize = 4;

fn edges_are_answered(subject: &Subject) -> Result<String, String> {
    let mut edges = changes(&subject.card, |low, _| low);
    edges.extend(changes(&subject.card, |_, high| high));
    let mut refused = 0;
    for group in edges.chunks(TOGETHER) {
        refused += answered(subject, group)?;
    }
    let choices = choices(&subject.card);
    for choice in choices.chunks(1) {
        refused += answered(subject, choice)?;
    }
    let specs = edges.len() + choices.len();
    Ok(format!("{specs} edges, {refused} refused"))
}

/// How many of the changes are refused by findings when made alone; the others are answered. A group that is refused or fails as a whole
/// is tried in halves, so that only a change that fails alone is a failure.
fn answered(subject: &Subject, group: &[Change]) -> Result<usize, String> {
    let specimen = with(subject, group);
    let findings = subject
        .models
        .check(subject.plugin, &specimen)
        .map_err(text);
    let outcome = findings.and_then(|findings| {
        if findings
            .iter()
            .any(|finding| finding.severity == Severity::Error)
        {
            Ok(true)
        } else {
            whole_life(subject, &specimen).map(|()| false)
        }
    });
    match (outcome, group) {
        (Ok(false), _) => Ok(0),
        (Ok(true), [_]) => Ok(1),
        (Err(error), [Change { field, .. }]) => Err(format!("{field} at an edge: {error}")),
        (_, group) => {
            let (first, second) = group.split_at(group.len() / 2);
            Ok(answered(subject, first)? + answered(subject, second)?)
        }
    }
}

/// Every call once.
fn whole_life(subject: &Subject, specimen: &Specimen) -> Result<(), String> {
    let (models, plugin) = (&subject.models, subject.plugin);
    let prepared = subject.prepare(specimen)?;
    let start = subject.new_condition(specimen)?;
    let duties = [subject.duty(3600.0)];
    let rows = models
        .advance(plugin, specimen, &prepared, &start, &duties)
        .map_err(text)?;
    let condition = rows.last().cloned().unwrap_or(start);
    for operation in 0..subject.card.operations.len() as u32 {
        models
            .rework(plugin, specimen, &prepared, &condition, operation)
            .map_err(text)?;
    }
    models
        .forecast(plugin, specimen, &prepared, &subject.request(condition))
        .map_err(text)?;
    Ok(())
}

fn opening_is_taken(subject: &Subject) -> Result<String, String> {
    let specimen = subject.specimen();
    let prepared = subject.prepare(&specimen)?;
    // The condition after an hour is one that a component can have.
    let rows = subject.after(&[subject.duty(3600.0)])?;
    let seen = rows.last().cloned().unwrap_or_default();
    for (index, (slot, &value)) in subject.card.condition.iter().zip(&seen).enumerate() {
        let mut opening = vec![None; seen.len()];
        opening[index] = Some(value);
        let begun = subject
            .models
            .begin(subject.plugin, &specimen, &prepared, &opening)
            .map_err(text)?;
        if (begun[index] - value).abs() > 1e-12 * value.abs() {
            return Err(format!(
                "{} was given as {value} and begins as {}",
                slot.name, begun[index]
            ));
        }
    }
    Ok(format!("{} slots", seen.len()))
}

//! Laws of `check` and `prepare`.

use crate::{
    report::Law,
    subject::{Subject, text},
};
use ringland_host::contract::{Models, Severity, Specimen};

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

/// A change of one value of a spec, with the name of its field.
struct Change {
    field: String,
    specimen: Specimen,
}

/// The default spec with one number, or one property of a surface, changed.
fn changed(subject: &Subject, value: impl Fn(f64, f64) -> Vec<f64>) -> Vec<Change> {
    let card = &subject.card;
    let mut changes = Vec::new();
    for (index, field) in card.numbers.iter().enumerate() {
        for value in value(field.minimum, field.maximum) {
            let mut specimen = subject.specimen();
            specimen.numbers[index] = value;
            changes.push(Change {
                field: field.name.clone(),
                specimen,
            });
        }
    }
    for (at, surface) in card.surfaces.iter().enumerate() {
        for (index, property) in surface.properties.iter().enumerate() {
            for value in value(property.minimum, property.maximum) {
                let mut specimen = subject.specimen();
                specimen.surfaces[at].values[index] = value;
                changes.push(Change {
                    field: format!("{}.{}", surface.name, property.name),
                    specimen,
                });
            }
        }
    }
    changes
}

/// The host finds these by itself; the plugin's own check sees them too, and must not trap.
fn out_of_range_is_named(subject: &Subject) -> Result<String, String> {
    let outside = |low: f64, high: f64| {
        let margin = 1.0 + low.abs() + high.abs();
        vec![low - margin, high + margin, f64::NAN]
    };
    let changes = changed(subject, outside);
    for change in &changes {
        let findings = subject
            .models
            .check(subject.plugin, &change.specimen)
            .map_err(|error| format!("{}: {error}", change.field))?;
        if !findings.iter().any(|finding| finding.field == change.field) {
            return Err(format!("{} is not named in {findings:?}", change.field));
        }
    }
    Ok(format!("{} specs", changes.len()))
}

fn edges_are_answered(subject: &Subject) -> Result<String, String> {
    let mut changes = changed(subject, |low, high| vec![low, high]);
    for (index, choice) in subject.card.choices.iter().enumerate() {
        for option in 0..choice.options.len() as u32 {
            let mut specimen = subject.specimen();
            specimen.choices[index] = option;
            changes.push(Change {
                field: choice.name.clone(),
                specimen,
            });
        }
    }
    let mut refused = 0;
    for Change { field, specimen } in &changes {
        let in_field = |error: String| format!("{field} at an edge: {error}");
        let findings = subject.models.check(subject.plugin, specimen);
        let findings = findings.map_err(|error| in_field(text(error)))?;
        if findings
            .iter()
            .any(|finding| finding.severity == Severity::Error)
        {
            refused += 1;
            continue;
        }
        whole_life(subject, specimen).map_err(in_field)?;
    }
    Ok(format!("{} specs, {refused} refused", changes.len()))
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

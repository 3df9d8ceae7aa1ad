//! What the ledger itself has to say of a prediction.

use super::request::Event;
use crate::{Prediction, fold::Folded, ledger::specimen_of};
use ringland_host::contract::{Finding, Severity};

/// Fewer events than these say little of how one differs from the next. Assumed, no source.
const FEW_EVENTS: f64 = 3.0;

pub(crate) fn warning(field: String, value: String, expected: &str, remedy: String) -> Finding {
    Finding {
        severity: Severity::Warning,
        field,
        value,
        expected: expected.into(),
        remedy,
    }
}

/// Notes on what a prediction rests on.
pub(crate) fn notes(folded: &Folded, event: &Event) -> Vec<Finding> {
    let (_, mut notes) = specimen_of(
        &folded.card,
        &folded.revision.spec,
        &folded.revision.surfaces,
    );
    channels(&mut notes, folded, event);
    mates(&mut notes, folded);
    let profile = &event.profile;
    if !profile.duty_records.is_empty() && profile.events < FEW_EVENTS {
        notes.push(warning(
            profile.name.to_string(),
            format!("made from {} events", profile.events),
            "at least 3 events",
            "make a profile from more of them: one event is not the next".into(),
        ));
    }
    if folded.installation.is_none() {
        notes.push(warning(
            "installed_build".into(),
            "not installed".into(),
            "an installation",
            format!("this is its life if it were put to use by {}", profile.name),
        ));
    }
    if let (Some(from), Some(end)) = (folded.revision.effective_time, folded.row.last_end)
        && from > end
    {
        notes.push(warning(
            "revision".into(),
            format!("effective {from}"),
            "duty since then",
            "the forecast assumes the new spec and surfaces; no duty has tried them yet".into(),
        ));
    }
    notes
}

/// A note on a life that is longer than was looked for.
pub(crate) fn horizon_note(prediction: &Prediction) -> Option<Finding> {
    let life = &prediction.life;
    (life.events.p95 >= life.horizon_events).then(|| {
        warning(
            "life.events".into(),
            format!("p95 = {}", life.events.p95),
            "less than the horizon",
            format!(
                "read quantiles of {} events as \"at least\"",
                life.horizon_events
            ),
        )
    })
}

fn channels(notes: &mut Vec<Finding>, folded: &Folded, event: &Event) {
    let records = folded.row.tally.duty_records;
    for need in folded
        .card
        .duty
        .channels
        .iter()
        .filter(|need| !need.required)
    {
        if let Some(absent) = folded.row.tally.defaulted_channels.get(&need.name) {
            notes.push(warning(
                format!("duty.{}", need.name),
                format!("absent from {absent} of {records} duty records"),
                "the channel in every log",
                format!(
                    "log it; {} was assumed where it is absent",
                    need.default_value
                ),
            ));
        }
        if event.duty.column(&need.name).is_none() {
            notes.push(warning(
                format!("{}.{}", event.profile.name, need.name),
                "absent".into(),
                "the channel",
                format!(
                    "make a profile with it; {} is assumed for what is to come",
                    need.default_value
                ),
            ));
        }
    }
}

fn mates(notes: &mut Vec<Finding>, folded: &Folded) {
    let records = folded.row.tally.duty_records;
    for (what, absent) in &folded.row.tally.defaulted_mates {
        notes.push(warning(
            format!("mates.{what}"),
            format!("not known in {absent} of {records} duty records"),
            "the condition of such a component in the same build",
            "enter and install it; the default of the model was taken".into(),
        ));
    }
    for mate in &folded.mates {
        if let Some(why) = &mate.defaulted {
            notes.push(warning(
                format!("mates.{}", mate.what),
                why.clone(),
                "the condition of such a component in the same build",
                format!("{} is assumed for what is to come", mate.value),
            ));
        }
    }
}

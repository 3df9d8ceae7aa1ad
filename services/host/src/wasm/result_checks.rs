//! What a plugin returns, against its card. A plugin that fails here is broken or lies; its answer
//! is thrown away.

use crate::contract::{Card, Slot, Trend};

/// All finite.
pub(super) fn finite(what: &str, values: &[f64]) -> Result<(), String> {
    match values.iter().position(|value| !value.is_finite()) {
        Some(at) => Err(format!(
            "{what}[{at}] = {} is not a finite number",
            values[at]
        )),
        None => Ok(()),
    }
}

/// As many as wanted.
pub(super) fn length(what: &str, expected: usize, given: usize) -> Result<(), String> {
    if expected == given {
        return Ok(());
    }
    Err(format!(
        "{what} has {given} entries where {expected} were expected"
    ))
}

/// A condition row: one finite value for each slot, within the slot's range.
pub(super) fn condition(card: &Card, condition: &[f64]) -> Result<(), String> {
    length("the condition", card.condition.len(), condition.len())?;
    for (slot, &value) in card.condition.iter().zip(condition) {
        within(slot, value)?;
    }
    Ok(())
}

fn within(slot: &Slot, value: f64) -> Result<(), String> {
    let Slot {
        name,
        minimum,
        maximum,
        unit,
        ..
    } = slot;
    if (*minimum..=*maximum).contains(&value) && value.is_finite() {
        return Ok(());
    }
    Err(format!(
        "condition {name} = {value} where the card allows {minimum} to {maximum} {unit}"
    ))
}

/// One condition after each duty record, each following its slots' trends from the one before.
pub(super) fn conditions(
    card: &Card,
    start: &[f64],
    records: usize,
    conditions: &[Vec<f64>],
) -> Result<(), String> {
    length("the list of conditions", records, conditions.len())?;
    let mut before = start;
    for (record, after) in conditions.iter().enumerate() {
        let in_record = |reason| format!("after record {record}: {reason}");
        condition(card, after).map_err(in_record)?;
        follows_trends(card, before, after).map_err(in_record)?;
        before = after;
    }
    Ok(())
}

fn follows_trends(card: &Card, before: &[f64], after: &[f64]) -> Result<(), String> {
    for (slot, (from, to)) in card.condition.iter().zip(before.iter().zip(after)) {
        let (kept, never) = match slot.trend {
            Trend::Rising => (to >= from, "falls"),
            Trend::Falling => (to <= from, "rises"),
            Trend::Free => continue,
        };
        if !kept {
            return Err(format!(
                "condition {} went from {from} to {to}, and the card says that it never {never}",
                slot.name
            ));
        }
    }
    Ok(())
}

//! Condition rows against the slots of the card.

use crate::contract::{Finding, Slot};
use crate::error;

/// A condition row has one value for each slot, each within the slot's range.
///
/// # Errors
/// Everything that departs from it.
pub fn check_row(slots: &[Slot], row: &[f64]) -> Result<(), Vec<Finding>> {
    if row.len() != slots.len() {
        return Err(vec![error(
            "condition",
            row.len() as f64,
            &format!("{} values, in card order", slots.len()),
            "begin the component again",
        )]);
    }
    none(out_of_range(slots, row.iter().copied().map(Some)))
}

/// The condition of a new component, every slot 0, with the slots that are known of a used one.
///
/// # Errors
/// Slots out of range, or a list of the wrong length.
pub fn begin_row(slots: &[Slot], opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
    if opening.len() != slots.len() {
        return Err(vec![error(
            "opening",
            opening.len() as f64,
            &format!("{} entries, in card order", slots.len()),
            "give one entry for each slot, none where it is unknown",
        )]);
    }
    none(out_of_range(slots, opening.iter().copied()))?;
    Ok(opening.iter().map(|known| known.unwrap_or(0.0)).collect())
}

/// Holds a row within the ranges of its slots. Ranges lie far beyond any limit, so that no duty leads out of the contract.
pub fn hold_row(slots: &[Slot], row: &mut [f64]) {
    for (slot, value) in slots.iter().zip(row) {
        *value = value.clamp(slot.minimum, slot.maximum);
    }
}

fn none(findings: Vec<Finding>) -> Result<(), Vec<Finding>> {
    if findings.is_empty() {
        Ok(())
    } else {
        Err(findings)
    }
}

fn out_of_range(slots: &[Slot], values: impl Iterator<Item = Option<f64>>) -> Vec<Finding> {
    let wrong = |(slot, value): (&Slot, Option<f64>)| {
        let value = value?;
        let inside = (slot.minimum..=slot.maximum).contains(&value);
        (!inside).then(|| {
            error(
                &format!("condition.{}", slot.name),
                value,
                &format!("{} to {} {}", slot.minimum, slot.maximum, slot.unit),
                "check the measurement it came from",
            )
        })
    };
    slots.iter().zip(values).filter_map(wrong).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contract::Trend;
    use crate::slot;

    fn slots() -> [Slot; 2] {
        let row = |name| slot(name, name, "m", Trend::Rising, (0.0, 1.0));
        [row("a"), row("b")]
    }

    #[test]
    fn a_row_must_fit_its_slots() {
        assert!(check_row(&slots(), &[0.0, 1.0]).is_ok());
        let wrong = check_row(&slots(), &[f64::NAN, 1.5]).unwrap_err();
        let fields: Vec<&str> = wrong.iter().map(|finding| finding.field.as_str()).collect();
        assert_eq!(fields, ["condition.a", "condition.b"]);
        assert_eq!(check_row(&slots(), &[0.0]).unwrap_err().len(), 1);
    }

    #[test]
    fn what_is_not_known_begins_at_nothing() {
        assert_eq!(
            begin_row(&slots(), &[None, Some(0.25)]).unwrap(),
            [0.0, 0.25]
        );
        assert!(begin_row(&slots(), &[None, Some(-1.0)]).is_err());
        assert!(begin_row(&slots(), &[None]).is_err());
    }

    #[test]
    fn what_runs_over_is_held() {
        let mut row = [2.0, 0.5];
        hold_row(&slots(), &mut row);
        assert!(row[0] <= 1.0 && (row[1] - 0.5).abs() < 1e-12);
    }
}

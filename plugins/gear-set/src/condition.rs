//! The condition: what duty has done so far. Advancing and reworking.

use ringland_plugin::{Duty, Finding, Specimen, check_row, error, hold_row};

use crate::asperities::Asperities;
use crate::card::{self, operation};
use crate::constants::GEARS;
use crate::duty::{self, Added};
use crate::spec::Spec;

/// Places of the slots of one gear.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    /// Miner sums of the flanks of pinion and wheel.
    pub const PITTING: usize = 0;
    /// Miner sums of the roots of pinion and wheel.
    pub const ROOT: usize = 2;
    pub const DOG: usize = 4;
    pub const BACKLASH: usize = 5;
    /// Slots of one gear.
    pub const OF_GEAR: usize = 6;
}

/// The slots of one gear.
pub type Wear = [f64; slot::OF_GEAR];

/// Place of the scuff severity, after all gears.
pub const SCUFF: usize = GEARS * slot::OF_GEAR;

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Each gear, first gear first.
    pub gears: [Wear; GEARS],
    /// Highest rise of the contact temperature over the room for it, since the gears were last looked at.
    pub scuff_severity: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let mut condition = Self::default();
        let slots = condition.gears.iter_mut().flatten();
        for (slot, value) in slots.chain([&mut condition.scuff_severity]).zip(row) {
            *slot = *value;
        }
        Ok(condition)
    }

    /// The row.
    pub fn row(&self) -> Vec<f64> {
        let mut row: Vec<f64> = self.gears.iter().flatten().copied().collect();
        row.push(self.scuff_severity);
        hold_row(&card::condition(), &mut row);
        row
    }

    /// After `share` of a stretch (more than 1 repeats it). A peak may come at any time of the stretch and counts from its start.
    #[must_use]
    pub fn after(&self, added: &Added, share: f64) -> Self {
        let mut after = *self;
        let slots = after.gears.iter_mut().flatten();
        for (slot, added) in slots.zip(added.gears.iter().flatten()) {
            *slot += share * added;
        }
        if share > 0.0 {
            after.scuff_severity = self.scuff_severity.max(added.scuff_severity);
        }
        after
    }
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = Condition::read(row)?;
    let gear = operation.checked_sub(operation::FIRST_RENEWED);
    match operation {
        operation::INSPECTED => condition.scuff_severity = 0.0,
        operation::DOGS_RENEWED => {
            for gear in &mut condition.gears {
                gear[slot::DOG] = 0.0;
            }
        }
        _ => match gear.and_then(|gear| condition.gears.get_mut(gear as usize)) {
            Some(gear) => *gear = [0.0; slot::OF_GEAR],
            None => {
                return Err(vec![error(
                    "operation",
                    f64::from(operation),
                    "0 (inspected), 1 (dogs_renewed), 2 to 7 (a gear renewed)",
                    "choose an operation of the card",
                )]);
            }
        },
    }
    Ok(condition.row())
}

/// A specimen with its table.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The prepared table.
    pub asperities: Asperities<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and table.
    ///
    /// # Errors
    /// Lists of the wrong length, gears that do not mesh.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        Ok(Self {
            spec: Spec::read(specimen)?,
            asperities: Asperities::read(prepared)?,
        })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = Condition::read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for duty in duties {
            let added = duty::record(&self.spec, &self.asperities, duty)?.total();
            let row = condition.after(&added, 1.0).row();
            condition = Condition::read(&row)?;
            rows.push(row);
        }
        Ok(rows)
    }
}

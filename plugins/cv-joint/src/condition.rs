//! The condition: what duty has done so far. Beginning, advancing, reworking.

use ringland_mechanics::contact::{EllipticContact, effective_modulus_pa};
use ringland_mechanics::cv_joint::Turn;
use ringland_plugin::{
    Duty, DutyNeed, Finding, Slot, Specimen, begin_row, check_row, error, hold_row,
};

use crate::card::{self, operation, slot};
use crate::duty::{Added, JointUse, joint_use};
use crate::spec::Spec;
use crate::turns::Turns;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Joint {
    /// The spec.
    pub spec: Spec,
    /// Turns over angles.
    pub turns: Turns,
    /// A turn of the straight joint.
    pub straight: Turn,
    /// Contacts with outer and inner track under one newton.
    pub unit: [EllipticContact; 2],
    /// Radius of ball against inner track in the direction of rolling \[m\].
    pub rolling_radius_m: f64,
    /// Effective modulus of steel on steel \[Pa\].
    pub modulus_pa: f64,
    /// The duty that the card asks for.
    pub need: DutyNeed,
    slots: Vec<Slot>,
}

impl Joint {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another version.
    pub fn new(specimen: &Specimen, prepared: &[f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let turns = Turns::read(prepared)?;
        Ok(Self {
            straight: turns.at(0.0),
            unit: spec.joint.unit_contacts(),
            rolling_radius_m: spec.joint.rolling_radii_m()[1],
            modulus_pa: effective_modulus_pa((2.06e11, 0.3), (2.06e11, 0.3)),
            need: card::duty(),
            slots: card::condition(),
            spec,
            turns,
        })
    }

    /// The condition of a new joint, or of a used one of which some slots are known.
    ///
    /// # Errors
    /// Slots out of range, or a list of the wrong length.
    pub fn begin(&self, opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
        begin_row(&self.slots, opening)
    }

    /// What a record is to this joint.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn read(&self, record: &Duty) -> Result<JointUse, Vec<Finding>> {
        joint_use(self, record)
    }

    /// The condition after `share` of a record (more than 1 repeats it), held within the card's ranges.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let mut row = *before;
        if share <= 0.0 {
            return row;
        }
        for (value, more) in row.iter_mut().zip(added) {
            *value += share * more;
        }
        row[slot::PRESSURE] = before[slot::PRESSURE].max(added[slot::PRESSURE]);
        hold_row(&self.slots, &mut row);
        row
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read_row(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            condition = self.after(&condition, &self.read(record)?.total, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }
}

/// Reads a condition row.
///
/// # Errors
/// Values out of range, or a row of the wrong length.
pub fn read_row(row: &[f64]) -> Result<Row, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    let mut condition = [0.0; slot::COUNT];
    condition.copy_from_slice(row);
    Ok(condition)
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have, or a row out of range.
pub fn rework(row: &[f64], done: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut row = read_row(row)?;
    match done {
        operation::REINDEXED => {
            row[slot::BALL_PITTING] = 0.0;
            row[slot::BALL_WEAR] = 0.0;
        }
        operation::OTHER_FLANKS => {
            row.swap(slot::DRIVE_PITTING, slot::COAST_PITTING);
            row.swap(slot::DRIVE_WEAR, slot::COAST_WEAR);
        }
        operation::REGREASED => row[slot::GREASE] = 0.0,
        _ => {
            let expected = "0 (reindexed), 1 (other_flanks) or 2 (regreased)";
            let remedy = "choose an operation of the card";
            return Err(vec![error("operation", f64::from(done), expected, remedy)]);
        }
    }
    Ok(row.to_vec())
}

//! The condition row, and what duty and the shop do to it.

use ringland_engine::{OperatingMap, points_and_over_revs};
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, hold_row};

use crate::card::{self, slot};
use crate::duty::{self, Added};
use crate::solve::GRID;
use crate::spec::Spec;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: OperatingMap<'a>,
    /// The duty that the card asks for.
    pub need: DutyNeed,
    slots: Vec<Slot>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = OperatingMap::read(prepared, &spec.engine, &GRID)?;
        Ok(Self {
            spec,
            map,
            need: card::duty(),
            slots: card::condition(),
        })
    }

    /// What a record adds: by operating point, by over-rev.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn added(&self, record: &Duty) -> Result<(Vec<Added>, Vec<Added>), Vec<Finding>> {
        let (points, over_revs) = points_and_over_revs(&self.need, record)?;
        let one = |block| duty::added(&self.spec, &self.map, block);
        Ok((
            points.iter().map(one).collect(),
            over_revs.iter().map(one).collect(),
        ))
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let (points, over_revs) = self.added(record)?;
            let total = duty::total(points.iter().chain(&over_revs));
            condition = self.after(&condition, &total, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. The worst severity is met as soon as the
    /// stretch has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let mut row = *before;
        row[slot::BUSH] += added.bush_m * share;
        row[slot::PIN] += added.pin_m * share;
        if share > 0.0 {
            row[slot::SEVERITY] = row[slot::SEVERITY].max(added.severity_w_m2);
        }
        row[slot::COATING_HAZARD] += added.coating * share;
        row[slot::PIN_DAMAGE] += added.pin_damage * share;
        hold_row(&self.slots, &mut row);
        row
    }
}

/// Reads a condition row.
///
/// # Errors
/// Values out of range, or a row of the wrong length.
pub fn read(row: &[f64]) -> Result<Row, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    let mut condition = [0.0; slot::COUNT];
    condition.copy_from_slice(row);
    Ok(condition)
}

/// The condition with a new bush: the pin keeps what it has seen.
///
/// # Errors
/// A condition out of range.
pub fn with_new_bush(row: &[f64]) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    condition[slot::BUSH] = 0.0;
    Ok(condition.to_vec())
}

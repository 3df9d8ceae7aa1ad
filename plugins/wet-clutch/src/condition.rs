//! The condition row, and what duty and the shop do to it.

use ringland_driveline::read as read_use;
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, hold_row};

use crate::card::{self, slot};
use crate::duty::{self, Added, Parts};
use crate::heat_map::HeatMap;
use crate::spec::Spec;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: HeatMap<'a>,
    /// The duty that the card asks for.
    pub need: DutyNeed,
    slots: Vec<Slot>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = HeatMap::read(prepared, &spec)?;
        Ok(Self {
            spec,
            map,
            need: card::duty(),
            slots: card::condition(),
        })
    }

    /// What a record adds.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn added(&self, record: &Duty) -> Result<Parts, Vec<Finding>> {
        let record = read_use(&self.need, record)?;
        Ok(duty::parts(&self.spec, &self.map, &record))
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            condition = self.after(&condition, &self.added(record)?.total(), 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. The hottest is met as soon as the
    /// stretch has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let mut row = *before;
        row[slot::GLAZE] += added.glaze * share;
        row[slot::LINING] += added.lining * share;
        row[slot::WEAR] += added.wear_m * share;
        row[slot::FLATNESS] += added.flatness_m * share;
        row[slot::OIL_AGE] += added.oil_age * share;
        row[slot::OXIDATION] += added.oxidation * share;
        if share > 0.0 {
            row[slot::HOTTEST] = row[slot::HOTTEST].max(added.hottest_k);
        }
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

/// The condition with some slots as new.
///
/// # Errors
/// A condition out of range.
pub fn renewed(row: &[f64], slots: &[usize]) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    for slot in slots {
        condition[*slot] = 0.0;
    }
    Ok(condition.to_vec())
}

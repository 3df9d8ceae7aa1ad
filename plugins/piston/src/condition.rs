//! The condition row, and what duty does to it.

use ringland_engine::OperatingMap;
use ringland_plugin::{Duty, Finding, Slot, Specimen, check_row, hold_row};

use crate::card::{self, slot};
use crate::duty;
use crate::law::{self, Stretch};
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
            slots: card::condition(),
        })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let blocks = duty::blocks(record)?;
            let all = blocks.points.iter().chain(blocks.shocks.iter().flatten());
            let added: Vec<_> = all
                .map(|block| duty::added(&self.spec, &self.map, block))
                .collect();
            condition = self.after(&condition, &duty::total(added.iter()), 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges.
    pub fn after(&self, before: &Row, stretch: &Stretch, share: f64) -> Row {
        let mut row = law::after(&self.spec, before, stretch, share);
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

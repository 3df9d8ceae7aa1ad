//! The condition: what duty has done so far. Advancing and reworking.

use ringland_plugin::{Duty, Finding, Specimen, check_row, error, hold_row};

use crate::card::{self, slot};
use crate::duty::record;
use crate::maps::Maps;
use crate::spec::Spec;

/// A specimen with its maps.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The maps.
    pub maps: Maps<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and maps.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let maps = Maps::read(prepared, &spec)?;
        Ok(Self { spec, maps })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let mut row = row.to_vec();
        let mut rows = Vec::with_capacity(duties.len());
        for duty in duties {
            let added = record(&self.spec, &self.maps, duty)?.total();
            row = after(&row, &added, 1.0);
            rows.push(row.clone());
        }
        Ok(rows)
    }
}

/// The condition after `share` of what a record adds (more than 1 repeats it), held within the ranges of its slots.
pub fn after(row: &[f64], added: &[f64; slot::COUNT], share: f64) -> Vec<f64> {
    let sums = row
        .iter()
        .zip(added)
        .map(|(value, add)| value + share * add);
    let mut row: Vec<f64> = sums.collect();
    hold_row(&card::condition(), &mut row);
    row
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have, or a row out of range.
pub fn rework(spec: &Spec, row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    let mut row = row.to_vec();
    match operation {
        card::LASH_SET => row[slot::LASH_TAKEN] = 0.0,
        card::SEAT_CUT => {
            row[slot::RECESSION] = 0.0;
            row[slot::LASH_TAKEN] = 0.0;
            row[slot::MARGIN_LOST] += spec.recut_stock_m;
        }
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (lash_set) or 1 (seat_cut)",
                "choose an operation of the card",
            )]);
        }
    }
    hold_row(&card::condition(), &mut row);
    Ok(row)
}

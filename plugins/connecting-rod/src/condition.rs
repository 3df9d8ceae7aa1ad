//! The condition: what duty has done so far. Advancing, reworking.

use ringland_engine::{Block, OperatingMap, points_and_over_revs};
use ringland_plugin::{Duty, Finding, Specimen, check_row, error};

use crate::card::{self, slot};
use crate::operating_map::{DAMAGES, GRID, Looked, look_up};
use crate::relaxation::{NODES, weights};
use crate::spec::Spec;

/// A block of duty, looked up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// Engine cycles.
    pub cycles: f64,
    /// Engine speed \[rad/s\].
    pub speed_rad_s: f64,
    /// What each cycle does.
    pub each: Looked,
}

/// A stretch of duty: its blocks mixed evenly.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// Engine cycles.
    pub cycles: f64,
    /// Damage by all of them at each node of the retained share.
    pub damage: [[f64; NODES]; DAMAGES],
    /// Highest engine speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Largest compression of the beam \[N\].
    pub compression_n: f64,
}

impl Stretch {
    /// All blocks together.
    pub fn of<'a>(blocks: impl Iterator<Item = &'a Added>) -> Self {
        let mut stretch = Self::default();
        for added in blocks.filter(|added| added.cycles > 0.0) {
            stretch.cycles += added.cycles;
            stretch.speed_rad_s = stretch.speed_rad_s.max(added.speed_rad_s);
            stretch.compression_n = stretch.compression_n.max(added.each.compression_n);
            for (sum, each) in stretch.damage.iter_mut().zip(&added.each.damage) {
                for (sum, each) in sum.iter_mut().zip(each) {
                    *sum += added.cycles * each;
                }
            }
        }
        stretch
    }
}

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: OperatingMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = OperatingMap::read(prepared, &spec.engine, &GRID)?;
        Ok(Self { spec, map })
    }

    /// Looks up the operating points and the over-revs of a record.
    ///
    /// # Errors
    /// Every entry of the record out of bounds.
    pub fn added(&self, record: &Duty) -> Result<(Vec<Added>, Vec<Added>), Vec<Finding>> {
        let (points, over_revs) = points_and_over_revs(&card::duty(), record)?;
        let look = |blocks: &[Block]| -> Result<Vec<Added>, Vec<Finding>> {
            let one = |block: &Block| {
                Ok(Added {
                    cycles: block.cycles(),
                    speed_rad_s: block.speed_rad_s,
                    each: look_up(&self.spec, &self.map, block)?,
                })
            };
            blocks.iter().map(one).collect()
        };
        Ok((look(&points)?, look(&over_revs)?))
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let mut row = row.to_vec();
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let (points, over_revs) = self.added(record)?;
            row = after(&row, &Stretch::of(points.iter().chain(&over_revs)), 1.0);
            rows.push(row.clone());
        }
        Ok(rows)
    }
}

/// The condition after `share` of a stretch (more than 1 repeats it), held within the ranges of its slots.
pub fn after(row: &[f64], stretch: &Stretch, share: f64) -> Vec<f64> {
    let mut row = row.to_vec();
    if stretch.cycles <= 0.0 || share <= 0.0 {
        return row;
    }
    let weights = weights(row[slot::CYCLES], share * stretch.cycles);
    for (slot, damage) in row.iter_mut().zip(&stretch.damage) {
        let nodes = weights.iter().zip(damage);
        let weighted: f64 = nodes.map(|(weight, damage)| weight * damage).sum();
        *slot = (*slot + weighted / stretch.cycles).min(card::MOST_DAMAGE);
    }
    row[slot::CYCLES] = (row[slot::CYCLES] + share * stretch.cycles).min(card::MOST_CYCLES);
    row[slot::SPEED] = row[slot::SPEED].max(stretch.speed_rad_s);
    let compression_n = row[slot::COMPRESSION].max(stretch.compression_n);
    row[slot::COMPRESSION] = compression_n.min(card::MOST_COMPRESSION_N);
    row
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have, or a row out of range.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    if operation != card::PEENED {
        let remedy = "choose an operation of the card";
        return Err(vec![error(
            "operation",
            f64::from(operation),
            "0 (peened)",
            remedy,
        )]);
    }
    let mut row = row.to_vec();
    row[slot::CYCLES] = 0.0;
    Ok(row)
}

//! The condition: what duty has done so far. Beginning, advancing, reworking.

use ringland_engine::points_and_over_revs;
use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, Finding, Specimen, begin_row, check_row, error, hold_row};

use crate::bore_map::{BoreMap, HEIGHTS};
use crate::card;
use crate::constants::{HONE_STOCK_M, SHIFT_HOURS_H};
use crate::duty::{self, Stretch};
use crate::spec::Spec;

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Radial wear at each height since the last hone \[m\].
    pub wear_m: [f64; HEIGHTS],
    /// Seating dose since the last hone \[1\].
    pub seating: f64,
    /// Hours of the casting at the bore temperature of full load, over its whole life.
    pub heat_h: f64,
    /// Of these, the hours that had passed when it was last honed round.
    pub honed_heat_h: f64,
    /// Hours at low load times what was unseated.
    pub glaze_h: f64,
    /// Metal honed off the diameter so far \[m\].
    pub removed_m: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let (wear, rest) = row.split_at(HEIGHTS);
        let mut wear_m = [0.0; HEIGHTS];
        wear_m.copy_from_slice(wear);
        let mut others = [0.0; card::slot::COUNT - HEIGHTS];
        others.copy_from_slice(rest);
        let [seating, heat_h, honed_heat_h, glaze_h, removed_m] = others;
        Ok(Self {
            wear_m,
            seating,
            heat_h,
            honed_heat_h,
            glaze_h,
            removed_m,
        })
    }

    /// The row, held within the card's range, far beyond any limit, so that no duty leads out of the contract.
    pub fn row(&self) -> Vec<f64> {
        let mut row = self.wear_m.to_vec();
        row.extend([
            self.seating,
            self.heat_h,
            self.honed_heat_h,
            self.glaze_h,
            self.removed_m,
        ]);
        hold_row(&card::condition(), &mut row);
        row
    }

    /// What is left of the fresh hone, 1 to 0.
    pub fn unseated(&self) -> f64 {
        libm::exp(-self.seating)
    }
}

/// The condition of a new bore, with the slots that are known of a used one. A casting with hours on it was honed round with them.
///
/// # Errors
/// Slots out of range, or a list of the wrong length.
pub fn begin(opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
    begin_row(&card::condition(), opening)
}

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: BoreMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = BoreMap::read(prepared, &spec)?;
        Ok(Self { spec, map })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = Condition::read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let (points, over_revs) = points_and_over_revs(&card::duty(), record)?;
            let added: Vec<_> = points
                .iter()
                .chain(&over_revs)
                .map(|block| duty::added(&self.spec, &self.map, block))
                .collect();
            let crown = self.crown(record);
            condition = self.after(&condition, &duty::total(added.iter()), crown, 1.0);
            let row = condition.row();
            condition = Condition::read(&row)?;
            rows.push(row);
        }
        Ok(rows)
    }

    /// What is left of the top ring's crown above that which tilt keeps, by its wear at the start of the record.
    pub fn crown(&self, record: &Duty) -> f64 {
        let pack = &self.spec.rings.pack;
        let worn_m = record.mates.first().copied().unwrap_or(0.0).max(0.0);
        libm::exp(-worn_m / pack.crown_length_m(0))
    }

    /// The condition after `share` of a stretch (more than 1 repeats it) under a given crown.
    pub fn after(
        &self,
        before: &Condition,
        stretch: &Stretch,
        crown: f64,
        share: f64,
    ) -> Condition {
        let seating = RunningIn {
            from: before.seating,
            added: stretch.seating,
        };
        let mut after = *before;
        for (worn_m, rate) in after.wear_m.iter_mut().zip(&stretch.heights) {
            *worn_m += rate.held_crown_m(crown, &seating, share);
        }
        let [_, unseated] = seating.integrals::<2>(share);
        after.glaze_h += stretch.low_load_h * unseated;
        after.seating += stretch.seating * share;
        after.heat_h += stretch.heat_h * share;
        after
    }

    /// Out-of-round that the casting has taken on since it was last honed round, at a multiplier of 1 \[m\]: what is relaxed closes
    /// exponentially in hours at temperature.
    pub fn shift_m(&self, condition: &Condition) -> f64 {
        let left = |hours: f64| libm::exp(-hours / SHIFT_HOURS_H);
        let closed = left(condition.honed_heat_h) - left(condition.heat_h);
        self.spec.shift_m * closed.max(0.0)
    }

    /// Difference of diameters at a height, along the thrust axis and across it, from wear alone \[m\]: wear goes with
    /// `1 + a cos 2θ` round the bore.
    pub fn worn_out_of_round_m(&self, condition: &Condition, height: usize) -> f64 {
        4.0 * self.spec.thrust_share * condition.wear_m[height]
    }

    /// The condition after a shop operation.
    ///
    /// # Errors
    /// An operation that the card does not have.
    pub fn rework(&self, row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
        let before = Condition::read(row)?;
        if operation != card::REHONE {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (rehone)",
                "choose an operation of the card",
            )]);
        }
        // To clean up, the hone has to reach the deepest wear on the thrust axis and the long axis of the shift.
        let deepest_m = before.wear_m.iter().copied().fold(0.0, f64::max);
        let worn_m = 2.0 * deepest_m * (1.0 + self.spec.thrust_share);
        let after = Condition {
            heat_h: before.heat_h,
            honed_heat_h: before.heat_h,
            removed_m: before.removed_m + worn_m + self.shift_m(&before) + HONE_STOCK_M,
            ..Condition::default()
        };
        Ok(after.row())
    }
}

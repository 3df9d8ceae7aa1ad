//! The condition row, and what duty and the shop do to it.

use ringland_driveline::read as read_duty;
use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, error, hold_row};

use crate::card::{self, slot};
use crate::constants as c;
use crate::duty::{self, Added};
use crate::response_map::ResponseMap;
use crate::spec::Spec;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: ResponseMap<'a>,
    /// The duty that the card asks for.
    pub need: DutyNeed,
    slots: Vec<Slot>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = ResponseMap::read(prepared, &spec)?;
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
    pub fn added(&self, record: &Duty) -> Result<Added, Vec<Finding>> {
        let record = read_duty(&self.need, record)?;
        Ok(duty::added(&self.spec, &self.map, &record))
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            condition = self.after(&condition, &self.added(record)?, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. The hottest plate is met as
    /// soon as the stretch has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let spec = &self.spec;
        let mut row = *before;
        row[slot::STACK_WEAR] += added.wear_m * self.running_in(before, added, share);
        row[slot::GLAZE] += added.glaze * share;
        row[slot::FLOATER_SET] = added.floater.after(before[slot::FLOATER_SET], share);
        row[slot::PLATE_SET] = added.pressure_plate.after(before[slot::PLATE_SET], share);
        row[slot::HEAT_CHECK] += added.heat_check * share;
        row[slot::SPLINE_WEAR] =
            splines_worn_m(spec, before[slot::SPLINE_WEAR], added.spline_pa_m * share);
        row[slot::ENERGY] += added.energy_j * share;
        if share > 0.0 {
            row[slot::HOTTEST] = row[slot::HOTTEST].max(added.plate_k);
        }
        hold_row(&self.slots, &mut row);
        row
    }

    /// Wear over that of run-in linings, over `share` of a stretch.
    fn running_in(&self, before: &Row, added: &Added, share: f64) -> f64 {
        let seating_j = c::SEATING_J_M2 * self.spec.area_m2();
        let stretch = RunningIn {
            from: before[slot::ENERGY] / seating_j,
            added: added.energy_j / seating_j,
        };
        let [whole, unseated] = stretch.integrals::<2>(share);
        whole + (self.spec.running_in - 1.0) * unseated
    }
}

/// Depth worn off the splines \[m\] after a dose, from a depth: by the surface's coefficient while its coating lasts, by that of bare steel below.
pub fn splines_worn_m(spec: &Spec, depth_m: f64, dose_pa_m: f64) -> f64 {
    let own = spec.spline_wear_m2_n;
    if spec.coating_m <= 0.0 {
        return depth_m + own * dose_pa_m;
    }
    let left_pa_m = ((spec.coating_m - depth_m) / own).max(0.0);
    let coated_pa_m = dose_pa_m.min(left_pa_m);
    depth_m + own * coated_pa_m + c::SPLINE_WEAR_M2_N * (dose_pa_m - coated_pa_m)
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

/// The condition after a shop operation.
///
/// # Errors
/// A condition out of range, or an operation that the card does not have.
pub fn reworked(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    let reset: &[usize] = match operation {
        card::NEW_DISCS => &[
            slot::STACK_WEAR,
            slot::GLAZE,
            slot::SPLINE_WEAR,
            slot::ENERGY,
        ],
        card::NEW_PLATES => &[
            slot::FLOATER_SET,
            slot::PLATE_SET,
            slot::HEAT_CHECK,
            slot::HOTTEST,
        ],
        _ => {
            let remedy = "choose an operation of the card";
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (new_discs) or 1 (new_plates)",
                remedy,
            )]);
        }
    };
    for slot in reset {
        condition[*slot] = 0.0;
    }
    Ok(condition.to_vec())
}

//! The condition row, and what duty and the shop do to it.

use ringland_driveline::read as read_duty;
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, error, hold_row};

use crate::card::{self, slot};
use crate::constants::MODIFIER_J_M3;
use crate::duty::{self, Added};
use crate::pack::{friction, modifier, spring_n};
use crate::plate_heat::{self, Rise};
use crate::spec::Spec;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Model {
    /// The spec.
    pub spec: Spec,
    /// Rise of the plates in a burst of slip.
    pub rise: Rise,
    /// The duty that the card asks for.
    pub need: DutyNeed,
    slots: Vec<Slot>,
    /// Height lost for each newton on a face and metre of sliding \[1/N\], warm.
    wear_per_n: f64,
}

/// What changes as the pack works: height lost \[m\], heat in the oil \[J/m³\], heat \[J\].
type Worked = [f64; 3];

/// Loss of height, over the springs' deflection, that one step may take.
const STEP: f64 = 0.02;
/// Share of the modifier below which the oil has none.
const SPENT: f64 = 1.0e-9;
/// Most steps of a stretch.
const MOST_STEPS: f64 = 256.0;

impl Model {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &[f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let rise = plate_heat::read(prepared, &spec)?;
        Ok(Self {
            wear_per_n: spec.faces * spec.pair_wear_m2_n() / spec.face.area_m2(),
            spec,
            rise,
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
        Ok(duty::added(&self.spec, self.rise, &record))
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

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. A band yields as soon as the stretch
    /// has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let mut row = *before;
        if share <= 0.0 {
            return row;
        }
        let [wear, dose, energy] = self.worked(before, added, share);
        row[slot::STACK_WEAR] = wear;
        row[slot::OIL_DOSE] = dose;
        row[slot::ENERGY] = energy;
        row[slot::GLAZE] += added.glaze * share;
        row[slot::SCORING] += added.scoring_m * share;
        row[slot::BAND_STRAIN] = row[slot::BAND_STRAIN].max(added.band_strain);
        row[slot::TAB_WEAR] += added.tab_wear_m * share;
        hold_row(&self.slots, &mut row);
        row
    }

    /// Wear unloads the springs and so slows itself, and worked oil raises friction: the classical rule of C. Runge and W. Kutta over steps
    /// short enough that a cut changes nothing.
    fn worked(&self, before: &Row, added: &Added, share: f64) -> Worked {
        let mut now = [
            before[slot::STACK_WEAR],
            before[slot::OIL_DOSE],
            before[slot::ENERGY],
        ];
        let glaze = |done: f64| before[slot::GLAZE] + added.glaze * done;
        let fastest = self.rate(added, now, glaze(0.0));
        // What is spent changes nothing any more.
        let (oil_left, springs_n) = (modifier(&self.spec, now[1]), spring_n(&self.spec, now[0]));
        let oil = if oil_left > SPENT {
            fastest[1] * share / MODIFIER_J_M3
        } else {
            0.0
        };
        let wear = if springs_n > 0.0 {
            fastest[0] * share / self.spec.spring_deflection_m
        } else {
            0.0
        };
        let glazing = (added.glaze * share).min(1.0);
        let steps = ((wear + oil + glazing) / STEP)
            .ceil()
            .clamp(1.0, MOST_STEPS);
        let step = share / steps;
        let ahead = |from: Worked, rate: Worked, by: f64| -> Worked {
            std::array::from_fn(|k| from[k] + by * rate[k])
        };
        for k in 0..steps as usize {
            let at = step * k as f64;
            let first = self.rate(added, now, glaze(at));
            let middle = glaze(at + 0.5 * step);
            let second = self.rate(added, ahead(now, first, 0.5 * step), middle);
            let third = self.rate(added, ahead(now, second, 0.5 * step), middle);
            let fourth = self.rate(added, ahead(now, third, step), glaze(at + step));
            let mean: Worked = std::array::from_fn(|k| {
                (first[k] + 2.0 * (second[k] + third[k]) + fourth[k]) / 6.0
            });
            now = ahead(now, mean, step);
        }
        now
    }

    /// What one whole record would add at a condition that stayed. Wear is J. F. Archard's on the force of each face; heat is friction's
    /// work.
    fn rate(&self, added: &Added, [wear_m, dose, _]: Worked, glaze: f64) -> Worked {
        let spec = &self.spec;
        let springs_n = spring_n(spec, wear_m);
        let [worn_m, worn_n_m] = added.worn;
        let [slid_m, slid_n_m] = added.slid;
        let heat_j = spec.faces * friction(spec, dose, glaze) * (springs_n * slid_m + slid_n_m);
        [
            self.wear_per_n * (springs_n * worn_m + worn_n_m),
            heat_j / spec.oil_m3,
            heat_j,
        ]
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

/// The condition after a shop operation.
///
/// # Errors
/// A condition out of range, or an operation that the card does not have.
pub fn reworked(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    let reset: &[usize] = match operation {
        card::CHANGE_OIL => &[slot::OIL_DOSE],
        card::RESTACK => &[
            slot::STACK_WEAR,
            slot::OIL_DOSE,
            slot::GLAZE,
            slot::SCORING,
            slot::BAND_STRAIN,
            slot::TAB_WEAR,
        ],
        _ => {
            let remedy = "choose an operation of the card";
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (change_oil) or 1 (restack)",
                remedy,
            )]);
        }
    };
    for slot in reset {
        condition[*slot] = 0.0;
    }
    Ok(condition.to_vec())
}

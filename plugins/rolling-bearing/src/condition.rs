//! The condition row, and what duty and the shop do to it.

use ringland_driveline::Use;
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, error, hold_row};

use crate::card::{self, NEW_GREASE, PLAY_SET, slot};
use crate::constants as c;
use crate::duty::{self, Added, Dents};
use crate::operating_map::{OperatingMap, STATES};
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
    growths_m: [f64; STATES],
    slots: Vec<Slot>,
}

/// A record: its operating points one by one and together, its impacts together.
pub struct Stretch {
    /// Each operating point.
    pub points: Vec<Added>,
    /// All of them.
    pub total: Added,
    /// All impacts.
    pub dents: Dents,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = OperatingMap::read(prepared, &spec)?;
        Ok(Self {
            growths_m: map.growths_m(),
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
    pub fn stretch(&self, record: &Duty) -> Result<Stretch, Vec<Finding>> {
        let Use {
            points, impacts, ..
        } = ringland_driveline::read(&self.need, record)?;
        let one = |block| duty::added(&self.spec, &self.map, block);
        let points: Vec<Added> = points.iter().map(one).collect();
        Ok(Stretch {
            total: duty::total(points.iter()),
            dents: Dents::of(&self.spec, &self.map, &impacts),
            points,
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
            condition = self.after(&condition, &self.stretch(record)?, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after a stretch is gone through `times` over (a part of it, or many), held within the card's ranges. Impacts count from the start
    /// of a stretch; over many the dents in force are those of its middle.
    pub fn after(&self, before: &Row, stretch: &Stretch, times: f64) -> Row {
        let (added, dents) = (&stretch.total, &stretch.dents);
        let mut row = *before;
        if times <= 0.0 {
            return row;
        }
        row[slot::GROWTH] += added.growth_m * times;
        for k in 0..2 {
            let dented =
                before[slot::DENTED + k] + dents.hazard[k] * (0.5 * (times + 1.0)).max(1.0);
            let used = before[slot::FATIGUE + k];
            row[slot::FATIGUE + k] += self.life_used(&added.fatigue[k], before, &row, times);
            let power = |used: f64| libm::pow(used, c::SLOPE);
            let grown = power(row[slot::FATIGUE + k]) - power(used);
            row[slot::SPALL] += RATED_HAZARD * (1.0 + dented) * grown;
            row[slot::DENTED + k] += dents.hazard[k] * times;
        }
        row[slot::DEEPEST] = row[slot::DEEPEST].max(dents.deepest);
        row[slot::DENTS] += dents.count * times;
        row[slot::GREASE] += added.grease * times;
        row[slot::CAGE] += added.cage * times;
        row[slot::TURNS] += added.turns * times;
        hold_row(&self.slots, &mut row);
        row
    }

    /// Rated life used while play grows: rates straight between the growths that are solved, integrated exactly.
    fn life_used(&self, rates: &[f64; STATES], before: &Row, after: &Row, times: f64) -> f64 {
        let (from_m, to_m) = (before[slot::GROWTH], after[slot::GROWTH]);
        if to_m - from_m <= 1.0e-9 * self.growths_m[STATES - 1] {
            return times * rate_at(&self.growths_m, rates, 0.5 * (from_m + to_m)).0;
        }
        let sum =
            rate_at(&self.growths_m, rates, to_m).1 - rate_at(&self.growths_m, rates, from_m).1;
        times * sum / (to_m - from_m)
    }
}

/// ln(1/0.9): hazard at the rated life.
pub const RATED_HAZARD: f64 = 0.105_360_515_657_826_3;

/// A rate at a growth of play, and its integral up to there; held beyond the last node.
fn rate_at(growths_m: &[f64; STATES], rates: &[f64; STATES], growth_m: f64) -> (f64, f64) {
    let mut integral = 0.0;
    for k in 1..STATES {
        let (from, to) = (growths_m[k - 1], growths_m[k]);
        let reached = growth_m.min(to);
        let share = (reached - from) / (to - from);
        let rate = rates[k - 1] + share * (rates[k] - rates[k - 1]);
        integral += 0.5 * (rates[k - 1] + rate) * (reached - from);
        if growth_m <= to {
            return (rate, integral);
        }
    }
    let last = rates[STATES - 1];
    (last, integral + last * (growth_m - growths_m[STATES - 1]))
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
/// An operation that the card does not have, or a row out of range.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    match operation {
        PLAY_SET => condition[slot::GROWTH] = 0.0,
        NEW_GREASE => condition[slot::GREASE] = 0.0,
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (play_set) or 1 (new_grease)",
                "choose an operation of the card",
            )]);
        }
    }
    Ok(condition.to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rate that goes straight from 1 to 3 over the first stretch: integral by hand, and held beyond the last node.
    #[test]
    fn rates_are_integrated_exactly() {
        let growths = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0];
        let rates = [1.0, 3.0, 3.0, 3.0, 3.0, 5.0];
        for (growth, rate, integral) in [
            (0.0, 1.0, 0.0),
            (0.5, 2.0, 0.75),
            (1.0, 3.0, 2.0),
            (5.0, 5.0, 15.0),
            (7.0, 5.0, 25.0),
        ] {
            let (found, summed) = rate_at(&growths, &rates, growth);
            assert!(
                (found - rate).abs() < 1e-12 && (summed - integral).abs() < 1e-12,
                "{growth}: {found} {summed}"
            );
        }
    }
}

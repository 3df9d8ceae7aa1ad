//! The condition: what duty has done so far. Advancing and reworking.

use ringland_plugin::{Duty, Finding, Specimen, check_row, error, hold_row};

use crate::card;
use crate::duty::{self, Added};
use crate::operating_map::BearingMap;
use crate::spec::Spec;

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Wear at the worst place of upper and lower shell \[m\].
    pub wear_m: [f64; 2],
    /// Miner sum of upper and lower shell.
    pub fatigue: [f64; 2],
    /// Highest boundary heat seen \[W/m²\].
    pub boundary_heat_w_m2: f64,
    /// Low-pressure dips not yet followed by a look at the shells.
    pub cautions: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        let slots = card::condition();
        check_row(&slots, row)?;
        let &[upper_m, lower_m, upper, lower, boundary_heat_w_m2, cautions] = row else {
            return Err(vec![error(
                "condition",
                row.len() as f64,
                "6 values, in card order",
                "begin the component again",
            )]);
        };
        Ok(Self {
            wear_m: [upper_m, lower_m],
            fatigue: [upper, lower],
            boundary_heat_w_m2,
            cautions,
        })
    }

    fn row(&self) -> Vec<f64> {
        let mut row = vec![
            self.wear_m[0],
            self.wear_m[1],
            self.fatigue[0],
            self.fatigue[1],
            self.boundary_heat_w_m2,
            self.cautions,
        ];
        hold_row(&card::condition(), &mut row);
        row
    }

    /// Wear of the shell that has worn more \[m\].
    pub fn most_wear_m(&self) -> f64 {
        self.wear_m[0].max(self.wear_m[1])
    }

    /// Miner sum of the shell that has suffered more.
    pub fn most_fatigue(&self) -> f64 {
        self.fatigue[0].max(self.fatigue[1])
    }

    /// After `share` of a stretch (more than 1 repeats it). A peak may come at any time of the
    /// stretch and counts from its start.
    #[must_use]
    pub fn after(&self, spec: &Spec, added: &Added, share: f64) -> Self {
        let mut after = *self;
        for side in 0..2 {
            after.wear_m[side] = spec.worn_m(self.wear_m[side], share * added.dose_pa_m[side]);
            after.fatigue[side] += share * added.fatigue[side];
        }
        if share > 0.0 {
            after.boundary_heat_w_m2 = self.boundary_heat_w_m2.max(added.boundary_heat_w_m2);
        }
        after.cautions += share * added.cautions;
        after
    }
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let before = Condition::read(row)?;
    if operation != card::CAP_PULLED {
        return Err(vec![error(
            "operation",
            f64::from(operation),
            "0 (cap_pulled)",
            "choose an operation of the card",
        )]);
    }
    let after = Condition {
        boundary_heat_w_m2: 0.0,
        cautions: 0.0,
        ..before
    };
    Ok(after.row())
}

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: BearingMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = BearingMap::read(prepared, &spec)?;
        Ok(Self { spec, map })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = Condition::read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for duty in duties {
            let added = duty::record(&self.spec, &self.map, duty)?.total();
            let row = condition.after(&self.spec, &added, 1.0).row();
            condition = Condition::read(&row)?;
            rows.push(row);
        }
        Ok(rows)
    }
}

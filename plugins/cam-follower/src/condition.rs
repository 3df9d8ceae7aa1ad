//! The condition: what duty has done so far. Advancing and reworking.

use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, Finding, Specimen, check_row, error, hold_row};

use crate::card::{self, operation};
use crate::constants::SEATING_TURNS;
use crate::duty::{self, Added};
use crate::spec::{Face, Spec};
use crate::speed_map::CamMap;
use crate::turn::STATIONS;

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Wear at each station of the lobe \[m\].
    pub lobe_wear_m: [f64; STATIONS],
    /// Miner sum at each station of the lobe.
    pub lobe_pitting: [f64; STATIONS],
    /// Wear of the follower at its worst place \[m\].
    pub follower_wear_m: f64,
    /// Miner sum of the follower.
    pub follower_pitting: f64,
    /// Highest flash temperature over the room for it, since the pair was last looked at.
    pub scuff_severity: f64,
    /// Growth of lash at the valve since it was last set \[m\].
    pub lash_growth_m: f64,
    /// Turns of the cam so far.
    pub turns: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let wrong = || {
            let expected = format!("{} values, in card order", 2 * STATIONS + 5);
            let remedy = "begin the component again";
            vec![error("condition", row.len() as f64, &expected, remedy)]
        };
        let (&lobe_wear_m, rest) = row.split_first_chunk::<STATIONS>().ok_or_else(wrong)?;
        let (&lobe_pitting, rest) = rest.split_first_chunk::<STATIONS>().ok_or_else(wrong)?;
        let &[
            follower_wear_m,
            follower_pitting,
            scuff_severity,
            lash_growth_m,
            turns,
        ] = rest
        else {
            return Err(wrong());
        };
        Ok(Self {
            lobe_wear_m,
            lobe_pitting,
            follower_wear_m,
            follower_pitting,
            scuff_severity,
            lash_growth_m,
            turns,
        })
    }

    fn row(&self) -> Vec<f64> {
        let mut row = Vec::with_capacity(2 * STATIONS + 5);
        row.extend(self.lobe_wear_m);
        row.extend(self.lobe_pitting);
        row.extend([
            self.follower_wear_m,
            self.follower_pitting,
            self.scuff_severity,
            self.lash_growth_m,
            self.turns,
        ]);
        hold_row(&card::condition(), &mut row);
        row
    }

    /// Wear of the lobe where it is deepest \[m\].
    pub fn deepest_wear_m(&self) -> f64 {
        self.lobe_wear_m.iter().copied().fold(0.0, f64::max)
    }

    /// Wear of the nose \[m\]: the lift that is lost at the cam.
    pub fn nose_wear_m(&self) -> f64 {
        self.lobe_wear_m[STATIONS / 2]
    }

    /// Miner sum of the lobe where it is highest.
    pub fn most_lobe_pitting(&self) -> f64 {
        self.lobe_pitting.iter().copied().fold(0.0, f64::max)
    }

    /// After `share` of a stretch (more than 1 repeats it). A peak may come at any time of the stretch and counts from its start.
    #[must_use]
    pub fn after(&self, spec: &Spec, added: &Added, share: f64) -> Self {
        let mut after = *self;
        let running_in = RunningIn {
            from: self.turns / SEATING_TURNS,
            added: added.turns / SEATING_TURNS,
        };
        let [steady, fresh] = running_in.integrals::<2>(share);
        let wear = |face: &Face, dose_pa_m: f64| {
            let more = (face.running_in_multiplier - 1.0) * fresh;
            face.wear_coefficient_m2_n * dose_pa_m * (steady + more)
        };
        for station in 0..STATIONS {
            after.lobe_wear_m[station] += wear(&spec.lobe, added.lobe_dose_pa_m[station]);
            after.lobe_pitting[station] += share * added.lobe_pitting[station];
        }
        let worn_m = wear(&spec.follower, added.follower_dose_pa_m);
        after.follower_wear_m += worn_m;
        after.lash_growth_m += spec.train.rocker_ratio * worn_m;
        after.follower_pitting += share * added.follower_pitting;
        if share > 0.0 {
            after.scuff_severity = self.scuff_severity.max(added.scuff_severity);
        }
        after.turns += share * added.turns;
        after
    }
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let before = Condition::read(row)?;
    let after = match operation {
        operation::LASH_SET => Condition {
            lash_growth_m: 0.0,
            ..before
        },
        operation::INSPECTED => Condition {
            scuff_severity: 0.0,
            ..before
        },
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (lash_set) or 1 (inspected)",
                "choose an operation of the card",
            )]);
        }
    };
    Ok(after.row())
}

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: CamMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = CamMap::read(prepared, &spec)?;
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

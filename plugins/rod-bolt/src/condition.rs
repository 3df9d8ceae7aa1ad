//! The condition: what duty and tightening have done so far. Beginning, advancing, reworking.

use ringland_engine::{Block, OperatingMap, points_and_over_revs};
use ringland_plugin::{
    Duty, DutyNeed, Finding, Slot, Specimen, begin_row, check_row, error, hold_row,
};

use crate::bolt::{Bolt, History, damage_sum};
use crate::card::{self, operation, slot};
use crate::constants::KEPT_Z;
use crate::loads::{self, BoltLoad, GRID};
use crate::spec::{RodJoint, Spec};

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Preload of the median bolt at the last tightening \[N\].
    pub assembly_n: f64,
    /// What use since then has done.
    pub history: History,
    /// Tightenings so far.
    pub tightenings: f64,
    /// Running time since the last build \[s\].
    pub running_s: f64,
    /// Highest crank speed ever \[rad/s\].
    pub highest_speed_rad_s: f64,
    /// Damage of a bolt of median strength at each of [`KEPT_Z`].
    pub damage: [f64; KEPT_Z.len()],
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        Ok(Self::of(row))
    }

    /// Types a row of the right length.
    fn of(row: &[f64]) -> Self {
        let (state, damages) = row.split_at(slot::FIRST_DAMAGE);
        let mut damage = [0.0; KEPT_Z.len()];
        damage.copy_from_slice(damages);
        Self {
            assembly_n: state[slot::ASSEMBLY_PRELOAD],
            history: History {
                embedding_m: state[slot::EMBEDDING],
                peak_load_n: state[slot::PEAK_LOAD],
                opening_load_n: state[slot::OPENING_LOAD],
                kept_stretch_m: state[slot::KEPT_STRETCH],
            },
            tightenings: state[slot::TIGHTENINGS],
            running_s: state[slot::RUNNING],
            highest_speed_rad_s: state[slot::HIGHEST_SPEED],
            damage,
        }
    }

    /// The row, held within the ranges of its slots.
    fn row(&self, slots: &[Slot]) -> Vec<f64> {
        let mut row = vec![0.0; slot::FIRST_DAMAGE];
        row[slot::ASSEMBLY_PRELOAD] = self.assembly_n;
        row[slot::EMBEDDING] = self.history.embedding_m;
        row[slot::PEAK_LOAD] = self.history.peak_load_n;
        row[slot::OPENING_LOAD] = self.history.opening_load_n;
        row[slot::KEPT_STRETCH] = self.history.kept_stretch_m;
        row[slot::TIGHTENINGS] = self.tightenings;
        row[slot::RUNNING] = self.running_s;
        row[slot::HIGHEST_SPEED] = self.highest_speed_rad_s;
        row.extend(self.damage);
        hold_row(slots, &mut row);
        row
    }
}

/// The condition of new bolts, tightened as the spec says, with the slots that are known of used ones.
///
/// # Errors
/// Slots out of range, or a list of the wrong length.
pub fn begin(bolts: &Bolts<'_>, opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
    let mut row = begin_row(&card::condition(), opening)?;
    if opening[slot::ASSEMBLY_PRELOAD].is_none() {
        row[slot::ASSEMBLY_PRELOAD] = bolts.rod.assembly_preload_n(&bolts.spec);
    }
    if opening[slot::TIGHTENINGS].is_none() {
        row[slot::TIGHTENINGS] = bolts.spec.tightenings_per_build;
    }
    hold_row(&card::condition(), &mut row);
    Ok(row)
}

/// What a record puts on a bolt; `None` where the engine stands.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordLoads {
    /// At each operating point.
    pub points: Vec<Option<BoltLoad>>,
    /// In each over-rev.
    pub over_revs: Vec<Option<BoltLoad>>,
    /// Running time \[s\].
    pub running_s: f64,
}

impl RecordLoads {
    /// All that there are, points first.
    pub fn all(&self) -> Vec<BoltLoad> {
        let each = self.points.iter().chain(&self.over_revs);
        each.flatten().copied().collect()
    }
}

/// A specimen with its map.
pub struct Bolts<'a> {
    /// The spec.
    pub spec: Spec,
    /// Bolt and joint.
    pub rod: RodJoint,
    /// The map.
    pub map: OperatingMap<'a>,
    /// Standard deviation of ln(preload) between the bolts.
    pub preload_ln_sd: f64,
}

impl<'a> Bolts<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, dimensions that make no joint.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let refused = |refused: ringland_mechanics::range::OutOfRange| {
            vec![error(
                refused.field,
                refused.value,
                refused.expected,
                "check the spec",
            )]
        };
        let rod = spec.rod_joint().map_err(refused)?;
        let map = OperatingMap::read(prepared, &spec.engine, &GRID)?;
        Ok(Self {
            preload_ln_sd: rod.preload_ln_sd(&spec),
            spec,
            rod,
            map,
        })
    }

    /// What a record, asked for by the card's need, puts on a bolt.
    ///
    /// # Errors
    /// Every entry of the record out of bounds.
    pub fn loads(&self, need: &DutyNeed, record: &Duty) -> Result<RecordLoads, Vec<Finding>> {
        let (points, over_revs) = points_and_over_revs(need, record)?;
        let look_up = |block: &Block| loads::bolt_load(&self.spec, &self.rod, &self.map, block);
        let running = points.iter().filter(|block| block.speed_rad_s > 0.0);
        Ok(RecordLoads {
            running_s: running.fold(0.0, |sum, block| sum + block.time_s),
            points: points.iter().map(look_up).collect(),
            over_revs: over_revs.iter().map(look_up).collect(),
        })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = Condition::read(row)?;
        let (slots, need) = (card::condition(), card::duty());
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let loads = self.loads(&need, record)?;
            condition = self.after(&condition, &loads.all(), loads.running_s);
            let held = condition.row(&slots);
            condition = Condition::of(&held);
            rows.push(held);
        }
        Ok(rows)
    }

    /// The condition after loads. Surfaces embed and bolts yield first, so that all of the loads meet the preload that is left: the order within a
    /// record is not known, and this is the safe side.
    pub fn after(&self, before: &Condition, loads: &[BoltLoad], running_s: f64) -> Condition {
        let mut after = *before;
        after.history = before
            .history
            .after(&self.rod, self.spec.embedding_m, loads);
        after.running_s += running_s;
        for load in loads {
            after.highest_speed_rad_s = after.highest_speed_rad_s.max(load.speed_rad_s);
        }
        let settled = after;
        for (damage, z) in after.damage.iter_mut().zip(KEPT_Z) {
            let preload_n = self.bolt(&settled, z).preload_n;
            *damage += damage_sum(&self.rod, preload_n, loads, *damage > 0.0);
        }
        after
    }

    /// The bolt whose assembly preload stands so many standard deviations from the median.
    pub fn bolt(&self, condition: &Condition, z: f64) -> Bolt {
        let assembly_n = condition.assembly_n * libm::exp(self.preload_ln_sd * z);
        Bolt::new(&self.rod, assembly_n, &condition.history)
    }

    /// The condition after a shop operation.
    ///
    /// # Errors
    /// An operation that the card does not have.
    pub fn rework(&self, row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
        let before = Condition::read(row)?;
        let tightened = Condition {
            assembly_n: self.rod.assembly_preload_n(&self.spec),
            history: History {
                kept_stretch_m: self.bolt(&before, 0.0).stretch_m,
                ..History::default()
            },
            tightenings: before.tightenings + 1.0,
            ..before
        };
        let after = match operation {
            operation::RETORQUE => tightened,
            operation::FRESHEN => Condition {
                tightenings: before.tightenings + self.spec.tightenings_per_build,
                running_s: 0.0,
                ..tightened
            },
            _ => {
                return Err(vec![error(
                    "operation",
                    f64::from(operation),
                    "0 (retorque) or 1 (freshen)",
                    "choose an operation of the card",
                )]);
            }
        };
        Ok(after.row(&card::condition()))
    }
}

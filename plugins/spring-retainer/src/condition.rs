//! The condition row, and what duty and the shop do to it.

use ringland_engine::points_and_over_revs;
use ringland_engine::valvetrain::SpeedMap;
use ringland_plugin::{Duty, DutyNeed, Finding, Slot, Specimen, check_row, hold_row};

use crate::card::{self, slot};
use crate::constants as c;
use crate::duty::{self, Added};
use crate::operating_map::GRID;
use crate::spec::Spec;
use crate::wear::Layered;

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: SpeedMap<'a>,
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
        let map = SpeedMap::read(prepared, &spec.train, &GRID)?;
        Ok(Self {
            spec,
            map,
            need: card::duty(),
            slots: card::condition(),
        })
    }

    /// What a record adds: by operating point, by over-rev.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn added(&self, record: &Duty) -> Result<(Vec<Added>, Vec<Added>), Vec<Finding>> {
        let (points, over_revs) = points_and_over_revs(&self.need, record)?;
        let one = |block| duty::added(&self.spec, &self.map, block);
        Ok((
            points.iter().map(one).collect(),
            over_revs.iter().map(one).collect(),
        ))
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let (points, over_revs) = self.added(record)?;
            let total = duty::total(points.iter().chain(&over_revs));
            condition = self.after(&condition, &total, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. The highest forces are met as
    /// soon as the stretch has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let spec = &self.spec;
        let mut row = *before;
        let taper = Layered::new(spec.taper, &spec.material, c::TAPER_WEAR_M2_N);
        let seat = Layered::new(spec.seat, &spec.material, c::SEAT_WEAR_M2_N);
        let dose_pa_m = added.taper_pa_m * share;
        let (taper_m, bare_pa_m) = taper.worn(before[slot::TAPER], dose_pa_m);
        row[slot::TAPER] = taper_m;
        let worn_m = taper_m - before[slot::TAPER] + spec.keeper_wear_m2_n * dose_pa_m;
        row[slot::SINK] += spec.cone().sink_m(worn_m);
        if share > 0.0 {
            row[slot::DRIVEN] = row[slot::DRIVEN].max(added.held_n);
            row[slot::FORCE] = row[slot::FORCE].max(added.force_n);
        }
        row[slot::SINK] += self.driven_further_m(before, &row);
        row[slot::STEP] = seat.worn(before[slot::STEP], added.seat_pa_m * share).0;
        row[slot::FLANGE] += added.flange * share;
        row[slot::HUB] += added.hub * share;
        if spec.material.galls && dose_pa_m > 0.0 {
            let friction_j_m2 = spec.taper.friction * added.worst_pa_m * share;
            row[slot::GALLING] += c::GALLING_M2_J * friction_j_m2 * bare_pa_m / dose_pa_m;
        }
        hold_row(&self.slots, &mut row);
        row
    }

    /// Sink by harder driving on than before \[m\].
    pub fn driven_further_m(&self, before: &Row, after: &Row) -> f64 {
        let driven_m = |row: &Row| self.spec.driven_m(row[slot::DRIVEN]);
        driven_m(after) - driven_m(before)
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

/// The condition with new keepers, driven on anew: what the retainer's taper has worn stays.
///
/// # Errors
/// A condition out of range.
pub fn with_new_keepers(spec: &Spec, row: &[f64]) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    let kept_m = spec.cone().sink_m(condition[slot::TAPER]);
    condition[slot::SINK] = condition[slot::SINK].min(kept_m);
    condition[slot::DRIVEN] = 0.0;
    Ok(condition.to_vec())
}

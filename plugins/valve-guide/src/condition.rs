//! The condition row, and what duty and the shop do to it.

use ringland_engine::points_and_over_revs;
use ringland_engine::valvetrain::SpeedMap;
use ringland_mechanics::guide::{HeatPath, WornVolumes};
use ringland_plugin::{
    Duty, DutyNeed, Finding, Slot, Specimen, check_row, error, hold_row, time_mean,
};

use crate::card::{self, channel, slot};
use crate::duty::{self, Added, Tables};
use crate::heat;
use crate::solve::GRID;
use crate::spec::Spec;

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
    path: HeatPath,
    slots: Vec<Slot>,
}

/// Coldest and hottest exhaust gas that is taken \[K\]: the vocabulary's range.
const EXHAUST_K: (f64, f64) = (230.0, 1600.0);

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = SpeedMap::read(prepared, &spec.train, &GRID)?;
        Ok(Self {
            path: heat::path(&spec),
            spec,
            map,
            need: card::duty(),
            slots: card::condition(),
        })
    }

    /// What a record adds: by operating point, by over-rev. An over-rev has the record's mean exhaust temperature.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn added(&self, record: &Duty) -> Result<(Vec<Added>, Vec<Added>), Vec<Finding>> {
        let read = points_and_over_revs(&self.need, record);
        let exhaust_k = record.channel(channel::EXHAUST_TEMP);
        let wrong = exhaust_out_of_range(exhaust_k);
        let (points, over_revs) = match read {
            Ok(read) if wrong.is_empty() => read,
            Ok(_) => return Err(wrong),
            Err(mut findings) => {
                findings.extend(wrong);
                return Err(findings);
            }
        };
        let usual_k = self.need.channels[channel::EXHAUST_TEMP].default_value;
        let mean_k = time_mean(record, exhaust_k, usual_k);
        let tables = Tables {
            spec: &self.spec,
            map: &self.map,
            path: &self.path,
        };
        let paired = points.iter().zip(exhaust_k);
        Ok((
            paired
                .map(|(block, exhaust_k)| duty::added(&tables, block, *exhaust_k))
                .collect(),
            over_revs
                .iter()
                .map(|block| duty::added(&tables, block, mean_k))
                .collect(),
        ))
    }

    /// The sum of what blocks add; the worst of their worst cases.
    pub fn total<'b>(&self, added: impl Iterator<Item = &'b Added>) -> Added {
        added.fold(Added::nothing(&self.spec), Added::and)
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
            let total = self.total(points.iter().chain(&over_revs));
            condition = self.after(&condition, &total, 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges. The worst case is met as soon as the
    /// stretch has begun.
    pub fn after(&self, before: &Row, added: &Added, share: f64) -> Row {
        let mut row = *before;
        for (worn, more) in row.iter_mut().zip(added.worn_m3) {
            *worn += more * share;
        }
        if share > 0.0 {
            row[slot::GALLING] = row[slot::GALLING].max(added.galling);
        }
        hold_row(&self.slots, &mut row);
        row
    }
}

/// What the engine's bounds do not hold yet: a number that is none they have refused.
fn exhaust_out_of_range(column: &[f64]) -> Vec<Finding> {
    let (least, most) = EXHAUST_K;
    let outside = |(row, value): (usize, &f64)| {
        let name = format!("duty.exhaust_temp_k[{row}]");
        let bad = value.is_finite() && !(least..=most).contains(value);
        let expected = format!("{least} to {most}");
        bad.then(|| {
            error(
                &name,
                *value,
                &expected,
                "check the channel's unit and its sensor",
            )
        })
    };
    column.iter().enumerate().filter_map(outside).collect()
}

/// Worn volumes of a row, times a multiplier on the rate.
pub fn volumes(row: &Row, by: f64) -> WornVolumes {
    WornVolumes {
        top_plus_m3: by * row[slot::TOP_PLUS],
        top_minus_m3: by * row[slot::TOP_MINUS],
        bottom_plus_m3: by * row[slot::BOTTOM_PLUS],
        bottom_minus_m3: by * row[slot::BOTTOM_MINUS],
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

/// The condition once the bore was looked at and found without a score.
///
/// # Errors
/// A condition out of range.
pub fn with_bore_seen(row: &[f64]) -> Result<Vec<f64>, Vec<Finding>> {
    let mut condition = read(row)?;
    condition[slot::GALLING] = 0.0;
    Ok(condition.to_vec())
}

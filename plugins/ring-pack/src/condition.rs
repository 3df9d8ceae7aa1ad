//! The condition: what duty has done so far. Beginning, advancing, reworking.

use ringland_engine::points_and_over_revs;
use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, Finding, Specimen, begin_row, check_row, error, hold_row};

use crate::card::{self, slot};
use crate::duty;
use crate::operating_map::OperatingMap;
use crate::spec::Spec;
use crate::wear_law::Stretch;

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Radial wear of the faces of top ring, second ring, rails \[m\].
    pub face_wear_m: [f64; 3],
    /// Radial wear of the bore at top-ring reversal \[m\].
    pub bore_wear_m: f64,
    /// Seating dose \[1\].
    pub seating: f64,
    /// Hours of the top groove at reference temperature.
    pub heat_h: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let mut values = [0.0; slot::COUNT];
        values.copy_from_slice(row);
        let [top, second, rail, bore_wear_m, seating, heat_h] = values;
        Ok(Self {
            face_wear_m: [top, second, rail],
            bore_wear_m,
            seating,
            heat_h,
        })
    }

    fn row(&self) -> Vec<f64> {
        let [top, second, rail] = self.face_wear_m;
        vec![
            top,
            second,
            rail,
            self.bore_wear_m,
            self.seating,
            self.heat_h,
        ]
    }

    /// What is left of the fresh hone, 1 to 0.
    pub fn unseated(&self) -> f64 {
        libm::exp(-self.seating)
    }
}

/// The condition of a new pack, with the slots that are known of a used one.
///
/// # Errors
/// Slots out of range, or a list of the wrong length.
pub fn begin(opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
    begin_row(&card::condition(), opening)
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let before = Condition::read(row)?;
    let after = match operation {
        // Fresh hone: the bore starts anew and so does seating; the faces keep their wear.
        card::REHONE => Condition {
            bore_wear_m: 0.0,
            seating: 0.0,
            ..before
        },
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (rehone)",
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
    pub map: OperatingMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = OperatingMap::read(prepared, &spec)?;
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
            condition = self.after(&condition, &duty::total(added.iter()), 1.0);
            let mut held = condition.row();
            hold_row(&card::condition(), &mut held);
            condition = Condition::read(&held)?;
            rows.push(held);
        }
        Ok(rows)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it).
    pub fn after(&self, before: &Condition, stretch: &Stretch, share: f64) -> Condition {
        let seating = RunningIn {
            from: before.seating,
            added: stretch.seating,
        };
        let mut after = *before;
        for (ring, worn_m) in after.face_wear_m.iter_mut().enumerate() {
            let length_m = self.spec.rings.pack.crown_length_m(ring);
            *worn_m += stretch.faces[ring].wear_m(*worn_m, length_m, &seating, share);
        }
        let top_m = after.face_wear_m[0] - before.face_wear_m[0];
        after.bore_wear_m += stretch.bore_over_face() * top_m;
        after.seating += stretch.seating * share;
        after.heat_h += stretch.heat_h * share;
        after
    }
}

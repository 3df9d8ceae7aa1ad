//! The condition: what duty has done so far. Beginning, advancing, reworking.

use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, Finding, Specimen, error};

use crate::card::{self, slot};
use crate::constants::CROWN_LOSS;
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
        let &[top, second, rail, bore_wear_m, seating, heat_h] = row else {
            return Err(vec![error(
                "condition",
                row.len() as f64,
                &format!("{} values, in card order", slot::COUNT),
                "begin the component again",
            )]);
        };
        let findings = out_of_range(row.iter().copied().map(Some));
        if !findings.is_empty() {
            return Err(findings);
        }
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

fn out_of_range(values: impl Iterator<Item = Option<f64>>) -> Vec<Finding> {
    let slots = card::condition();
    let wrong = |(slot, value): (&ringland_plugin::Slot, Option<f64>)| {
        let value = value?;
        let inside = (slot.minimum..=slot.maximum).contains(&value);
        (!inside).then(|| {
            error(
                &format!("condition.{}", slot.name),
                value,
                &format!("{} to {} {}", slot.minimum, slot.maximum, slot.unit),
                "check the measurement it came from",
            )
        })
    };
    slots.iter().zip(values).filter_map(wrong).collect()
}

/// The condition of a new pack, with the slots that are known of a used one.
///
/// # Errors
/// Slots out of range, or a list of the wrong length.
pub fn begin(opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
    if opening.len() != slot::COUNT {
        return Err(vec![error(
            "opening",
            opening.len() as f64,
            &format!("{} entries, in card order", slot::COUNT),
            "give one entry for each slot, none where it is unknown",
        )]);
    }
    let findings = out_of_range(opening.iter().copied());
    if !findings.is_empty() {
        return Err(findings);
    }
    Ok(opening.iter().map(|known| known.unwrap_or(0.0)).collect())
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
            let (points, over_revs) = duty::blocks(record)?;
            let added: Vec<_> = points
                .iter()
                .chain(&over_revs)
                .map(|block| duty::added(&self.spec, &self.map, block))
                .collect();
            condition = self.after(&condition, &duty::total(added.iter()), 1.0);
            rows.push(condition.row());
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
            let length_m = self.crown_length_m(ring);
            *worn_m += stretch.faces[ring].wear_m(*worn_m, length_m, &seating, share);
        }
        let top_m = after.face_wear_m[0] - before.face_wear_m[0];
        after.bore_wear_m += self.spec.bore_share() * top_m;
        after.seating += stretch.seating * share;
        after.heat_h += stretch.heat_h * share;
        after.held()
    }

    /// Face wear over which the crown of a ring falls towards the one that tilt keeps by a factor e \[m\].
    pub fn crown_length_m(&self, ring: usize) -> f64 {
        (self.spec.crown_m(ring) - self.spec.kept_crown_m(ring)) / CROWN_LOSS
    }
}

impl Condition {
    /// Held within the card's range, far beyond any limit, so that no duty leads out of the contract.
    fn held(mut self) -> Self {
        for worn_m in &mut self.face_wear_m {
            *worn_m = worn_m.min(slot::MOST_WEAR_M);
        }
        self.bore_wear_m = self.bore_wear_m.min(slot::MOST_WEAR_M);
        self.seating = self.seating.min(slot::MOST_SEATING);
        self.heat_h = self.heat_h.min(slot::MOST_HEAT_H);
        self
    }
}

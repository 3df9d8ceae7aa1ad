//! The condition: what duty has done so far. Advancing and reworking.

use ringland_mechanics::wear::RunningIn;
use ringland_plugin::{Duty, Finding, Specimen, check_row, error, hold_row};

use crate::card::{self, operation, slot};
use crate::constants::SEATING_TURNS;
use crate::duty::{self, Added};
use crate::gears::{DRIVE, Gears};
use crate::mesh_map::MeshMap;
use crate::spec::{Face, Spec};
use crate::strength::Strength;

/// The condition row.
pub type Row = [f64; slot::COUNT];

/// Reads a condition row.
///
/// # Errors
/// Values out of range, or a row of the wrong length.
pub fn read(row: &[f64]) -> Result<Row, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    Row::try_from(row).map_err(|_| {
        let expected = format!("{} values, in card order", slot::COUNT);
        let remedy = "begin the component again";
        vec![error("condition", row.len() as f64, &expected, remedy)]
    })
}

/// A specimen with its map.
pub struct Model<'a> {
    /// The spec.
    pub spec: Spec,
    /// The geometry.
    pub gears: Gears,
    /// The strength that half of such pairs have.
    pub strength: Strength,
    /// The strength that all but one in a hundred have.
    pub weak_strength: Strength,
    /// The map.
    pub map: MeshMap<'a>,
}

impl<'a> Model<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, a spec that makes no pair.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let gears = Gears::new(&spec)?;
        let strength = Strength::new(&spec, &gears);
        let map = MeshMap::read(prepared)?;
        Ok(Self {
            spec,
            gears,
            weak_strength: strength.of_one_in_a_hundred(),
            strength,
            map,
        })
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut row = read(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for duty in duties {
            let added = duty::record(self, duty)?.total();
            row = self.after(&row, &added, 1.0);
            hold_row(&card::condition(), &mut row);
            rows.push(row.to_vec());
        }
        Ok(rows)
    }

    /// After `share` of a stretch (more than 1 repeats it). A peak may come at any time of the stretch and counts from its start.
    pub fn after(&self, row: &Row, added: &Added, share: f64) -> Row {
        let spec = &self.spec;
        let mut after = *row;
        let running_in = RunningIn {
            from: row[slot::PINION_TURNS] / SEATING_TURNS,
            added: added.pinion_turns / SEATING_TURNS,
        };
        let [steady, fresh] = running_in.integrals::<2>(share);
        let worn = |face: &Face| {
            let more = (face.running_in_multiplier - 1.0) * fresh;
            face.wear_coefficient_m2_n * (steady + more)
        };
        let (pinion, ring) = (worn(&spec.pinion), worn(&spec.ring));
        after[slot::DRIVE_PITTING] += share * added.pitting[0];
        after[slot::COAST_PITTING] += share * added.pitting[1];
        after[slot::PINION_ROOT] += share * added.roots[0];
        after[slot::RING_ROOT] += share * added.roots[1];
        after[slot::PINION_WEAR] += pinion * added.pinion_dose[0];
        after[slot::RING_WEAR] += ring * added.ring_dose[0];
        after[slot::SETTLING] += share * added.bearing_turns / spec.settling_turns;
        let settled_m = self.settled_m(after[slot::SETTLING]) - self.settled_m(row[slot::SETTLING]);
        let opened_m = pinion * added.pinion_dose[1] + ring * added.ring_dose[1];
        after[slot::BACKLASH_GROWTH] +=
            opened_m + self.gears.flanks[DRIVE].backlash_per_travel * settled_m;
        if share > 0.0 {
            after[slot::SCUFF] = row[slot::SCUFF].max(added.scuff_severity);
        }
        after[slot::PINION_TURNS] += share * added.pinion_turns;
        after
    }

    /// How far the ring gear has settled along its axis \[m\].
    fn settled_m(&self, settling: f64) -> f64 {
        -self.spec.carrier_settling_m * libm::expm1(-settling)
    }
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut row = read(row)?;
    let cleared = match operation {
        operation::BEARINGS_SET => slot::SETTLING,
        operation::BACKLASH_SET => slot::BACKLASH_GROWTH,
        operation::INSPECTED => slot::SCUFF,
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (bearings_set), 1 (backlash_set) or 2 (inspected)",
                "choose an operation of the card",
            )]);
        }
    };
    row[cleared] = 0.0;
    Ok(row.to_vec())
}

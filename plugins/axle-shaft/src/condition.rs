//! The condition: what duty has done so far. Beginning, advancing, reworking.

use ringland_plugin::{
    Duty, DutyNeed, Finding, Slot, Specimen, begin_row, check_row, error, hold_row,
};

use crate::card::{self, slot};
use crate::constants::{KNEE_CYCLES, MOST_TWIST_RAD};
use crate::duty::{ShaftUse, shaft_use};
use crate::site::{Cycle, Site, ZONES};
use crate::spec::{SITES, Spec};

/// A condition row.
pub type Row = [f64; slot::COUNT];

/// The prepared table: the torque whose twist stays at the limit \[N·m\], and the shear concentration of the spline's root.
///
/// # Errors
/// A spline whose radius and module do not make a tooth space.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let before_rad = preset_twist_rad(spec);
    let stays_rad = before_rad + spec.limit_twist_rad;
    let torque_n_m = spec.body.torque_for_permanent_n_m(stays_rad);
    let root_shear = spec.spline.shear_concentration();
    let root_shear = root_shear.ok_or_else(|| vec![no_teeth(spec)])?;
    Ok(vec![torque_n_m, root_shear])
}

/// A spline whose radius, module and teeth do not make a tooth space.
pub fn no_teeth(spec: &Spec) -> Finding {
    let expected = "a fillet that fits between two flanks of this module";
    let remedy = "a full fillet has 0.4 modules: check radius, module and teeth";
    error("spline_root_m", spec.spline.root_radius_m, expected, remedy)
}

/// Twist that presetting has left before the shaft was marked \[rad\].
pub fn preset_twist_rad(spec: &Spec) -> f64 {
    let preset_n_m = spec.preset_torque_n_m;
    spec.body.permanent_twist_rad(preset_n_m, MOST_TWIST_RAD)
}

/// What a stretch of duty adds to a shaft of a certain past. Its hardest torques come first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Damage of each site, at its surface and below, by the counted cycles.
    pub counted: [[f64; ZONES]; SITES],
    /// The same by launches that these do not hold.
    pub launched: [[f64; ZONES]; SITES],
    /// Wear of the flanks \[m\].
    pub wear_m: f64,
    /// Launches.
    pub launches: f64,
    /// Highest torques after it, in drive and against, and the set of each site.
    pub highest_n_m: f64,
    /// See `highest_n_m`.
    pub reverse_n_m: f64,
    /// See `highest_n_m`.
    pub set_pa: [f64; SITES],
}

/// A specimen with its table.
pub struct Shaft {
    /// The spec.
    pub spec: Spec,
    /// Its notches.
    pub sites: [Site; SITES],
    /// The duty that the card asks for.
    pub need: DutyNeed,
    /// Torque whose twist stays at the limit \[N·m\].
    pub twist_n_m: f64,
    slots: Vec<Slot>,
}

impl Shaft {
    /// Reads specimen and table.
    ///
    /// # Errors
    /// Lists of the wrong length, or a table of another version.
    pub fn new(specimen: &Specimen, prepared: &[f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let &[twist_n_m, root_shear] = prepared else {
            let given = prepared.len() as f64;
            let remedy = "prepare the specimen again";
            return Err(vec![error("prepared", given, "2 numbers", remedy)]);
        };
        Ok(Self {
            sites: spec.sites(root_shear)?,
            spec,
            need: card::duty(),
            twist_n_m,
            slots: card::condition(),
        })
    }

    /// The condition of a new shaft, preset where it is, or of a used one of which some slots are known.
    ///
    /// # Errors
    /// Slots out of range, or a list of the wrong length.
    pub fn begin(&self, opening: &[Option<f64>]) -> Result<Vec<f64>, Vec<Finding>> {
        let mut row = begin_row(&self.slots, opening)?;
        let preset = [0.0, self.spec.preset_torque_n_m];
        for (index, site) in self.sites.iter().enumerate() {
            if opening[slot::SET + index].is_none() {
                row[slot::SET + index] = site.set_pa(0.0, preset);
            }
        }
        Ok(row)
    }

    /// What a record is to this shaft.
    ///
    /// # Errors
    /// Every entry out of bounds.
    pub fn read(&self, record: &Duty) -> Result<ShaftUse, Vec<Finding>> {
        shaft_use(&self.spec, &self.need, record)
    }

    /// What a record adds to a shaft in a condition.
    pub fn stretch(&self, row: &Row, used: &ShaftUse) -> Stretch {
        let (highest_n_m, reverse_n_m) = (
            row[slot::HIGHEST].max(used.highest_n_m),
            row[slot::REVERSE].max(used.reverse_n_m),
        );
        let mut stretch = Stretch {
            counted: [[0.0; ZONES]; SITES],
            launched: [[0.0; ZONES]; SITES],
            wear_m: self.wear_m(used),
            launches: used.launches,
            highest_n_m,
            reverse_n_m,
            set_pa: [0.0; SITES],
        };
        let hardest_n_m = highest_n_m
            .max(reverse_n_m)
            .max(self.spec.preset_torque_n_m);
        for (index, site) in self.sites.iter().enumerate() {
            let torques_n_m = [-used.reverse_n_m, used.highest_n_m];
            let set_pa = site.set_pa(row[slot::SET + index], torques_n_m);
            let state = (set_pa, site.retained(hardest_n_m));
            let damage = |cycles: &[Cycle]| site.damage(cycles, state, KNEE_CYCLES);
            stretch.set_pa[index] = set_pa;
            stretch.counted[index] = damage(&used.counted);
            stretch.launched[index] = damage(&used.launched);
        }
        stretch
    }

    fn wear_m(&self, used: &ShaftUse) -> f64 {
        let tilted: f64 = used.tilt_pa_m.iter().sum();
        self.spec.wear_m2_n * (tilted + used.torque_pa_m)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it), held within the card's ranges.
    pub fn after(&self, before: &Row, stretch: &Stretch, share: f64) -> Row {
        let mut row = *before;
        if share <= 0.0 {
            return row;
        }
        let each = stretch.counted.iter().zip(&stretch.launched);
        let each = each.flat_map(|(counted, launched)| counted.iter().zip(launched));
        for (slot, (counted, launched)) in row.iter_mut().zip(each) {
            *slot += share * (counted + launched);
        }
        row[slot::HIGHEST] = stretch.highest_n_m;
        row[slot::REVERSE] = stretch.reverse_n_m;
        row[slot::SET..slot::SET + SITES].copy_from_slice(&stretch.set_pa);
        row[slot::WEAR] += share * stretch.wear_m;
        row[slot::LAUNCHES] += share * stretch.launches;
        hold_row(&self.slots, &mut row);
        row
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let mut condition = read_row(row)?;
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            let used = self.read(record)?;
            condition = self.after(&condition, &self.stretch(&condition, &used), 1.0);
            rows.push(condition.to_vec());
        }
        Ok(rows)
    }
}

/// Reads a condition row.
///
/// # Errors
/// Values out of range, or a row of the wrong length.
pub fn read_row(row: &[f64]) -> Result<Row, Vec<Finding>> {
    check_row(&card::condition(), row)?;
    let mut condition = [0.0; slot::COUNT];
    condition.copy_from_slice(row);
    Ok(condition)
}

/// The condition after a shop operation: on the other side of the car drive and its opposite change places.
///
/// # Errors
/// An operation that the card does not have, or a row out of range.
pub fn rework(row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut row = read_row(row)?;
    if operation != card::SWAPPED_SIDES {
        let expected = "0 (swapped_sides)";
        let remedy = "choose an operation of the card";
        return Err(vec![error(
            "operation",
            f64::from(operation),
            expected,
            remedy,
        )]);
    }
    row.swap(slot::HIGHEST, slot::REVERSE);
    for set_pa in &mut row[slot::SET..slot::SET + SITES] {
        *set_pa = 0.0 - *set_pa;
    }
    Ok(row.to_vec())
}

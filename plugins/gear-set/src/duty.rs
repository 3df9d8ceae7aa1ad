//! Duty records as what they add to the condition.

use std::f64::consts::TAU;

use ringland_driveline::{Block, Engagement, Shift, read};
use ringland_plugin::{Duty, Finding, error};

use crate::asperities::Asperities;
use crate::card::{self, shock};
use crate::condition::{Wear, slot};
use crate::constants::{GEARS, LEAST_TORQUE_N_M};
use crate::running::{Running, contact, lives, stresses};
use crate::spec::Spec;

/// What one stretch of duty adds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// To each gear.
    pub gears: [Wear; GEARS],
    /// Highest rise of the contact temperature over the room for it.
    pub scuff_severity: f64,
    /// Highest contact temperature \[K\].
    pub contact_k: f64,
    /// Least film over mean roughness.
    pub film_ratio: f64,
    /// Largest stress over the static strength that the life curves hold good for.
    pub static_share: f64,
}

impl Default for Added {
    fn default() -> Self {
        Self {
            gears: [[0.0; slot::OF_GEAR]; GEARS],
            scuff_severity: 0.0,
            contact_k: 0.0,
            film_ratio: f64::INFINITY,
            static_share: 0.0,
        }
    }
}

impl Added {
    /// Joins another stretch to this one.
    pub fn join(&mut self, more: &Self) {
        let wears = self.gears.iter_mut().flatten();
        for (wear, more) in wears.zip(more.gears.iter().flatten()) {
            *wear += more;
        }
        self.scuff_severity = self.scuff_severity.max(more.scuff_severity);
        self.contact_k = self.contact_k.max(more.contact_k);
        self.film_ratio = self.film_ratio.min(more.film_ratio);
        self.static_share = self.static_share.max(more.static_share);
    }
}

/// A record by what it consists of.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// One for each operating point.
    pub points: Vec<Added>,
    /// The sum of each kind of shock, in card order.
    pub shocks: Vec<Added>,
}

impl Record {
    /// Everything together.
    pub fn total(&self) -> Added {
        let mut total = Added::default();
        for added in self.points.iter().chain(&self.shocks) {
            total.join(added);
        }
        total
    }
}

/// Reads a record.
///
/// # Errors
/// Every entry out of bounds, and every gear that the box does not have.
pub fn record(
    spec: &Spec,
    asperities: &Asperities<'_>,
    duty: &Duty,
) -> Result<Record, Vec<Finding>> {
    let used = read(&card::duty(), duty)?;
    let points = used.points.iter().map(|block| block.gear).enumerate();
    let shifts = used.shifts.iter().map(|shift| shift.to_gear).enumerate();
    let mut findings = unknown(spec, "duty.gear", points);
    findings.extend(unknown(spec, "duty.shift.to_gear", shifts));
    if !findings.is_empty() {
        return Err(findings);
    }
    let points: Result<_, _> = used
        .points
        .iter()
        .map(|block| point(spec, asperities, block))
        .collect();
    let mut shocks = vec![Added::default(); card::duty().shocks.len()];
    for engagement in &used.engagements {
        shocks[shock::LAUNCH].join(&launch(spec, asperities, engagement, &used.mean)?);
    }
    for shift in &used.shifts {
        shift_added(spec, shift, &mut shocks[shock::SHIFT]);
    }
    Ok(Record {
        points: points?,
        shocks,
    })
}

fn unknown(spec: &Spec, field: &str, gears: impl Iterator<Item = (usize, f64)>) -> Vec<Finding> {
    let most = spec.gears.len();
    let beyond = gears.filter(|(_, gear)| gear.round() > most as f64);
    beyond
        .map(|(row, gear)| {
            error(
                &format!("{field}[{row}]"),
                gear,
                &format!("a gear of this box: 1 to {most}, or 0 and below for neutral and reverse"),
                "check the gear channel, or give the box its missing gears",
            )
        })
        .collect()
}

/// Index of a gear in the box; neutral and reverse have none.
fn index(spec: &Spec, gear: f64) -> Option<usize> {
    let forward = gear.round();
    let found = (forward >= 1.0).then(|| forward as usize - 1)?;
    (found < spec.gears.len()).then_some(found)
}

fn point(spec: &Spec, asperities: &Asperities<'_>, block: &Block) -> Result<Added, Vec<Finding>> {
    let running = Running {
        torque_n_m: spec.application_factor * block.engine_torque_n_m,
        speed_rad_s: block.engine_speed_rad_s,
        oil_k: block.gearbox_oil_k,
        steady: true,
    };
    run(
        spec,
        asperities,
        block.gear,
        &running,
        block.time_s,
        block.contamination,
    )
}

/// A pair running for a time.
fn run(
    spec: &Spec,
    asperities: &Asperities<'_>,
    gear: f64,
    running: &Running,
    time_s: f64,
    contamination: f64,
) -> Result<Added, Vec<Finding>> {
    let mut added = Added::default();
    let Some(index) = index(spec, gear) else {
        return Ok(added);
    };
    let turns = running.speed_rad_s * time_s / TAU;
    if running.torque_n_m < LEAST_TORQUE_N_M || turns <= 0.0 {
        return Ok(added);
    }
    let pair = &spec.gears[index];
    let stresses = stresses(spec, pair, running);
    let lives = lives(spec, pair, running, &stresses)?;
    let contact = contact(spec, asperities, pair, running, &stresses);
    let each = [turns, turns / pair.mesh.ratio()];
    let wear = &mut added.gears[index];
    for member in 0..2 {
        wear[slot::PITTING + member] = each[member] / lives.pitting[member];
        wear[slot::ROOT + member] = each[member] / lives.root[member];
    }
    wear[slot::BACKLASH] = turns * contamination * contact.backlash_m;
    added.scuff_severity = contact.scuff_severity;
    added.contact_k = contact.contact_k;
    if running.steady {
        added.film_ratio = contact.film_ratio;
    }
    added.static_share = lives.static_share;
    Ok(added)
}

/// A launch: the input shaft runs up from rest to the speed at which the clutch grips, under the peak torque, in first
/// gear. Peak power over peak torque is that speed.
fn launch(
    spec: &Spec,
    asperities: &Asperities<'_>,
    engagement: &Engagement,
    mean: &Block,
) -> Result<Added, Vec<Finding>> {
    let torque_n_m = engagement.peak_torque_n_m;
    if torque_n_m < LEAST_TORQUE_N_M {
        return Ok(Added::default());
    }
    let running = Running {
        torque_n_m,
        speed_rad_s: (0.5 * engagement.peak_power_w / torque_n_m).min(FASTEST_RAD_S),
        oil_k: mean.gearbox_oil_k,
        steady: false,
    };
    run(
        spec,
        asperities,
        1.0,
        &running,
        engagement.duration_s,
        mean.contamination,
    )
}

/// No input shaft turns faster.
const FASTEST_RAD_S: f64 = 2500.0;

/// A shift rounds the dogs of the gear engaged by the energy of their speed step.
fn shift_added(spec: &Spec, shift: &Shift, added: &mut Added) {
    let Some(index) = index(spec, shift.to_gear) else {
        return;
    };
    let step_rad_s = spec.dog_speed_share * shift.engine_speed_step_rad_s;
    let energy_j = 0.5 * spec.dog_inertia_kg_m2 * step_rad_s * step_rad_s;
    added.gears[index][slot::DOG] += spec.dog_wear_m_j * energy_j;
}

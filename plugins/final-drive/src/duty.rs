//! Duty records as what they add to the condition.

use std::f64::consts::TAU;

use ringland_driveline::{Block, TorqueCycle, Use};
use ringland_plugin::{Duty, Finding};

use crate::card;
use crate::condition::Model;
use crate::constants::{LEAST_ROOM_K, PEAK_TURNS};
use crate::mesh::Running;
use crate::strength::Strength;

/// What one stretch of duty adds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Turns of the pinion.
    pub pinion_turns: f64,
    /// Turns that wear the bearings: with the oil's contamination.
    pub bearing_turns: f64,
    /// Miner sum of the pinion's drive and coast flanks.
    pub pitting: [f64; 2],
    /// Miner sum of the roots of pinion and ring gear.
    pub roots: [f64; 2],
    /// Both again for a pair that is weaker than all but one in a hundred: pitting.
    pub weak_pitting: [f64; 2],
    /// The same of the roots.
    pub weak_roots: [f64; 2],
    /// Wear of the pinion's flanks for a wear coefficient of 1 \[N/m\], and what it makes of backlash.
    pub pinion_dose: [f64; 2],
    /// The same of the ring gear's.
    pub ring_dose: [f64; 2],
    /// Highest rise of contact over oil temperature, over the room for it.
    pub scuff_severity: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

impl Added {
    /// Joins another stretch to this one.
    pub fn join(&mut self, more: &Self) {
        self.join_share(more, 1.0);
    }

    fn join_share(&mut self, more: &Self, share: f64) {
        self.pinion_turns += share * more.pinion_turns;
        self.bearing_turns += share * more.bearing_turns;
        for k in 0..2 {
            self.pitting[k] += share * more.pitting[k];
            self.roots[k] += share * more.roots[k];
            self.weak_pitting[k] += share * more.weak_pitting[k];
            self.weak_roots[k] += share * more.weak_roots[k];
            self.pinion_dose[k] += share * more.pinion_dose[k];
            self.ring_dose[k] += share * more.ring_dose[k];
        }
        self.scuff_severity = self.scuff_severity.max(more.scuff_severity);
        self.extrapolated |= more.extrapolated;
    }
}

/// A record by what it consists of.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// One for each operating point, with the counted peaks that are laid to it.
    pub points: Vec<Added>,
    /// Counted peaks of a record without operating points.
    pub loose: Added,
}

impl Record {
    /// Everything together.
    pub fn total(&self) -> Added {
        let mut total = self.loose;
        for added in &self.points {
            total.join(added);
        }
        total
    }
}

/// Looks a record up.
///
/// # Errors
/// Every entry out of bounds.
pub fn record(model: &Model<'_>, duty: &Duty) -> Result<Record, Vec<Finding>> {
    let done = ringland_driveline::read(&card::duty(), duty)?;
    let mut record = Record {
        points: done
            .points
            .iter()
            .map(|block| block_added(model, block))
            .collect(),
        loose: Added::default(),
    };
    for cycle in &done.cycles {
        for torque_n_m in peaks(cycle).into_iter().flatten() {
            let added = peak_added(model, &done, torque_n_m, cycle.count);
            lay(&mut record, &done, torque_n_m, &added);
        }
    }
    Ok(record)
}

/// What a block adds.
pub fn block_added(model: &Model<'_>, block: &Block) -> Added {
    let ring_rad_s = block.wheel_speed_rad_s().abs();
    if ring_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let (spec, gears) = (&model.spec, &model.gears);
    let torque_n_m = block.axle_torque_n_m;
    let ring_turns = block.time_s * ring_rad_s / TAU;
    let pinion_turns = ring_turns * gears.pair.ratio();
    let (index, flank) = gears.loaded(torque_n_m);
    let running = Running {
        ring_rad_s,
        torque_n_m: torque_n_m.abs(),
        oil_k: block.axle_oil_k,
    };
    let (mesh, extrapolated) = model.map.at(index, &running);
    let pinion = pinion_turns * block.contamination * mesh.pinion_dose_n_m;
    let ring = ring_turns * block.contamination * mesh.ring_dose_n_m;
    let room_k = (spec.limit_contact_temp_k - block.axle_oil_k).max(LEAST_ROOM_K);
    Added {
        pinion_turns,
        bearing_turns: pinion_turns * block.contamination,
        pinion_dose: [pinion, pinion * flank.backlash_per_wear],
        ring_dose: [ring, ring * flank.backlash_per_wear],
        scuff_severity: (mesh.bulk_rise_k + mesh.flash_k) / room_k,
        extrapolated,
        ..stressed(model, torque_n_m, ring_rad_s, pinion_turns)
    }
}

/// Pitting and bending of so many pinion turns at an axle torque \[N·m\].
fn stressed(model: &Model<'_>, torque_n_m: f64, ring_rad_s: f64, pinion_turns: f64) -> Added {
    let (index, flank) = model.gears.loaded(torque_n_m);
    let speed_m_s = model.gears.pair.ring_m_s(ring_rad_s);
    let stress_pa = flank.contact_stress_pa(&model.spec, torque_n_m);
    let root_pa = flank.root_stress_pa(&model.spec, torque_n_m);
    let passes = [pinion_turns, pinion_turns / model.gears.pair.ratio()];
    let pitting = |strength: &Strength| {
        let mut sums = [0.0; 2];
        sums[index] = strength.pitting(index, stress_pa, speed_m_s, pinion_turns);
        sums
    };
    let roots = |strength: &Strength| {
        std::array::from_fn(|gear| strength.bending(gear, root_pa[gear], passes[gear]))
    };
    Added {
        pitting: pitting(&model.strength),
        roots: roots(&model.strength),
        weak_pitting: pitting(&model.weak_strength),
        weak_roots: roots(&model.weak_strength),
        ..Added::default()
    }
}

/// The torques that a cycle reaches: driving, and on the coast flank if it goes so far.
fn peaks(cycle: &TorqueCycle) -> [Option<f64>; 2] {
    let half = 0.5 * cycle.range_n_m;
    let (high, low) = (cycle.mean_n_m + half, cycle.mean_n_m - half);
    [
        Some(high).filter(|t| *t > 0.0),
        Some(low).filter(|t| *t < 0.0),
    ]
}

/// What the peaks of counted cycles add, singly: each passes the teeth for a turn of the pinion.
fn peak_added(model: &Model<'_>, done: &Use, torque_n_m: f64, count: f64) -> Added {
    let ring_rad_s = done.mean.wheel_speed_rad_s().abs();
    stressed(model, torque_n_m, ring_rad_s, PEAK_TURNS * count)
}

/// Lays a peak to the operating points whose torque is nearest to it, by their time.
fn lay(record: &mut Record, done: &Use, torque_n_m: f64, added: &Added) {
    let running = |block: &Block| block.time_s > 0.0 && block.wheel_speed_rad_s().abs() > 0.0;
    let off = |block: &Block| (block.axle_torque_n_m - torque_n_m).abs();
    let nearest = done
        .points
        .iter()
        .filter(|block| running(block))
        .map(off)
        .fold(f64::INFINITY, f64::min);
    let near = |block: &Block| running(block) && off(block) <= nearest + 1.0e-6;
    let time_s: f64 = done
        .points
        .iter()
        .filter(|block| near(block))
        .map(|block| block.time_s)
        .sum();
    if time_s <= 0.0 {
        record.loose.join(added);
        return;
    }
    for (point, block) in record.points.iter_mut().zip(&done.points) {
        if near(block) {
            point.join_share(added, block.time_s / time_s);
        }
    }
}

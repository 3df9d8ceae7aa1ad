//! Duty records as what they add to the condition.

use std::f64::consts::PI;

use ringland_engine::valvetrain::FLOAT_LOFT_M;
use ringland_engine::{Block, points_and_over_revs};
use ringland_mechanics::oil::dilution_factor;
use ringland_plugin::{Duty, Finding, error};

use crate::card::{self, shock};
use crate::constants::{LEAST_ROOM_K, PITTING_EXPONENT, PITTING_TURNS};
use crate::spec::{Face, Spec};
use crate::speed_map::{CamMap, Found};
use crate::turn::{PITTING_UNIT_PA, STATIONS};

/// What one stretch of duty adds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Turns of the cam.
    pub turns: f64,
    /// Dose at each station of the lobe \[Pa·m\].
    pub lobe_dose_pa_m: [f64; STATIONS],
    /// Dose on the follower \[Pa·m\].
    pub follower_dose_pa_m: f64,
    /// Miner sum at each station of the lobe.
    pub lobe_pitting: [f64; STATIONS],
    /// Miner sum of the follower.
    pub follower_pitting: f64,
    /// Highest flash temperature over the room for it.
    pub scuff_severity: f64,
    /// Whether the valve leaves the cam.
    pub floats: bool,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

impl Added {
    /// Joins another stretch to this one.
    pub fn join(&mut self, more: &Self) {
        self.turns += more.turns;
        for station in 0..STATIONS {
            self.lobe_dose_pa_m[station] += more.lobe_dose_pa_m[station];
            self.lobe_pitting[station] += more.lobe_pitting[station];
        }
        self.follower_dose_pa_m += more.follower_dose_pa_m;
        self.follower_pitting += more.follower_pitting;
        self.scuff_severity = self.scuff_severity.max(more.scuff_severity);
        self.floats |= more.floats;
        self.extrapolated |= more.extrapolated;
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

/// Looks a record up.
///
/// # Errors
/// Every entry out of bounds.
pub fn record(spec: &Spec, map: &CamMap<'_>, duty: &Duty) -> Result<Record, Vec<Finding>> {
    let (points, over_revs) = points_and_over_revs(&card::duty(), duty)?;
    let seat_load_n = seat_load_n(spec, &duty.mates)?;
    let one = |block: &Block| block_added(spec, map, block, seat_load_n);
    let mut shocks = vec![Added::default(); card::duty().shocks.len()];
    for block in &over_revs {
        shocks[shock::OVER_REV].join(&one(block));
    }
    Ok(Record {
        points: points.iter().map(one).collect(),
        shocks,
    })
}

/// The spring stands taller by what the retainer has sunk on its keepers and the valve into its seat.
fn seat_load_n(spec: &Spec, mates: &[f64]) -> Result<f64, Vec<Finding>> {
    let &[sink_m, recession_m] = mates else {
        let remedy = "give one value for each mate of the card";
        return Err(vec![error(
            "duty.mates",
            mates.len() as f64,
            "2 mates",
            remedy,
        )]);
    };
    let taller_m = sink_m.max(0.0) + recession_m.max(0.0);
    let lost_n = spec.train.spring.rate_n_m() * taller_m;
    Ok((spec.train.seat_load_n - lost_n).max(0.0))
}

/// Temperature of the surfaces \[K\] and viscosity of the oil there \[Pa·s\].
pub fn surfaces(spec: &Spec, block: &Block) -> (f64, f64) {
    let bulk_k = block.oil_k + spec.bulk_rise_k;
    let viscosity_pa_s = spec.oil.viscosity_pa_s(bulk_k) * dilution_factor(block.fuel_fraction);
    (bulk_k, viscosity_pa_s)
}

/// What a block adds.
pub fn block_added(spec: &Spec, map: &CamMap<'_>, block: &Block, seat_load_n: f64) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let (bulk_k, viscosity_pa_s) = surfaces(spec, block);
    let found = map.at(block.speed_rad_s, seat_load_n, viscosity_pa_s);
    let turns = block.time_s * block.speed_rad_s / (4.0 * PI);
    let Found { turn, .. } = found;
    let dose = turns * block.contamination;
    let room_k = (spec.limit_contact_temp_k - bulk_k).max(LEAST_ROOM_K);
    Added {
        turns,
        lobe_dose_pa_m: turn.lobe_dose_pa_m.map(|of_turn| of_turn * dose),
        follower_dose_pa_m: turn.follower_dose_pa_m * dose,
        lobe_pitting: turn
            .lobe_pitting
            .map(|of_turn| turns * miner(&spec.lobe, of_turn)),
        follower_pitting: turns * miner(&spec.follower, turn.follower_pitting),
        scuff_severity: turn.flash_k / room_k,
        floats: found.loft_m > FLOAT_LOFT_M,
        extrapolated: found.extrapolated,
    }
}

/// Miner sum of a turn, from its rate of pitting.
pub fn miner(face: &Face, rate: f64) -> f64 {
    let strength = face.pitting_strength_pa() / PITTING_UNIT_PA;
    rate / (PITTING_TURNS * libm::pow(strength, PITTING_EXPONENT))
}

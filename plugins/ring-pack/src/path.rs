//! Where duty leads: the damage of each mechanism over events to come, at a rate multiplier of 1.

use crate::card::mechanism;
use crate::check::band_limit_within_reach;
use crate::condition::{Condition, Model};
use crate::constants::{LEAK_DOWN_BUILD, LEAK_DOWN_PER_M};
use crate::readings::{gap_growth_m, tension_loss};
use crate::wear_law::Stretch;

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damage(model: &Model<'_>, condition: &Condition) -> [f64; mechanism::COUNT] {
    let spec = &model.spec;
    let growth_m = gap_growth_m(condition);
    let leak_growth_m = (spec.limit_leak_down_fraction - LEAK_DOWN_BUILD) / LEAK_DOWN_PER_M;
    let flat = if band_limit_within_reach(spec) {
        condition.face_wear_m[0] / wear_at_band_limit_m(model)
    } else {
        0.0
    };
    [
        growth_m / spec.limit_gap_growth_m,
        growth_m / leak_growth_m,
        flat,
        tension_loss(spec, condition) / spec.limit_tension_loss_fraction,
    ]
}

/// Wear of the top face at which its band reaches the limit: the band over the width is `√(1 − c/c0)`.
fn wear_at_band_limit_m(model: &Model<'_>) -> f64 {
    let spec = &model.spec;
    let pack = &spec.rings.pack;
    let (new_m, kept_m) = (pack.crown_m(0), pack.kept_crown_m(0));
    let limit = spec.limit_contact_band_fraction;
    let crown = ((1.0 - limit * limit) * new_m - kept_m) / (new_m - kept_m);
    -model.spec.rings.pack.crown_length_m(0) * libm::log(crown)
}

/// Damage over events.
pub struct Path {
    events: Vec<f64>,
    /// One row for each mechanism.
    damages: [Vec<f64>; mechanism::COUNT],
}

const POINTS: u32 = 96;

impl Path {
    /// Follows a condition to the horizon, in steps that grow from its start.
    pub fn new(model: &Model<'_>, from: &Condition, event: &Stretch, horizon: f64) -> Self {
        let mut path = Self {
            events: Vec::with_capacity(POINTS as usize + 1),
            damages: Default::default(),
        };
        let mut condition = *from;
        let mut at = 0.0;
        for k in 0..=POINTS {
            let share = f64::from(k) / f64::from(POINTS);
            let to = horizon * share * share;
            condition = model.after(&condition, event, to - at);
            at = to;
            path.events.push(at);
            for (row, value) in path.damages.iter_mut().zip(damage(model, &condition)) {
                row.push(value);
            }
        }
        path
    }

    /// Events until a mechanism's damage reaches `damage`, linear between points; the horizon when it does not.
    pub fn events_to(&self, mechanism: usize, damage: f64) -> f64 {
        let row = &self.damages[mechanism];
        let after = row.partition_point(|value| *value < damage);
        if after == 0 {
            return 0.0;
        }
        let (Some(high), Some(to)) = (row.get(after), self.events.get(after)) else {
            return self.events[self.events.len() - 1];
        };
        let (low, from) = (row[after - 1], self.events[after - 1]);
        from + (to - from) * (damage - low) / (high - low)
    }
}

//! Readings and damage from a condition.

use crate::bore_map::{BOTTOM, HEIGHTS, MIDDLE, REVERSAL};
use crate::card::{mechanism, reading};
use crate::condition::{Condition, Model};
use crate::constants::{GLAZE_HOURS_H, RPK_LEFT_M};

/// Height at which valleys are judged: 6.7 mm below reversal, where the bore is still rubbed hard and a replica can be taken.
pub const JUDGED: usize = 1;

/// Multipliers on what the model computes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Multipliers {
    /// Of wear.
    pub wear: f64,
    /// Of the casting's shift.
    pub shift: f64,
    /// Of the wear of valleys.
    pub valleys: f64,
}

/// Wear at reversal less the least along the stroke: half the taper \[m\].
fn half_taper_m(condition: &Condition) -> f64 {
    let least_m = condition
        .wear_m
        .iter()
        .copied()
        .fold(f64::INFINITY, f64::min);
    condition.wear_m[REVERSAL] - least_m
}

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damage(model: &Model<'_>, condition: &Condition) -> [f64; mechanism::COUNT] {
    let spec = &model.spec;
    let new_m = spec.oil_retention_m(0.0);
    // Wear at which the valleys hold the limit: the square of what is left of their height.
    let left = (spec.limit_oil_retention_m / new_m).min(1.0).sqrt();
    let valley_limit_m = (spec.rvk_m * (1.0 - left)).max(1e-9);
    [
        2.0 * half_taper_m(condition) / spec.limit_taper_m,
        model.shift_m(condition) / spec.limit_roundness_m,
        condition.wear_m[JUDGED] / valley_limit_m,
    ]
}

/// Every reading at a condition.
pub fn readings(
    model: &Model<'_>,
    condition: &Condition,
    by: &Multipliers,
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let shift_m = by.shift * model.shift_m(condition);
    let worn_m: [f64; HEIGHTS] = condition.wear_m.map(|wear_m| by.wear * wear_m);
    let round_m = |height: usize| shift_m + by.wear * model.worn_out_of_round_m(condition, height);
    let unseated = libm::exp(-by.wear * condition.seating);
    let glazed = 1.0 - libm::exp(-condition.glaze_h / GLAZE_HOURS_H);
    let rpk_m = spec.rings.pack.bore.rpk_m;
    let valley_wear_m = by.valleys * condition.wear_m[JUDGED];
    let bore_m = spec.rings.pack.bore_m;
    let mut values = [0.0; reading::COUNT];
    values[reading::TAPER] = 2.0 * by.wear * half_taper_m(condition);
    values[reading::DIAMETER_TOP] = bore_m + 2.0 * worn_m[REVERSAL];
    values[reading::DIAMETER_MIDDLE] = bore_m + 2.0 * worn_m[MIDDLE];
    values[reading::DIAMETER_BOTTOM] = bore_m + 2.0 * worn_m[BOTTOM];
    values[reading::ROUNDNESS_TOP] = round_m(REVERSAL);
    values[reading::ROUNDNESS_MIDDLE] = round_m(MIDDLE);
    values[reading::ROUNDNESS_BOTTOM] = round_m(BOTTOM);
    values[reading::CLEARANCE] = spec.clearance_m + 2.0 * worn_m[MIDDLE];
    values[reading::OIL_RETENTION] = spec.oil_retention_m(valley_wear_m) * (1.0 - glazed);
    values[reading::RVK] = (spec.rvk_m - valley_wear_m).max(0.0);
    values[reading::RPK] = rpk_m.min(RPK_LEFT_M) + (rpk_m - RPK_LEFT_M).max(0.0) * unseated;
    values[reading::SEATING] = 1.0 - unseated;
    values[reading::GLAZING] = glazed;
    values[reading::REMOVED] = condition.removed_m;
    values
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &model.spec;
    let mut limits = [None; reading::COUNT];
    limits[reading::TAPER] = Some(spec.limit_taper_m);
    for round in [
        reading::ROUNDNESS_TOP,
        reading::ROUNDNESS_MIDDLE,
        reading::ROUNDNESS_BOTTOM,
    ] {
        limits[round] = Some(spec.limit_roundness_m);
    }
    limits[reading::CLEARANCE] = Some(spec.clearance_m + spec.limit_clearance_growth_m);
    limits[reading::OIL_RETENTION] = Some(spec.limit_oil_retention_m);
    limits[reading::REMOVED] = Some(spec.limit_removed_m);
    limits
}

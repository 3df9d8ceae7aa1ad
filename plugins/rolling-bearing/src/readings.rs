//! What can be measured, and the damage that stands for a limit.

use crate::card::{mechanism, reading, slot};
use crate::condition::{Model, RATED_HAZARD, Row};
use crate::constants as c;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life. That of fatigue is the rated life used, by the hazard that dents have raised;
/// that of the cage is a cumulative hazard.
pub fn damages(model: &Model<'_>, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::FATIGUE] = rated_life_used(row[slot::SPALL]);
    damages[mechanism::PLAY] = row[slot::GROWTH] / model.map.play_limit_m;
    damages[mechanism::DENTS] = row[slot::DEEPEST] / model.spec.limit_dent;
    damages[mechanism::GREASE] = row[slot::GREASE];
    damages[mechanism::CAGE] = row[slot::CAGE];
    damages
}

/// Rated life at which the hazard of a spall is so much.
pub fn rated_life_used(hazard: f64) -> f64 {
    libm::pow(hazard / RATED_HAZARD, 1.0 / c::SLOPE)
}

/// Rated life used by both bearings as one: the share of sets that have spalled is that of a bearing that has used as much.
pub fn fatigue_sum(row: &Row) -> f64 {
    let each = [0, 1].map(|k| libm::pow(row[slot::FATIGUE + k], c::SLOPE));
    libm::pow(each[0] + each[1], 1.0 / c::SLOPE)
}

/// Readings of a condition whose damage goes by multipliers, one for each mechanism.
pub fn readings(
    model: &Model<'_>,
    row: &Row,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let growth_m = by[mechanism::PLAY] * row[slot::GROWTH];
    let preload_n = model.map.preload_n(growth_m);
    let pitches = model.spec.bearings.map(|bearing| 0.5 * bearing.pitch_m);
    let mut values = [0.0; reading::COUNT];
    values[reading::GROWTH] = growth_m;
    values[reading::PRELOAD] = preload_n;
    values[reading::DRAG] = model.spec.drag_friction * preload_n * (pitches[0] + pitches[1]);
    values[reading::FATIGUE] = by[mechanism::FATIGUE] * fatigue_sum(row);
    values[reading::DENT] = by[mechanism::DENTS] * row[slot::DEEPEST];
    values[reading::GREASE] = by[mechanism::GREASE] * row[slot::GREASE];
    values
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::GROWTH] = Some(model.map.play_limit_m);
    limits[reading::DENT] = Some(model.spec.limit_dent);
    limits[reading::GREASE] = Some(1.0);
    limits
}

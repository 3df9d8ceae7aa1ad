//! What can be measured, and the damage that stands for a limit.

use ringland_plugin::{Finding, error};

use crate::card::{mechanism, reading, slot};
use crate::condition::{Model, Row};
use crate::operating_map::look_up;
use crate::spec::Spec;

/// Least share of the taper's length that is taken to bear, so that a sink beyond it stays a number.
const LEAST_LEFT: f64 = 0.01;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::SINK] = row[slot::SINK] / spec.limit_sink_m;
    damages[mechanism::STEP] = row[slot::STEP] / spec.limit_step_m;
    damages[mechanism::FLANGE] = row[slot::FLANGE];
    damages[mechanism::HUB] = row[slot::HUB];
    damages[mechanism::PULL_THROUGH] = pull_share(spec, row);
    damages[mechanism::GALLING] = row[slot::GALLING];
    damages
}

/// Highest force so far over that which pulls the keepers through what is left of the taper's length.
pub fn pull_share(spec: &Spec, row: &Row) -> f64 {
    let left = (1.0 - row[slot::SINK] / spec.cone_length_m).max(LEAST_LEFT);
    row[slot::FORCE] / (spec.pull_through_n() * left)
}

/// Readings of a condition whose wear goes by multipliers, one for each mechanism.
pub fn readings(
    model: &Model<'_>,
    row: &Row,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let sink_m = by[mechanism::SINK] * row[slot::SINK];
    let (limiter, _) = look_up(spec, &model.map, spec.train.limiter_speed_rad_s);
    let [low_n, high_n] = limiter.force_n;
    let mut values = [0.0; reading::COUNT];
    values[reading::SINK] = sink_m;
    values[reading::STEP] = by[mechanism::STEP] * row[slot::STEP];
    values[reading::PULL_SHARE] = by[mechanism::PULL_THROUGH] * pull_share(spec, row);
    values[reading::LOST_SEAT_LOAD] = spec.train.spring.rate_n_m() * sink_m;
    values[reading::SLID] = limiter.slid_m;
    values[reading::FORCE_SHARE] = if high_n > 0.0 { low_n / high_n } else { 0.0 };
    values[reading::PRESSURE] = spec.cone().pressure_pa(high_n.max(0.0));
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::SINK] = Some(spec.limit_sink_m);
    limits[reading::STEP] = Some(spec.limit_step_m);
    limits[reading::PULL_SHARE] = Some(1.0);
    limits
}

/// An operation that the card does not have.
pub fn no_operation(operation: u32) -> Vec<Finding> {
    vec![error(
        "operation",
        f64::from(operation),
        "0 (new_keepers)",
        "choose an operation of the card",
    )]
}

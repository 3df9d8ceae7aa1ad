//! What can be measured, and the damage that stands for a limit.

use ringland_mechanics::clutch::wet::Friction;
use ringland_plugin::{Finding, error};

use crate::card::{mechanism, reading, slot};
use crate::condition::Row;
use crate::constants as c;
use crate::spec::Spec;

/// Friction of a condition whose glaze goes by a multiplier.
fn friction(spec: &Spec, row: &Row, glaze_by: f64) -> Friction {
    let modifier = libm::exp(-row[slot::OIL_AGE]);
    spec.new_friction()
        .aged(&c::AGEING, glaze_by * row[slot::GLAZE], modifier)
}

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    let allowed = spec
        .new_friction()
        .glaze_to(&c::AGEING, spec.limit_friction);
    damages[mechanism::CAPACITY] = row[slot::GLAZE] / allowed;
    damages[mechanism::LINING] = row[slot::LINING];
    damages[mechanism::THICKNESS] = row[slot::WEAR] / spec.limit_wear_m;
    let flat_m = spec.limit_flatness_m - spec.flatness_m;
    damages[mechanism::FLATNESS] = row[slot::FLATNESS] / flat_m;
    let fallen = spec.slope_s_m - friction(spec, row, 1.0).slope_s_m;
    damages[mechanism::JUDDER] = fallen / (spec.slope_s_m - judder_slope_s_m(spec));
    damages
}

/// Slope at which the judder index is at its limit \[s/m\].
pub fn judder_slope_s_m(spec: &Spec) -> f64 {
    spec.limit_judder * spec.critical_slope_s_m()
}

/// Readings of a condition whose wear goes by multipliers, one for each mechanism.
pub fn readings(spec: &Spec, row: &Row, by: &[f64; mechanism::COUNT]) -> [f64; reading::COUNT] {
    let fallen_s_m = spec.slope_s_m - friction(spec, row, 1.0).slope_s_m;
    let slope_s_m = spec.slope_s_m - by[mechanism::JUDDER] * fallen_s_m;
    let coefficient = friction(spec, row, by[mechanism::CAPACITY]).coefficient;
    let mut values = [0.0; reading::COUNT];
    values[reading::LINING] = (spec.lining_m - by[mechanism::THICKNESS] * row[slot::WEAR]).max(0.0);
    values[reading::FLATNESS] = spec.flatness_m + by[mechanism::FLATNESS] * row[slot::FLATNESS];
    values[reading::FRICTION] = coefficient;
    values[reading::JUDDER] = slope_s_m / spec.critical_slope_s_m();
    values[reading::ACID] = c::ACID_RISE * row[slot::OXIDATION];
    values[reading::MODIFIER] = libm::exp(-row[slot::OIL_AGE]);
    values[reading::SLOPE] = slope_s_m;
    values[reading::CAPACITY] = spec.capacity_n_m(coefficient);
    values[reading::HOTTEST] = row[slot::HOTTEST];
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::LINING] = Some(spec.lining_m - spec.limit_wear_m);
    limits[reading::FLATNESS] = Some(spec.limit_flatness_m);
    limits[reading::FRICTION] = Some(spec.limit_friction);
    limits[reading::JUDDER] = Some(spec.limit_judder);
    limits[reading::ACID] = Some(spec.limit_acid);
    limits
}

/// An operation that the card does not have.
pub fn no_operation(operation: u32) -> Vec<Finding> {
    vec![error(
        "operation",
        f64::from(operation),
        "0 (new_oil), 1 (new_separators) or 2 (new_linings)",
        "choose an operation of the card",
    )]
}

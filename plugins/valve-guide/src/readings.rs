//! Readings and damages from a condition.

use crate::card::{mechanism, reading, slot};
use crate::condition::{Row, volumes};
use crate::heat;
use crate::spec::Spec;
use crate::wear_limit::WearLimit;

/// Damage of each mechanism: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damages(limit: &WearLimit, row: &Row) -> [f64; mechanism::COUNT] {
    let [clearance, wobble] = limit.damages(row);
    [clearance, wobble, row[slot::GALLING]]
}

/// Every reading at a condition, with a multiplier on what each mechanism has done.
pub fn readings(
    spec: &Spec,
    limit: &WearLimit,
    row: &Row,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let [top_m, bottom_m, _] = limit.sizes_m(&volumes(row, by[mechanism::CLEARANCE]));
    let [_, _, wobble_m] = limit.sizes_m(&volumes(row, by[mechanism::WOBBLE]));
    let full_load = heat::full_load(spec);
    let mut values = [0.0; reading::COUNT];
    values[reading::MOUTH] = top_m.max(bottom_m);
    values[reading::TOP] = top_m;
    values[reading::BOTTOM] = bottom_m;
    values[reading::WOBBLE] = wobble_m;
    values[reading::GALLING] = by[mechanism::GALLING] * row[slot::GALLING];
    values[reading::HOT_CLEARANCE] = heat::hot_clearance_m(spec, &full_load);
    values[reading::STEM_TEMP] = full_load.stem_bottom_k;
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::MOUTH] = Some(spec.own.limit_clearance_m);
    limits[reading::WOBBLE] = Some(spec.own.limit_wobble_m);
    limits[reading::GALLING] = Some(1.0);
    limits[reading::HOT_CLEARANCE] = Some(spec.own.limit_hot_clearance_m);
    limits
}

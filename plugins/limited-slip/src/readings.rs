//! What can be measured, and the damage that stands for a limit.

use std::f64::consts::PI;

use crate::card::{mechanism, reading, slot};
use crate::condition::Row;
use crate::constants as c;
use crate::pack::{breakaway_n_m, chatter_dose_j_m3, chatter_index, modifier};
use crate::spec::Spec;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::STACK_WEAR] = row[slot::STACK_WEAR] / spec.limit_stack_wear_m;
    let [new, now] = [0.0, row[slot::STACK_WEAR]].map(|wear_m| breakaway_n_m(spec, wear_m));
    damages[mechanism::PRELOAD] = ((new - now) / (new - spec.limit_breakaway_n_m)).max(0.0);
    damages[mechanism::CHATTER] = chatter(spec, row);
    damages[mechanism::PLATES] =
        out_of_flat_m(spec, row) / (spec.limit_flatness_m - spec.flatness_m);
    damages
}

/// The oil's dose over that at which the pack chatters.
fn chatter(spec: &Spec, row: &Row) -> f64 {
    let dose_j_m3 = row[slot::OIL_DOSE];
    let limit_j_m3 = chatter_dose_j_m3(spec, row[slot::GLAZE]);
    if limit_j_m3 > 0.0 {
        dose_j_m3 / limit_j_m3
    } else {
        new_index(spec).max(1.0) + dose_j_m3 / c::MODIFIER_J_M3
    }
}

/// Chatter index of the new pack in fresh oil.
pub fn new_index(spec: &Spec) -> f64 {
    chatter_index(spec, modifier(spec, 0.0), 0.0)
}

/// What scoring and warp add to the flatness of a new plate \[m\].
pub fn out_of_flat_m(spec: &Spec, row: &Row) -> f64 {
    row[slot::SCORING] + warp_m(spec, row[slot::BAND_STRAIN])
}

/// Height of the waves \[m\], crest to trough, of a ring whose band is too long by a strain: a sine of amplitude a and length λ is longer than its chord by
/// `(π a / λ)²` (geometry, small slopes).
pub fn warp_m(spec: &Spec, band_strain: f64) -> f64 {
    let wave_m = 2.0 * PI * spec.radius_m() / c::WAVES;
    2.0 * wave_m / PI * band_strain.sqrt()
}

/// Readings of a condition whose wear goes by multipliers, one for each mechanism.
pub fn readings(spec: &Spec, row: &Row, by: &[f64; mechanism::COUNT]) -> [f64; reading::COUNT] {
    let damages = damages(spec, row);
    let new_n_m = breakaway_n_m(spec, 0.0);
    let dose_j_m3 = row[slot::OIL_DOSE];
    let index = |left| chatter_index(spec, left, row[slot::GLAZE]);
    let mut values = [0.0; reading::COUNT];
    values[reading::STACK_WEAR] = by[mechanism::STACK_WEAR] * row[slot::STACK_WEAR];
    let lost_n_m =
        (new_n_m - spec.limit_breakaway_n_m) * by[mechanism::PRELOAD] * damages[mechanism::PRELOAD];
    values[reading::BREAKAWAY] = (new_n_m - lost_n_m).max(0.0);
    values[reading::FLATNESS] = spec.flatness_m + by[mechanism::PLATES] * out_of_flat_m(spec, row);
    values[reading::CHATTER] = index(modifier(spec, by[mechanism::CHATTER] * dose_j_m3));
    values[reading::CHATTER_WITHOUT] = index(0.0);
    values[reading::MODIFIER] = modifier(spec, dose_j_m3) * c::MODIFIER_SHARE;
    values[reading::TAB_WEAR] = row[slot::TAB_WEAR];
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::STACK_WEAR] = Some(spec.limit_stack_wear_m);
    limits[reading::BREAKAWAY] = Some(spec.limit_breakaway_n_m);
    limits[reading::FLATNESS] = Some(spec.limit_flatness_m);
    limits[reading::CHATTER] = Some(1.0);
    limits[reading::TAB_WEAR] = Some(spec.limit_tab_wear_m);
    limits
}

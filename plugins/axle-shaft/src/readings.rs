//! What can be measured, and the damage that stands for a limit.

use crate::card::{mechanism, reading, slot};
use crate::condition::{Row, Shaft, preset_twist_rad};
use crate::constants::MOST_TWIST_RAD;
use crate::site::ZONES;
use crate::spec::{SITES, Spec, site};

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life. A site's is that of its surface or below it, whichever is ahead.
pub fn damages(shaft: &Shaft, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    for index in 0..SITES {
        damages[index] = row[index * ZONES].max(row[index * ZONES + 1]);
    }
    damages[mechanism::TWIST] = hardest_n_m(row) / shaft.twist_n_m;
    let pins_m = shaft.spec.spline.pins_loss_m(row[slot::WEAR]);
    damages[mechanism::WEAR] = pins_m / shaft.spec.limit_pins_m;
    damages
}

/// Highest torque so far, either way \[N·m\].
pub fn hardest_n_m(row: &Row) -> f64 {
    row[slot::HIGHEST].max(row[slot::REVERSE])
}

/// Readings of a condition whose rates go by multipliers, one for each mechanism.
pub fn readings(shaft: &Shaft, row: &Row, by: &[f64; mechanism::COUNT]) -> [f64; reading::COUNT] {
    let spec = &shaft.spec;
    let torque_n_m = by[mechanism::TWIST] * hardest_n_m(row);
    let twist_rad = spec.body.permanent_twist_rad(torque_n_m, MOST_TWIST_RAD);
    let mut values = [0.0; reading::COUNT];
    values[reading::TWIST] = (twist_rad - preset_twist_rad(spec)).max(0.0);
    values[reading::PINS] = spec
        .spline
        .pins_loss_m(by[mechanism::WEAR] * row[slot::WEAR]);
    values[reading::RUNOUT] = spec.build_runout_m;
    values[reading::HIGHEST] = torque_n_m;
    values[reading::YIELD_SHARE] = torque_n_m / spec.body.yield_torque_n_m();
    values[reading::SPLINE_SET] = row[slot::SET + site::SPLINE];
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::TWIST] = Some(spec.limit_twist_rad);
    limits[reading::PINS] = Some(spec.limit_pins_m);
    limits[reading::RUNOUT] = Some(spec.limit_runout_m);
    limits
}

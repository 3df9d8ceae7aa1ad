//! What can be measured, and the damage that stands for a limit.

use crate::card::{mechanism, reading, slot};
use crate::condition::{Joint, Row};
use crate::constants::MEDIAN_OVER_L10;
use crate::spec::Spec;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life, of half of joints where parts differ. The boot's is a hazard's integral.
pub fn damages(joint: &Joint, row: &Row) -> [f64; mechanism::COUNT] {
    let spec = &joint.spec;
    let pitting = row[slot::DRIVE_PITTING]
        .max(row[slot::COAST_PITTING])
        .max(row[slot::BALL_PITTING]);
    let grown_m = play_m(spec, row, 1.0) - spec.build_play_m;
    let pressure = row[slot::PRESSURE] / spec.set_pressure_pa();
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::PITTING] = pitting / MEDIAN_OVER_L10;
    damages[mechanism::WEAR] = grown_m / (spec.limit_play_m - spec.build_play_m);
    damages[mechanism::WINDOW] = row[slot::WINDOW_WEAR] / spec.limit_window_m;
    damages[mechanism::GREASE] = row[slot::GREASE];
    damages[mechanism::INDENTATION] = pressure * pressure * pressure;
    damages[mechanism::BOOT] = row[slot::BOOT];
    damages
}

fn play_m(spec: &Spec, row: &Row, rate: f64) -> f64 {
    spec.play_m(
        rate * row[slot::DRIVE_WEAR],
        rate * row[slot::COAST_WEAR],
        rate * row[slot::BALL_WEAR],
    )
}

/// A tear of any length ends the boot; this is the shortest that is told from a scratch \[m\].
const BOOT_TEAR_M: f64 = 1.0e-3;

/// Readings of a condition whose rates go by multipliers, one for each mechanism, in an event with a mean surface temperature \[K\].
pub fn readings(
    joint: &Joint,
    row: &Row,
    surface_k: f64,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let mut values = [0.0; reading::COUNT];
    values[reading::PLAY] = play_m(&joint.spec, row, by[mechanism::WEAR]);
    values[reading::WINDOW] = by[mechanism::WINDOW] * row[slot::WINDOW_WEAR];
    values[reading::GREASE] = by[mechanism::GREASE] * row[slot::GREASE];
    values[reading::SURFACE] = surface_k;
    values[reading::PRESSURE] = row[slot::PRESSURE];
    values[reading::BOOT_TEAR] = 0.0; // a boot of which nothing was said is whole
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::PLAY] = Some(spec.limit_play_m);
    limits[reading::WINDOW] = Some(spec.limit_window_m);
    limits[reading::GREASE] = Some(1.0);
    limits[reading::SURFACE] = Some(spec.limit_surface_k);
    limits[reading::BOOT_TEAR] = Some(BOOT_TEAR_M);
    limits
}

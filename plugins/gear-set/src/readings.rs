//! Damage of the mechanisms and readings from a condition.

use crate::card::{mechanism, reading};
use crate::condition::{Condition, slot};
use crate::constants::{GEARS, PITTING_SHAPE, ROOT_SHAPE};
use crate::duty::Added;
use crate::spec::Spec;

/// Miner sums of both members of every gear.
pub fn sums(condition: &Condition, from: usize) -> impl Iterator<Item = f64> + '_ {
    condition
        .gears
        .iter()
        .flat_map(move |gear| [gear[from], gear[from + 1]])
}

/// The set's damage by its weakest link: `(Σ D^β)^(1/β)` of Weibull lives of shape β.
pub fn joined(sums: impl Iterator<Item = f64>, shape: f64) -> f64 {
    libm::pow(sums.map(|sum| libm::pow(sum, shape)).sum(), 1.0 / shape)
}

fn largest(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, f64::max)
}

fn largest_of(condition: &Condition, slot: usize) -> f64 {
    largest(condition.gears.iter().map(|gear| gear[slot]))
}

/// Damage of each mechanism: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damage(spec: &Spec, condition: &Condition) -> [f64; mechanism::COUNT] {
    [
        joined(sums(condition, slot::PITTING), PITTING_SHAPE),
        joined(sums(condition, slot::ROOT), ROOT_SHAPE),
        condition.scuff_severity,
        largest_of(condition, slot::DOG) / (spec.limit_dog_corner_m - spec.dog_corner_m),
        largest_of(condition, slot::BACKLASH) / spec.limit_backlash_growth_m,
    ]
}

/// Every reading at a condition, for a multiplier on each mechanism; temperature and film are those of the event.
pub fn readings(
    spec: &Spec,
    condition: &Condition,
    by: &[f64; mechanism::COUNT],
    event: &Added,
) -> [f64; reading::COUNT] {
    let damage = damage(spec, condition);
    let mut values = [0.0; reading::COUNT];
    values[reading::PITTING] = by[mechanism::PITTING] * damage[mechanism::PITTING];
    values[reading::ROOT] = by[mechanism::ROOT] * damage[mechanism::ROOT];
    values[reading::SCUFF] = by[mechanism::SCUFF] * damage[mechanism::SCUFF];
    values[reading::DOG_CORNER] =
        spec.dog_corner_m + by[mechanism::DOG] * largest_of(condition, slot::DOG);
    values[reading::BACKLASH] =
        spec.backlash_m + by[mechanism::BACKLASH] * largest_of(condition, slot::BACKLASH);
    values[reading::CONTACT_TEMP] = event.contact_k;
    values[reading::FILM] = event.film_ratio.min(THICKEST);
    for (index, gear) in condition.gears.iter().enumerate() {
        let of = |slot: usize| gear[slot].max(gear[slot + 1]);
        values[reading::GEAR_PITTING + index] = by[mechanism::PITTING] * of(slot::PITTING);
        values[reading::GEAR_ROOT + index] = by[mechanism::ROOT] * of(slot::ROOT);
    }
    values
}

/// Film over roughness that stands for gears without load.
const THICKEST: f64 = 10.0;

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::PITTING] = Some(1.0);
    limits[reading::ROOT] = Some(1.0);
    limits[reading::SCUFF] = Some(1.0);
    limits[reading::DOG_CORNER] = Some(spec.limit_dog_corner_m);
    limits[reading::BACKLASH] = Some(spec.backlash_m + spec.limit_backlash_growth_m);
    for index in 0..GEARS {
        limits[reading::GEAR_PITTING + index] = Some(1.0);
        limits[reading::GEAR_ROOT + index] = Some(1.0);
    }
    limits
}

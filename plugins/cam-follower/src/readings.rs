//! Readings from a condition.

use ringland_engine::Block;

use crate::card::{mechanism, reading};
use crate::condition::{Condition, Model};
use crate::duty;

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damage(model: &Model<'_>, condition: &Condition) -> [f64; mechanism::COUNT] {
    let spec = &model.spec;
    [
        condition.deepest_wear_m() / spec.limit_lobe_wear_m,
        condition.follower_wear_m / spec.follower_limit_m(),
        condition.most_lobe_pitting(),
        condition.follower_pitting,
        condition.scuff_severity,
    ]
}

/// Every reading at a condition, for a multiplier on each mechanism. `steady` are those of [`steady`].
pub fn readings(
    condition: &Condition,
    by: &[f64; mechanism::COUNT],
    steady: [f64; 2],
) -> [f64; reading::COUNT] {
    let mut values = [0.0; reading::COUNT];
    values[reading::LOBE_WEAR] = by[mechanism::LOBE_WEAR] * condition.deepest_wear_m();
    values[reading::LIFT_LOSS] = by[mechanism::LOBE_WEAR] * condition.nose_wear_m();
    values[reading::FOLLOWER_WEAR] = by[mechanism::FOLLOWER_WEAR] * condition.follower_wear_m;
    values[reading::LASH_GROWTH] = by[mechanism::FOLLOWER_WEAR] * condition.lash_growth_m;
    values[reading::LOBE_PITTING] = by[mechanism::LOBE_PITTING] * condition.most_lobe_pitting();
    values[reading::FOLLOWER_PITTING] =
        by[mechanism::FOLLOWER_PITTING] * condition.follower_pitting;
    values[reading::SCUFF] = by[mechanism::SCUFF] * condition.scuff_severity;
    [values[reading::PEAK_PRESSURE], values[reading::NOSE_FILM]] = steady;
    values
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &model.spec;
    let mut limits = [None; reading::COUNT];
    limits[reading::LOBE_WEAR] = Some(spec.limit_lobe_wear_m);
    limits[reading::LIFT_LOSS] = Some(spec.limit_lobe_wear_m);
    limits[reading::FOLLOWER_WEAR] = Some(spec.follower_limit_m());
    limits[reading::LASH_GROWTH] = Some(spec.limit_lash_growth_m);
    limits[reading::LOBE_PITTING] = Some(1.0);
    limits[reading::FOLLOWER_PITTING] = Some(1.0);
    limits[reading::SCUFF] = Some(1.0);
    limits
}

/// Speed at which the film at the nose is told, over the limiter's.
const SLOW: f64 = 0.25;

/// Highest Hertz pressure at the limiter \[Pa\], and film over roughness at the nose at a quarter of that speed, with the warm oil that stands in
/// on the card.
pub fn steady(model: &Model<'_>) -> [f64; 2] {
    let (spec, map) = (&model.spec, &model.map);
    let limiter_rad_s = spec.train.limiter_speed_rad_s;
    let (_, viscosity_pa_s) = duty::surfaces(spec, &Block::default());
    let at = |speed_rad_s: f64| map.at(speed_rad_s, spec.train.seat_load_n, viscosity_pa_s);
    [
        at(limiter_rad_s).peak_pressure_pa,
        at(SLOW * limiter_rad_s).turn.nose_film_ratio,
    ]
}

//! Readings from a condition.

use ringland_engine::Block;

use crate::card::{mechanism, reading};
use crate::condition::{Condition, Model};
use crate::duty;

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damage(model: &Model<'_>, condition: &Condition) -> [f64; mechanism::COUNT] {
    let spec = &model.spec;
    [
        condition.most_wear_m() / spec.limit_wear_m,
        condition.most_fatigue(),
        condition.boundary_heat_w_m2 / spec.limit_boundary_heat_w_m2,
        (condition.wear_m[0] + condition.wear_m[1]) / spec.limit_clearance_growth_m,
    ]
}

/// Every reading at a condition, for a multiplier on each mechanism. `least_film_m` is that of [`least_film_m`].
pub fn readings(
    model: &Model<'_>,
    condition: &Condition,
    by: &[f64; mechanism::COUNT],
    least_film_m: f64,
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let lining_m = spec.overlay_thickness_m + spec.shell.coating_thickness_m;
    let wear_m = by[mechanism::WEAR] * condition.most_wear_m();
    let opened_m = by[mechanism::CLEARANCE] * (condition.wear_m[0] + condition.wear_m[1]);
    let mut values = [0.0; reading::COUNT];
    values[reading::OVERLAY_LEFT] = (lining_m - wear_m).max(0.0);
    values[reading::WALL] = (spec.wall_thickness_m - wear_m).max(0.0);
    values[reading::CLEARANCE] = spec.diametral_clearance_m + opened_m;
    values[reading::FATIGUE] = by[mechanism::FATIGUE] * condition.most_fatigue();
    values[reading::BOUNDARY_HEAT] = by[mechanism::SEIZURE] * condition.boundary_heat_w_m2;
    values[reading::LEAST_FILM] = least_film_m;
    values[reading::DIPS] = condition.cautions;
    values
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &model.spec;
    let lining_m = spec.overlay_thickness_m + spec.shell.coating_thickness_m;
    let mut limits = [None; reading::COUNT];
    limits[reading::OVERLAY_LEFT] = Some(lining_m - spec.limit_wear_m);
    limits[reading::WALL] = Some(spec.wall_thickness_m - spec.limit_wear_m);
    limits[reading::CLEARANCE] = Some(spec.diametral_clearance_m + spec.limit_clearance_growth_m);
    limits[reading::FATIGUE] = Some(1.0);
    limits[reading::BOUNDARY_HEAT] = Some(spec.limit_boundary_heat_w_m2);
    limits[reading::DIPS] = Some(0.0);
    limits
}

/// Least film at full load and rated speed with the warm oil and pressure that stand in on the card \[m\].
pub fn least_film_m(model: &Model<'_>) -> f64 {
    let engine = &model.spec.engine;
    let block = Block {
        speed_rad_s: engine.rated_speed_rad_s,
        ..Block::default()
    };
    let place = model
        .map
        .place(engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let layer = model.map.layer(block.speed_rad_s, block.oil_pressure_pa);
    let running = duty::running(&model.spec, &place, &block, layer);
    running.solution.least_film_m
}

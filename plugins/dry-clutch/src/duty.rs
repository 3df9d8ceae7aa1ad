//! A duty record as what it adds: engagements one after the other with the heat that the last one left, and splines that slide.

use std::f64::consts::PI;

use ringland_driveline::{Block, Use};

use crate::constants as c;
use crate::engagement::{Effect, effect};
use crate::plate_set::SetGrowth;
use crate::response_map::ResponseMap;
use crate::spec::Spec;
use crate::stack::capacity_j_k;

/// What a record adds.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// Height that the stack loses \[m\], run in.
    pub wear_m: f64,
    /// Dose of glazing \[1\].
    pub glaze: f64,
    /// Growth of the floaters' set.
    pub floater: SetGrowth,
    /// Growth of the pressure plate's set.
    pub pressure_plate: SetGrowth,
    /// Damage of the hottest band \[1\].
    pub heat_check: f64,
    /// Pressure times sliding on the splines \[Pa·m\].
    pub spline_pa_m: f64,
    /// Heat \[J\].
    pub energy_j: f64,
    /// Highest mean temperature of a plate \[K\]; 0 without an engagement.
    pub plate_k: f64,
    /// Highest temperature of a hot band \[K\]; 0 without an engagement.
    pub band_k: f64,
    /// Each engagement.
    pub effects: Vec<Effect>,
    /// Pressure times sliding on the splines at each operating point \[Pa·m\].
    pub points_pa_m: Vec<f64>,
    /// Largest engine torque at an operating point \[N·m\].
    pub engine_torque_n_m: f64,
}

/// What a record adds.
pub fn added(spec: &Spec, map: &ResponseMap<'_>, record: &Use) -> Added {
    let effects = effects(spec, map, record);
    let sum = |of: fn(&Effect) -> f64| effects.iter().map(of).fold(0.0, |sum, value| sum + value);
    let most = |of: fn(&Effect) -> f64| effects.iter().map(of).fold(0.0, f64::max);
    let set = |of: fn(&Effect) -> _| SetGrowth::new(&effects.iter().map(of).collect::<Vec<_>>());
    let points_pa_m: Vec<f64> = record
        .points
        .iter()
        .map(|block| spline_pa_m(spec, block))
        .collect();
    Added {
        wear_m: sum(|e| e.wear_m),
        glaze: sum(|e| e.glaze),
        floater: set(|e| e.floater),
        pressure_plate: set(|e| e.pressure_plate),
        heat_check: sum(|e| e.heat_check),
        spline_pa_m: points_pa_m.iter().fold(0.0, |sum, value| sum + value),
        energy_j: sum(|e| e.energy_j),
        plate_k: most(|e| e.plate_k),
        band_k: most(|e| e.band_k),
        engine_torque_n_m: record
            .points
            .iter()
            .map(|p| p.engine_torque_n_m)
            .fold(0.0, f64::max),
        points_pa_m,
        effects,
    }
}

/// Each engagement, from the temperature that the one before has left. A record begins with a stack as warm as its housing.
fn effects(spec: &Spec, map: &ResponseMap<'_>, record: &Use) -> Vec<Effect> {
    let capacity_j_k = capacity_j_k(spec);
    let per_s = cooling_w_k(spec, record.mean.engine_speed_rad_s) / capacity_j_k;
    let housing_k = record.mean.ambient_k + spec.housing_rise_k;
    let (mut stack_k, mut free_from_s) = (housing_k, 0.0);
    let mut effects = Vec::with_capacity(record.engagements.len());
    for engagement in &record.engagements {
        let gap_s = (engagement.start_s - free_from_s).max(0.0);
        stack_k = housing_k + (stack_k - housing_k) * libm::exp(-gap_s * per_s);
        effects.push(effect(spec, map, capacity_j_k, engagement, stack_k));
        stack_k += engagement.energy_j / capacity_j_k;
        free_from_s = engagement.start_s.max(free_from_s) + engagement.duration_s;
    }
    effects
}

/// Heat that the stack loses for each kelvin above its housing \[W/K\], at an engine speed.
pub fn cooling_w_k(spec: &Spec, engine_speed_rad_s: f64) -> f64 {
    let speed = engine_speed_rad_s / c::COOLING_AT_RAD_S;
    spec.cooling_w_m2_k * spec.cooled_area_m2 * libm::pow(speed, c::COOLING_EXPONENT)
}

/// Pressure times sliding of a disc's spline on a shaft whose axis is off that of the engine: each turn slides it to and fro under
/// the disc's share of the torque.
pub fn spline_pa_m(spec: &Spec, block: &Block) -> f64 {
    let torque_n_m = block.engine_torque_n_m.abs() / spec.discs as f64;
    let pressure_pa = torque_n_m / (spec.spline_radius_m * spec.spline_area_m2);
    let turns = block.engine_speed_rad_s * block.time_s / (2.0 * PI);
    pressure_pa * c::SLIDING_PER_OFFSET * spec.axis_offset_m * turns
}

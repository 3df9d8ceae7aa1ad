//! Readings and damages from a condition.

use ringland_engine::Block;

use crate::card::{mechanism, reading, slot};
use crate::condition::{Model, Row};
use crate::duty::{Temperatures, viscosity_pa_s};
use crate::solve::look_up;
use crate::spec::Spec;

/// Damage of each mechanism: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let room_m = spec.limit_side_clearance_m - spec.top_side_clearance_m;
    let softening_at_limit = spec.softening().fraction_at(spec.limit_hardness_loss_pa);
    [
        row[slot::TOP_GROOVE] / room_m,
        row[slot::WELDING],
        skirt_loss_m(spec, row) / spec.limit_skirt_loss_m,
        row[slot::SOFTENING] / softening_at_limit,
        row[slot::PIN_BORE] / spec.limit_pin_bore_m,
        row[slot::BOSS],
    ]
}

/// Loss of skirt diameter \[m\]: collapse, and what the metal of both faces has worn.
pub fn skirt_loss_m(spec: &Spec, row: &Row) -> f64 {
    let metal = [slot::THRUST_SKIRT, slot::ANTI_THRUST_SKIRT]
        .map(|index| (row[index] - spec.skirt_coat_thickness_m).max(0.0));
    row[slot::COLLAPSE] + metal[0] + metal[1]
}

/// Every reading at a condition, with a multiplier on what each mechanism has done.
pub fn readings(
    model: &Model<'_>,
    row: &Row,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let coat_m = spec.skirt_coat_thickness_m - by[mechanism::SKIRT] * row[slot::THRUST_SKIRT];
    let softening = by[mechanism::HARDNESS] * row[slot::SOFTENING];
    let (groove_k, friction_w) = full_load(model, coat_m > 0.0);
    let mut values = [0.0; reading::COUNT];
    values[reading::TOP_SIDE_CLEARANCE] =
        spec.top_side_clearance_m + by[mechanism::GROOVE] * row[slot::TOP_GROOVE];
    values[reading::SECOND_SIDE_CLEARANCE] =
        spec.second_side_clearance_m + by[mechanism::GROOVE] * row[slot::SECOND_GROOVE];
    values[reading::SKIRT_LOSS] = by[mechanism::SKIRT] * skirt_loss_m(spec, row);
    values[reading::SKIRT_COAT] = coat_m.max(0.0);
    values[reading::HARDNESS] = spec.hardness_pa - spec.softening().loss_pa(softening);
    values[reading::PIN_BORE] = by[mechanism::PIN_BORE] * row[slot::PIN_BORE];
    values[reading::WELDING] = by[mechanism::WELDING] * row[slot::WELDING];
    values[reading::GROOVE_TEMP] = groove_k;
    values[reading::SKIRT_FRICTION] = friction_w;
    values
}

/// Groove temperature \[K\] and skirt friction \[W\] at full load and rated speed, warm.
fn full_load(model: &Model<'_>, coated: bool) -> (f64, f64) {
    let (spec, engine) = (&model.spec, &model.spec.engine);
    let (speed_rad_s, imep_pa) = (engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let block = Block {
        speed_rad_s,
        torque_n_m: full_load_torque_n_m(model),
        ..Block::default()
    };
    let temperatures = Temperatures::new(spec, &block, imep_pa);
    let viscosity = viscosity_pa_s(spec, &block, &temperatures);
    let (cycle, _) = look_up(&model.map, speed_rad_s, imep_pa, viscosity);
    let (material, surface) = if coated {
        (1, &spec.skirt_coat)
    } else {
        (0, &spec.skirt)
    };
    let dose_pa_m = cycle.skirt_pa_m[0][material] + cycle.skirt_pa_m[1][material];
    let area_m2 = spec.skirt_length_m * spec.skirt_width_m;
    let work_j = cycle.viscous_j + surface.boundary_friction * dose_pa_m * area_m2;
    let friction_w = work_j * speed_rad_s / (4.0 * std::f64::consts::PI);
    (temperatures.groove_k, friction_w)
}

fn full_load_torque_n_m(model: &Model<'_>) -> f64 {
    use ringland_mechanics::engine::{ChenFlynn, torque_n_m};
    let engine = &model.spec.engine;
    let (speed, imep_pa) = (engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let peak_pa = model.map.peak_pressure_pa(speed, imep_pa);
    let friction_pa = ChenFlynn::default().fmep_pa(peak_pa, engine.mean_piston_speed_m_s(speed));
    torque_n_m(
        imep_pa - friction_pa,
        engine.cylinders * engine.displacement_m3(),
    )
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::TOP_SIDE_CLEARANCE] = Some(spec.limit_side_clearance_m);
    limits[reading::SKIRT_LOSS] = Some(spec.limit_skirt_loss_m);
    limits[reading::HARDNESS] = Some(spec.hardness_pa - spec.limit_hardness_loss_pa);
    limits[reading::PIN_BORE] = Some(spec.limit_pin_bore_m);
    limits
}

//! Readings and damages from a condition.

use ringland_engine::Block;

use crate::card::{mechanism, reading, slot};
use crate::condition::{Model, Row};
use crate::duty::viscosity_pa_s;
use crate::solve::look_up;
use crate::spec::Spec;

/// Damage of each mechanism: 1 where its limit is reached; for the coating, the hazard. A rate multiplier multiplies it.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    [
        clearance_growth_m(row) / (spec.limit_bush_clearance_m - spec.bush_clearance_m),
        row[slot::PIN] / spec.pin_wear_limit_m(),
        row[slot::SEVERITY] / spec.limit_scuff_w_m2,
        row[slot::COATING_HAZARD],
        row[slot::PIN_DAMAGE],
    ]
}

/// Growth of the clearance \[m\]: what bush and pin have worn.
pub fn clearance_growth_m(row: &Row) -> f64 {
    row[slot::BUSH] + row[slot::PIN]
}

/// Every reading at a condition, with a multiplier on what each mechanism has done.
pub fn readings(
    model: &Model<'_>,
    row: &Row,
    by: &[f64; mechanism::COUNT],
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let pin_m = by[mechanism::PIN_WEAR] * row[slot::PIN];
    let force_n = full_load_force_n(model);
    let mut values = [0.0; reading::COUNT];
    values[reading::BUSH_CLEARANCE] =
        spec.bush_clearance_m + by[mechanism::BUSH] * clearance_growth_m(row);
    values[reading::PIN_WEAR] = pin_m;
    values[reading::COATING] = (spec.coating_m - 0.5 * pin_m).max(0.0);
    values[reading::SEVERITY] = by[mechanism::SCUFF] * row[slot::SEVERITY];
    values[reading::OVALISATION] = spec.pin.ovalisation_m(force_n);
    values[reading::PEAK_PRESSURE] = force_n / spec.bush_area_m2();
    values
}

/// Highest force at full load and rated speed, warm \[N\].
fn full_load_force_n(model: &Model<'_>) -> f64 {
    let engine = &model.spec.engine;
    let (speed_rad_s, imep_pa) = (engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let viscosity = viscosity_pa_s(&model.spec, &Block::default(), imep_pa);
    let (cycle, _) = look_up(&model.map, speed_rad_s, imep_pa, viscosity, 1.0);
    cycle.force_n[0]
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::BUSH_CLEARANCE] = Some(spec.limit_bush_clearance_m);
    limits[reading::PIN_WEAR] = Some(spec.pin_wear_limit_m());
    limits[reading::SEVERITY] = Some(spec.limit_scuff_w_m2);
    limits
}

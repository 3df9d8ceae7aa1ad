//! What can be measured, and the damage that stands for a limit.

use crate::card::{mechanism, reading, slot};
use crate::condition::Row;
use crate::constants as c;
use crate::plate_set::cone_m;
use crate::spec::Spec;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::STACK_WEAR] = row[slot::STACK_WEAR] / spec.limit_stack_wear_m;
    damages[mechanism::CAPACITY] = reserve_lost(spec, row);
    damages[mechanism::WARP] = highest_cone_m(spec, row) / spec.limit_cone_m;
    damages[mechanism::HEAT_CRACKS] = row[slot::HEAT_CHECK];
    damages[mechanism::SPLINES] = row[slot::SPLINE_WEAR] / spec.limit_spline_wear_m;
    damages
}

/// Share of the new clutch's torque above the engine's that wear of the stack and glazing have taken.
fn reserve_lost(spec: &Spec, row: &Row) -> f64 {
    let new_n_m = spec.capacity_n_m(0.0, 0.0);
    let now_n_m = spec.capacity_n_m(row[slot::STACK_WEAR], row[slot::GLAZE]);
    ((new_n_m - now_n_m) / (new_n_m - spec.engine_torque_n_m)).max(0.0)
}

/// Height of the cone of the plate that is most out of flat \[m\].
pub fn highest_cone_m(spec: &Spec, row: &Row) -> f64 {
    let cone = |set, thickness_m| cone_m(set, thickness_m, spec.face.outer_m, spec.face.inner_m);
    let floater_m = if spec.discs > 1 {
        cone(row[slot::FLOATER_SET], spec.floater_m)
    } else {
        0.0
    };
    floater_m.max(cone(row[slot::PLATE_SET], spec.pressure_plate_m))
}

/// Way of a heat check from the middle of a face to its edge \[m\].
pub fn to_the_edge_m(spec: &Spec) -> f64 {
    0.5 * (spec.face.outer_m - spec.face.inner_m)
}

/// Length of a heat check at a damage \[m\]: growth in proportion to length (B. Tomkins 1968), from the first craze to the edge at damage 1. Held at the
/// edge.
pub fn heat_check_m(spec: &Spec, damage: f64) -> f64 {
    let edge_m = to_the_edge_m(spec);
    c::CRAZE_M * libm::pow(edge_m / c::CRAZE_M, damage.min(1.0))
}

/// Slope of friction over that at which stick-slip starts: the clutch feeds in `n F r² dμ/dv`, the driveline takes out its damping.
pub fn judder_index(spec: &Spec, stack_wear_m: f64, glaze: f64) -> f64 {
    let radius_m = spec.face.uniform_wear_radius_m();
    let pull_n_m2 = spec.faces() * spec.clamp_worn_n(stack_wear_m) * radius_m * radius_m;
    -spec.glazed_slope_s_m(glaze) * pull_n_m2 / spec.driveline_damping_n_m_s
}

/// Readings of a condition whose wear goes by multipliers, one for each mechanism.
pub fn readings(spec: &Spec, row: &Row, by: &[f64; mechanism::COUNT]) -> [f64; reading::COUNT] {
    let wear_m = by[mechanism::STACK_WEAR] * row[slot::STACK_WEAR];
    let new_n_m = spec.capacity_n_m(0.0, 0.0);
    let reserve_n_m = new_n_m - spec.engine_torque_n_m;
    let lost = by[mechanism::CAPACITY] * reserve_lost(spec, row);
    let mut values = [0.0; reading::COUNT];
    values[reading::STACK_WEAR] = wear_m;
    values[reading::CONE] = by[mechanism::WARP] * highest_cone_m(spec, row);
    values[reading::FINGER] = spec.finger_ratio * wear_m;
    values[reading::CAPACITY] = if lost > 0.0 {
        (new_n_m - reserve_n_m * lost).max(0.0)
    } else {
        spec.capacity_n_m(row[slot::STACK_WEAR], row[slot::GLAZE])
    };
    values[reading::HEAT_CHECK] =
        heat_check_m(spec, by[mechanism::HEAT_CRACKS] * row[slot::HEAT_CHECK]);
    values[reading::HOTTEST] = row[slot::HOTTEST];
    values[reading::JUDDER] = judder_index(spec, row[slot::STACK_WEAR], row[slot::GLAZE]);
    values[reading::SPLINE_WEAR] = by[mechanism::SPLINES] * row[slot::SPLINE_WEAR];
    values[reading::CLAMP] = spec.clamp_worn_n(wear_m);
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::STACK_WEAR] = Some(spec.limit_stack_wear_m);
    limits[reading::CONE] = Some(spec.limit_cone_m);
    limits[reading::FINGER] = Some(spec.limit_finger_m);
    limits[reading::CAPACITY] = Some(spec.engine_torque_n_m);
    limits[reading::HEAT_CHECK] = Some(to_the_edge_m(spec));
    limits[reading::HOTTEST] = Some(spec.limit_plate_k);
    limits[reading::JUDDER] = Some(1.0);
    limits[reading::SPLINE_WEAR] = Some(spec.limit_spline_wear_m);
    limits
}

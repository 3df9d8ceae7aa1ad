//! What can be measured, and the damage that stands for a limit.

use ringland_mechanics::clutch::judder::friction_damping_n_m_s;

use crate::card::{mechanism, reading, slot};
use crate::condition::Row;
use crate::constants as c;
use crate::plate_set::cone_m;
use crate::spec::Spec;

/// Damage of each mechanism at a rate multiplier of 1: 1 ends the life.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::STACK_WEAR] = row[slot::STACK_WEAR] / spec.limit_stack_wear_m;
    damages[mechanism::CAPACITY] = capacity_damage(spec, row);
    damages[mechanism::WARP] = highest_cone_m(spec, row) / spec.limit_cone_m;
    damages[mechanism::HEAT_CRACKS] = row[slot::HEAT_CHECK];
    damages[mechanism::SPLINES] = row[slot::SPLINE_WEAR] / spec.limit_spline_wear_m;
    damages
}

/// Dose at which glazing is over.
const GLAZED_OUT: f64 = 60.0;

/// One over the rate at which wear and glazing so far would just have left the engine's torque: 1 is the end. 0 when no rate would have.
///
/// A rate multiplies what has been worn and glazed, not the torque that is lost: glazing is bounded, and the clamp load rises before it falls.
fn capacity_damage(spec: &Spec, row: &Row) -> f64 {
    let (wear_m, glaze) = (row[slot::STACK_WEAR], row[slot::GLAZE]);
    let spare = |rate: f64| {
        let holds_n_m = spec.capacity_n_m(rate * wear_m, rate * glaze);
        holds_n_m / spec.engine_torque_n_m - 1.0
    };
    let out_of_travel = spec.diaphragm.deflection_m / wear_m.max(f64::MIN_POSITIVE);
    let glazed_out = GLAZED_OUT / glaze.max(f64::MIN_POSITIVE);
    let near = out_of_travel.min(glazed_out);
    let most = if spare(near) <= 0.0 {
        near
    } else {
        out_of_travel
    };
    if !most.is_finite() || spare(most) > 0.0 {
        return 0.0;
    }
    1.0 / crossing(spare, most)
}

/// Where a function that is above 0 at 0 and not at `most` crosses 0: false position; the value of an end that stays for a second time is halved (the
/// Illinois rule).
fn crossing(of: impl Fn(f64) -> f64, most: f64) -> f64 {
    let ((mut low, mut above), (mut high, mut below)) = ((0.0, of(0.0)), (most, of(most)));
    let mut raised_low = None;
    for _ in 0..60 {
        let at = low + (high - low) * above / (above - below);
        let value = of(at);
        if value.abs() < 1e-12 {
            return at;
        }
        let raise = value > 0.0;
        let again = raised_low == Some(raise);
        raised_low = Some(raise);
        if raise {
            (low, above) = (at, value);
            below *= if again { 0.5 } else { 1.0 };
        } else {
            (high, below) = (at, value);
            above *= if again { 0.5 } else { 1.0 };
        }
    }
    high
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

/// Friction's damping over that at which stick-slip starts, at full clamp load.
pub fn judder_index(spec: &Spec, stack_wear_m: f64, glaze: f64) -> f64 {
    let radius_m = spec.face.uniform_wear_radius_m();
    let clamp_n = spec.clamp_worn_n(stack_wear_m);
    let slope_s_m = spec.glazed_slope_s_m(glaze);
    let damping = friction_damping_n_m_s(spec.faces(), clamp_n, radius_m, slope_s_m);
    spec.driveline.index(damping)
}

/// Readings of a condition whose wear goes by multipliers, one for each mechanism.
pub fn readings(spec: &Spec, row: &Row, by: &[f64; mechanism::COUNT]) -> [f64; reading::COUNT] {
    let wear_m = by[mechanism::STACK_WEAR] * row[slot::STACK_WEAR];
    let rate = by[mechanism::CAPACITY];
    let mut values = [0.0; reading::COUNT];
    values[reading::STACK_WEAR] = wear_m;
    values[reading::CONE] = by[mechanism::WARP] * highest_cone_m(spec, row);
    values[reading::FINGER] = spec.finger_ratio * wear_m;
    values[reading::CAPACITY] =
        spec.capacity_n_m(rate * row[slot::STACK_WEAR], rate * row[slot::GLAZE]);
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

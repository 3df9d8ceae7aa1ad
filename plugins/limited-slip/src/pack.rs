//! Forces, torque, friction and chatter of the pack in a state.

use ringland_mechanics::clutch::judder::friction_damping_n_m_s;
use ringland_mechanics::clutch::torque::capacity_n_m;

use crate::constants as c;
use crate::spec::Spec;

/// Force of the springs on every face \[N\]: one set at each end of the pack, each following half of the height that the stack has lost.
pub fn spring_n(spec: &Spec, stack_wear_m: f64) -> f64 {
    let left_m = (spec.spring_deflection_m - 0.5 * stack_wear_m).max(0.0);
    spec.spring.load_n(left_m).max(0.0)
}

/// Force of the ramps on every face \[N\] at an axle torque, signed: the cross pin's torque on a wedge, half of it on either pressure ring,
/// `T / (2 r tan θ)` with the angle of the ramp from the plane across the axle's axis. Negative torque climbs the coast ramp.
pub fn ramp_n(spec: &Spec, axle_torque_n_m: f64) -> f64 {
    let angle = if axle_torque_n_m >= 0.0 {
        spec.drive_ramp_rad
    } else {
        spec.coast_ramp_rad
    };
    axle_torque_n_m.abs() / (2.0 * spec.ramp_radius_m * libm::tan(angle))
}

/// Friction modifier left over that at which friction is stated; above 1 for a richer oil.
pub fn modifier(spec: &Spec, oil_dose_j_m3: f64) -> f64 {
    spec.modifier_share / c::MODIFIER_SHARE * libm::exp(-oil_dose_j_m3 / c::MODIFIER_J_M3)
}

fn glazed(dose: f64) -> f64 {
    -libm::expm1(-dose)
}

/// Friction coefficient: rises as the modifier goes, falls with glazing.
pub fn friction(spec: &Spec, oil_dose_j_m3: f64, glaze: f64) -> f64 {
    let without = 1.0 - modifier(spec, oil_dose_j_m3);
    spec.friction * (1.0 + c::FRICTION_GAIN * without) * (1.0 - c::GLAZED_LOSS * glazed(glaze))
}

/// Highest friction coefficient of the surfaces: no modifier, no glazing.
pub fn highest_friction(spec: &Spec) -> f64 {
    spec.friction * (1.0 + c::FRICTION_GAIN)
}

/// Lock torque \[N·m\]: the difference between the wheels' torques that makes the pack slip, `μ n F r`. Each side gear is held to the case by
/// half of the faces, `μ (n/2) F r`; what one wheel gains the other loses.
pub fn lock_n_m(spec: &Spec, friction: f64, force_n: f64) -> f64 {
    capacity_n_m(spec.faces, friction, force_n, spec.radius_m())
}

/// Sliding speed \[m/s\] at a difference between the wheels' speeds: each side gear turns against the case by half of it, so that heat is
/// made at `lock torque × |difference| / 2`.
pub fn sliding_m_s(spec: &Spec, wheel_difference_rad_s: f64) -> f64 {
    0.5 * spec.radius_m() * wheel_difference_rad_s.abs()
}

/// Breakaway torque \[N·m\] in fresh oil, unglazed: of one wheel with the case held and the other wheel free, which is the lock torque of the
/// springs alone.
pub fn breakaway_n_m(spec: &Spec, stack_wear_m: f64) -> f64 {
    lock_n_m(spec, friction(spec, 0.0, 0.0), spring_n(spec, stack_wear_m))
}

/// Slope of friction over speed \[s/m\] with so much of the modifier left.
fn slope_s_m(spec: &Spec, modifier: f64, glaze: f64) -> f64 {
    spec.slope_s_m - c::MODIFIER_SLOPE_S_M * (1.0 - modifier) + c::GLAZED_SLOPE_S_M * glazed(glaze)
}

/// Chatter index: friction's negative damping of one side, `(n/2) F r² dμ/dv`, over that at which its half-shaft starts stick-slip, at the
/// axle torque of a slow corner and with new springs, which press hardest. Both sides vibrate against each other alike.
pub fn chatter_index(spec: &Spec, modifier: f64, glaze: f64) -> f64 {
    let force_n = spring_n(spec, 0.0) + ramp_n(spec, spec.chatter_torque_n_m);
    let slope = slope_s_m(spec, modifier, glaze);
    let feeds = friction_damping_n_m_s(0.5 * spec.faces, force_n, spec.radius_m(), slope);
    spec.side.index(feeds)
}

/// Heat for each volume of oil after which the pack chatters \[J/m³\]: the index is straight in the modifier that is left. 0 or less for a pack
/// that chatters in fresh oil, infinite for one that stays quiet without modifier.
pub fn chatter_dose_j_m3(spec: &Spec, glaze: f64) -> f64 {
    let with = chatter_index(spec, 1.0, glaze);
    let without = chatter_index(spec, 0.0, glaze);
    if without <= 1.0 {
        return f64::INFINITY;
    }
    let left = (without - 1.0) / (without - with);
    c::MODIFIER_J_M3 * libm::log(modifier(spec, 0.0) / left)
}

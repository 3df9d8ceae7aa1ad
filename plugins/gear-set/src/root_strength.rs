//! What the tooth root bears: residual stress, roughness, notch.

use ringland_mechanics::fatigue::mean_stress::sensitivity_of_steel;
use ringland_mechanics::fatigue::notch::relative_gradient_per_m;
use ringland_mechanics::gear::bending::{
    RootSection, notch_sensitivity, size_factor, surface_factor,
};

use crate::constants::{
    DEEPEST_M, RESIDUAL_FACTORS, RETAINED, RZ_PER_RA, STRENGTH_PER_HARDNESS, TEST_GEAR_RESIDUAL_PA,
};
use crate::spec::Spec;

/// Depths at which a crack may start.
const DEPTHS: u32 = 40;

/// Of the allowable stress number at and beyond the endurance knee: residual stress times the
/// relative factors of notch, surface and size.
pub fn endurance(spec: &Spec, section: &RootSection) -> f64 {
    residual_factor(spec, section)
        * notch_sensitivity(section)
        * surface_factor(RZ_PER_RA * spec.root.ra_m)
        * size_factor(spec.rack.module_m)
}

/// What residual stress makes of the pulsating strength, at the depth where least is left over.
///
/// A pulsating stress σ has amplitude and mean σ/2; with sensitivity M to mean stress the amplitude
/// borne falls by M (mean + residual), so that the pulsating strength changes by
/// `−2 M/(1 + M)` times the residual stress over that of the standard's test gears. The load stress
/// falls below the fillet with its gradient 2/ρ.
pub fn residual_factor(spec: &Spec, section: &RootSection) -> f64 {
    let profile = &spec.root.residual;
    if profile.is_empty() {
        return 1.0;
    }
    let ultimate_pa = STRENGTH_PER_HARDNESS * spec.root.hardness_pa;
    let sensitivity = sensitivity_of_steel(ultimate_pa);
    let weight = 2.0 * sensitivity / (1.0 + sensitivity) * RETAINED / spec.root_strength_pa;
    let gradient_per_m = relative_gradient_per_m(section.fillet_m);
    let at = |k: u32| {
        let depth_m = DEEPEST_M * f64::from(k) / f64::from(DEPTHS);
        let strength = 1.0 - weight * (profile.at(depth_m) - TEST_GEAR_RESIDUAL_PA);
        strength / (1.0 - gradient_per_m * depth_m).max(0.05)
    };
    let least = (0..=DEPTHS).map(at).fold(f64::INFINITY, f64::min);
    least.clamp(RESIDUAL_FACTORS.0, RESIDUAL_FACTORS.1)
}

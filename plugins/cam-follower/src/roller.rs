//! Speed of a roller: driven by the film's traction at the cam, held back by its needles and its inertia.

use std::f64::consts::PI;

use crate::constants::{FILM_FRICTION, STEEL_KG_M3, TRACTION_SLIP};
use crate::spec::Spec;

/// One step of the turn, as the roller sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    /// Load on the contact \[N\], 0 when apart.
    pub load_n: f64,
    /// Speed of the cam's surface past the contact \[m/s\].
    pub cam_m_s: f64,
    /// How fast the contact itself travels round the follower's face when it does not turn \[m/s\].
    pub travel_m_s: f64,
}

/// Turns until the speed repeats.
const TURNS: usize = 2;

/// Inertia of a roller with a bore \[kg·m²\].
pub fn inertia_kg_m2(spec: &Spec) -> f64 {
    let (outer, inner) = (spec.train.follower_radius_m, spec.roller_bore_radius_m);
    0.5 * PI * STEEL_KG_M3 * spec.contact_width_m * (outer.powi(4) - inner.powi(4))
}

/// Surface speed of the roller past the contact at each step \[m/s\].
///
/// `I ω̇ = R F μ tanh(s/s0) − M`, s the sliding over the cam's speed, M the needles' drag; implicit in time. Traction is the film's: what the
/// asperities add is not counted on.
pub fn surface_speeds_m_s(spec: &Spec, steps: &[Drive], step_s: f64) -> Vec<f64> {
    let radius_m = spec.train.follower_radius_m;
    // As a mass at the roller's surface.
    let mass_kg = inertia_kg_m2(spec) / (radius_m * radius_m);
    let drag = spec.needle_friction * spec.roller_bore_radius_m / radius_m;
    let mut surface_m_s = steps
        .iter()
        .map(|step| step.cam_m_s - step.travel_m_s)
        .fold(0.0, f64::max);
    let mut speeds = vec![0.0; steps.len()];
    for _ in 0..TURNS {
        for (step, speed) in steps.iter().zip(&mut speeds) {
            surface_m_s = advance(step, surface_m_s, mass_kg / step_s, drag);
            *speed = surface_m_s + step.travel_m_s;
        }
    }
    speeds
}

/// Speed of the roller's surface after a step: root of a function that rises with it, by bisection.
fn advance(step: &Drive, before_m_s: f64, mass_per_s: f64, drag: f64) -> f64 {
    if step.load_n <= 0.0 {
        return before_m_s;
    }
    let scale_m_s = TRACTION_SLIP * step.cam_m_s.abs().max(0.1);
    let excess_n = |surface_m_s: f64| {
        let slide_m_s = step.cam_m_s - step.travel_m_s - surface_m_s;
        let held_n = drag * libm::tanh(surface_m_s / scale_m_s);
        mass_per_s * (surface_m_s - before_m_s)
            - step.load_n * (FILM_FRICTION * libm::tanh(slide_m_s / scale_m_s) - held_n)
    };
    // Traction and drag move it by so much at the most.
    let reach_m_s = step.load_n * (FILM_FRICTION + drag) / mass_per_s;
    let (mut low, mut high) = (before_m_s - reach_m_s, before_m_s + reach_m_s);
    for _ in 0..18 {
        let middle = 0.5 * (low + high);
        if excess_n(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

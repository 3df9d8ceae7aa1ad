//! Buckling of the beam: J. B. Johnson's parabola for stout columns, Euler's hyperbola for slender ones.

use std::f64::consts::PI;

use crate::spec::Spec;

/// End fixity in the swing plane (both ends turn on their pins) and about the pins' axis direction (both ends held).
const FIXITY: [f64; 2] = [1.0, 4.0];

/// Compression at which a column buckles \[N\]: section \[m²\], length over radius of gyration, end fixity, yield and modulus \[Pa\].
pub fn critical_force_n(
    section_m2: f64,
    slenderness: f64,
    fixity: f64,
    yield_pa: f64,
    modulus_pa: f64,
) -> f64 {
    let euler_pa = fixity * PI * PI * modulus_pa / (slenderness * slenderness);
    let stress_pa = if euler_pa > 0.5 * yield_pa {
        yield_pa * (1.0 - yield_pa / (4.0 * euler_pa))
    } else {
        euler_pa
    };
    section_m2 * stress_pa
}

/// Compression at which the beam of a rod buckles in its weaker plane \[N\].
pub fn beam_force_n(spec: &Spec) -> f64 {
    let planes = [spec.swing_gyration_m, spec.pin_gyration_m];
    let force = |(gyration_m, fixity): (&f64, f64)| {
        let slenderness = spec.engine.rod_length_m / gyration_m;
        critical_force_n(
            spec.section_m2,
            slenderness,
            fixity,
            spec.yield_strength_pa,
            spec.modulus_pa,
        )
    };
    planes
        .iter()
        .zip(FIXITY)
        .map(force)
        .fold(f64::INFINITY, f64::min)
}

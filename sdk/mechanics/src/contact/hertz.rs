//! Elastic contact of smooth bodies after Hertz (1881): line and elliptic.
//!
//! Frictionless, small against the radii, both bodies elastic half-spaces under the contact. E* is that of
//! [`super::effective_modulus_pa`].

use std::f64::consts::PI;

use super::elliptic_integrals::{first_kind, second_kind};

/// Contact of two parallel cylinders.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineContact {
    /// Half the width b of the contact \[m\].
    pub half_width_m: f64,
    /// Largest pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Largest shear stress below the surface \[Pa\].
    pub shear_pa: f64,
    /// Depth of it \[m\].
    pub shear_depth_m: f64,
}

/// Largest shear stress under a line over the peak pressure, and its depth over b: plane strain, no friction
/// (K. L. Johnson, Contact Mechanics, 1985, from memory; both follow from `τ/p0 = ζ − ζ²/√(1 + ζ²)`).
const LINE_SHEAR: (f64, f64) = (0.300_283, 0.786_152);

/// Line contact under a load for each length \[N/m\], of radius R \[m\] with `1/R = 1/R1 + 1/R2` (a hollow body's
/// radius is negative; R above 0).
pub fn line_contact(load_n_m: f64, radius_m: f64, modulus_pa: f64) -> LineContact {
    let half_width_m = (4.0 * load_n_m * radius_m / (PI * modulus_pa)).sqrt();
    let peak_pressure_pa = (load_n_m * modulus_pa / (PI * radius_m)).sqrt();
    LineContact {
        half_width_m,
        peak_pressure_pa,
        shear_pa: LINE_SHEAR.0 * peak_pressure_pa,
        shear_depth_m: LINE_SHEAR.1 * half_width_m,
    }
}

/// Contact of two bodies curved in both directions: an ellipse, its long axis along the larger radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EllipticContact {
    /// Half the long axis \[m\].
    pub long_m: f64,
    /// Half the short axis \[m\].
    pub short_m: f64,
    /// Largest pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Approach of the two bodies \[m\].
    pub approach_m: f64,
}

/// Half axes closer than this to one another, as `1 − (b/a)²`, are a circle.
const CIRCLE: f64 = 1e-6;

/// Elliptic contact under a load \[N\]. `radii_m` are those of the equivalent body in the two principal planes, in
/// either order, each `1/R = 1/R1 + 1/R2` and above 0, their ratio at most 1e6. Exact, with elliptic integrals
/// (Johnson, as above, §4.2, from memory).
pub fn elliptic_contact(load_n: f64, radii_m: (f64, f64), modulus_pa: f64) -> EllipticContact {
    let (small_m, large_m) = (radii_m.0.min(radii_m.1), radii_m.0.max(radii_m.1));
    let squared = eccentricity_squared(large_m / small_m);
    let axes = (1.0 - squared).sqrt();
    let (first, second) = (first_kind(squared), second_kind(squared));
    // 1/R_x + 1/R_y, with R_x the small radius.
    let curvature = 1.0 / small_m + 1.0 / large_m;
    let long_m = libm::cbrt(3.0 * load_n * second / (axes * axes * curvature * PI * modulus_pa));
    let short_m = axes * long_m;
    let peak_pressure_pa = 1.5 * load_n / (PI * long_m * short_m);
    EllipticContact {
        long_m,
        short_m,
        peak_pressure_pa,
        approach_m: 1.5 * load_n * first / (PI * modulus_pa * long_m),
    }
}

/// `1 − (b/a)²` of the contact of bodies whose radii have a ratio of 1 or more:
/// `(E (a/b)² − K) / (K − E) = R_y/R_x` by bisection of ln(a/b).
fn eccentricity_squared(ratio: f64) -> f64 {
    if ratio < 1.0 + CIRCLE {
        return 0.0;
    }
    let asked = |axes: f64| {
        let squared = 1.0 - axes * axes;
        let (first, second) = (first_kind(squared), second_kind(squared));
        (second / (axes * axes) - first) / (first - second)
    };
    // a/b lies between 1 and the ratio itself.
    let (mut low, mut high) = (0.0, libm::log(ratio));
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if asked(libm::exp(-middle)) < ratio {
            low = middle;
        } else {
            high = middle;
        }
    }
    let axes = libm::exp(-0.5 * (low + high));
    1.0 - axes * axes
}

/// Principal stresses \[Pa\] on the axis below the middle of a contact, compression negative: along the long axis,
/// along the short axis, into the depth.
///
/// Johnson, as above, §4.2, from memory; checked against the sum of Boussinesq's point loads.
pub fn stresses_below(contact: &EllipticContact, depth_m: f64, poisson: f64) -> [f64; 3] {
    let (a, b, p) = (contact.long_m, contact.short_m, contact.peak_pressure_pa);
    let axes = b / a;
    let squared = 1.0 - axes * axes;
    let zeta = depth_m / a;
    if squared < CIRCLE {
        return below_circle(zeta, p, poisson);
    }
    let (first, second) = super::elliptic_integrals::incomplete(zeta, squared);
    let t = ((axes * axes + zeta * zeta) / (1.0 + zeta * zeta)).sqrt();
    let inverse = 1.0 / (axes * axes);
    let along = -0.5 * (1.0 - t) + zeta * (first - second);
    let along_poisson = 1.0 - inverse * t + zeta * (inverse * second - first);
    let across = 0.5 + 0.5 / t - inverse * t + zeta * (inverse * second - first);
    let across_poisson = -1.0 + t + zeta * (first - second);
    let scale = 2.0 * p * axes / squared;
    [
        scale * (along + poisson * along_poisson),
        scale * (across + poisson * across_poisson),
        -scale * (1.0 - t * t) / (2.0 * t),
    ]
}

/// The same below a circle of radius a, at a depth of `zeta` a.
fn below_circle(zeta: f64, peak_pa: f64, poisson: f64) -> [f64; 3] {
    let decay = 1.0 / (1.0 + zeta * zeta);
    let angle = if zeta > 0.0 {
        zeta * libm::atan(1.0 / zeta)
    } else {
        0.0
    };
    let radial = -peak_pa * ((1.0 + poisson) * (1.0 - angle) - 0.5 * decay);
    [radial, radial, -peak_pa * decay]
}

/// Largest shear stress on the axis below a contact \[Pa\] and its depth \[m\], for Poisson's ratio 0 to 0.5.
pub fn largest_shear(contact: &EllipticContact, poisson: f64) -> (f64, f64) {
    let shear = |depth_m: f64| {
        let stresses = stresses_below(contact, depth_m, poisson);
        let least = stresses.into_iter().fold(f64::INFINITY, f64::min);
        let most = stresses.into_iter().fold(f64::NEG_INFINITY, f64::max);
        0.5 * (most - least)
    };
    // One maximum, at 0.48 to 0.79 half widths: golden section.
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (0.2 * contact.short_m, 1.2 * contact.short_m);
    for _ in 0..50 {
        let (left, right) = (high - golden * (high - low), low + golden * (high - low));
        if shear(left) < shear(right) {
            low = left;
        } else {
            high = right;
        }
    }
    let depth_m = 0.5 * (low + high);
    (shear(depth_m), depth_m)
}

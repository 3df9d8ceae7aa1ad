//! The short bearing of F. W. Ocvirk (NACA TN 2808, 1952): the limit of a narrow one, in closed form. A cross-check, not used for
//! answers.

use std::f64::consts::PI;

/// `S (L/D)²` of the short bearing at an eccentricity ratio.
pub fn short_sommerfeld(eccentricity: f64) -> f64 {
    let left = 1.0 - eccentricity * eccentricity;
    let root = (PI * PI * left + 16.0 * eccentricity * eccentricity).sqrt();
    left * left / (PI * eccentricity * root)
}

/// Angle from the load to the narrowest gap of the short bearing \[rad\].
pub fn short_attitude_rad(eccentricity: f64) -> f64 {
    let left = 1.0 - eccentricity * eccentricity;
    libm::atan2(PI * left.sqrt(), 4.0 * eccentricity)
}

/// Squeeze velocity of the short bearing along and across the load, in `W c³/(12 η R³ L)`, for a load at an angle from the
/// eccentricity: J. F. Booker, J. Basic Eng. 87 (1965) 537, from memory. A fit: up to
/// 9 % from the quadrature of the short bearing itself.
pub fn short_mobility(
    width_over_diameter: f64,
    eccentricity: f64,
    load_angle_rad: f64,
) -> (f64, f64) {
    let along = eccentricity * libm::cos(load_angle_rad);
    let across = eccentricity * libm::sin(load_angle_rad);
    let squared = width_over_diameter * width_over_diameter;
    // Booker counts in W (c/R)²/(η L D); ours is 6 times as much.
    let root = (1.0 - along).sqrt();
    (
        6.0 * (1.0 - along) * (1.0 - along) * root / (PI * squared),
        6.0 * 4.0 * across * (1.0 - along) * root / (PI * PI * squared),
    )
}

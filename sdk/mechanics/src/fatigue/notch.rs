//! Notches: how much of a stress concentration counts in fatigue, and how fast stress falls below its root.

use crate::range::{OutOfRange, within};

/// Pa in a kpsi.
const KPSI_PA: f64 = 6.894_757_293_168e6;
/// m in an inch.
const INCH_M: f64 = 0.0254;

fn kpsi(ultimate_pa: f64) -> Result<f64, OutOfRange> {
    let range = (3.4e8, 1.73e9);
    Ok(within("ultimate_pa", ultimate_pa, range, "340 to 1730 MPa")? / KPSI_PA)
}

/// Root of Neuber's length `√a` \[√m\] of steel in bending or tension, by the polynomial in the ultimate strength \[Pa\] (Shigley, 9th
/// edition, equation 6-35a).
///
/// # Errors
/// An ultimate strength out of 340 to 1730 `MPa`.
pub fn neuber_root_m(ultimate_pa: f64) -> Result<f64, OutOfRange> {
    let s = kpsi(ultimate_pa)?;
    let root_inch = 0.246 + s * (-3.08e-3 + s * (1.51e-5 - 2.67e-8 * s));
    Ok(root_inch * INCH_M.sqrt())
}

/// As [`neuber_root_m`], in torsion (equation 6-35b, from memory).
///
/// # Errors
/// An ultimate strength out of 340 to 1730 `MPa`.
pub fn neuber_root_torsion_m(ultimate_pa: f64) -> Result<f64, OutOfRange> {
    let s = kpsi(ultimate_pa)?;
    let root_inch = 0.190 + s * (-2.51e-3 + s * (1.35e-5 - 2.67e-8 * s));
    Ok(root_inch * INCH_M.sqrt())
}

/// Notch sensitivity `1/(1 + √a/√r)` (H. Neuber) with the root of his length \[√m\] and the notch radius \[m\].
pub fn neuber_sensitivity(root_m: f64, radius_m: f64) -> f64 {
    1.0 / (1.0 + root_m / radius_m.sqrt())
}

/// Peterson's length of steel \[m\]: `0.0254 (2070 MPa/Rm)^1.8` mm (from memory).
pub fn peterson_length_m(ultimate_pa: f64) -> f64 {
    2.54e-5 * libm::pow(2.07e9 / ultimate_pa, 1.8)
}

/// Notch sensitivity `1/(1 + a/r)` (R. E. Peterson) with his length and the notch radius \[m\].
pub fn peterson_sensitivity(length_m: f64, radius_m: f64) -> f64 {
    1.0 / (1.0 + length_m / radius_m)
}

/// Fatigue notch factor `1 + q (Kt − 1)`.
pub fn fatigue_notch_factor(stress_concentration: f64, sensitivity: f64) -> f64 {
    1.0 + sensitivity * (stress_concentration - 1.0)
}

/// Relative gradient of stress at the root of a notch of a radius \[m\], in tension or bending: `2/r` \[1/m\] (E. Siebel and M. Stieler 1955,
/// from memory; exact for a circular hole at 7/3, for a deep hyperbolic notch at 2).
pub fn relative_gradient_per_m(radius_m: f64) -> f64 {
    2.0 / radius_m
}

//! Contact of smooth bodies after Hertz and the flash temperature of a sliding one; contact of rough surfaces: the
//! integrals of Greenwood over a normal height distribution, and the asperity pressure and area of Greenwood and Tripp.

mod elliptic_integrals;
mod flash;
mod greenwood;
mod greenwood_tripp;
mod hertz;

pub use flash::{STEEL_THERMAL_CONTACT, flash_temperature_k};
pub use greenwood::{GreenwoodTable, greenwood_integral};
pub use greenwood_tripp::GreenwoodTripp;
pub use hertz::{
    EllipticContact, LineContact, elliptic_contact, largest_shear, line_contact, stresses_below,
};

/// Effective modulus E* \[Pa\] of two elastic bodies: `1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2` (Hertz).
pub fn effective_modulus_pa(first: (f64, f64), second: (f64, f64)) -> f64 {
    let compliance = |(modulus_pa, poisson): (f64, f64)| (1.0 - poisson * poisson) / modulus_pa;
    1.0 / (compliance(first) + compliance(second))
}

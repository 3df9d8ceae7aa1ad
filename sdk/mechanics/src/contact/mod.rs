//! Contact of rough surfaces: the integrals of Greenwood over a normal height distribution, and the
//! asperity pressure and area of Greenwood and Tripp.

mod greenwood;
mod greenwood_tripp;

pub use greenwood::{GreenwoodTable, greenwood_integral};
pub use greenwood_tripp::GreenwoodTripp;

/// Effective modulus E* \[Pa\] of two elastic bodies: `1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2` (Hertz).
pub fn effective_modulus_pa(first: (f64, f64), second: (f64, f64)) -> f64 {
    let compliance = |(modulus_pa, poisson): (f64, f64)| (1.0 - poisson * poisson) / modulus_pa;
    1.0 / (compliance(first) + compliance(second))
}

//! Marin's factors: from the endurance limit of a polished specimen to that of a part.
//!
//! J. E. Shigley, Mechanical Engineering Design, 9th edition, chapter 6 (tables 6-2 and 6-5, equations 6-8, 6-19, 6-20, 6-26, 6-27); the
//! roughness factor is the FKM guideline's, from memory.

use crate::range::{OutOfRange, within};
use crate::statistics::normal;

/// Endurance limit of a polished rotating specimen of steel \[Pa\]: half the ultimate strength, 700 `MPa` from 1400 `MPa` on.
pub fn specimen_limit_pa(ultimate_pa: f64) -> f64 {
    (0.5 * ultimate_pa).min(7.0e8)
}

/// How a surface was finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finish {
    /// Ground.
    Ground,
    /// Machined or cold drawn.
    Machined,
    /// Hot rolled.
    HotRolled,
    /// As forged.
    Forged,
}

/// Surface factor `a Rm^b` for an ultimate strength \[Pa\].
pub fn surface_factor(finish: Finish, ultimate_pa: f64) -> f64 {
    let (a, b) = match finish {
        Finish::Ground => (1.58, -0.085),
        Finish::Machined => (4.51, -0.265),
        Finish::HotRolled => (57.7, -0.718),
        Finish::Forged => (272.0, -0.995),
    };
    a * libm::pow(1.0e-6 * ultimate_pa, b)
}

/// Roughness factor of steel: `1 − 0.22 lg(Rz/µm) lg(2 Rm/400 MPa)`, at most 1 (FKM guideline, from memory). Rz \[m\].
///
/// # Errors
/// Rz beyond 200 µm or an ultimate strength out of 400 to 2500 `MPa`.
pub fn roughness_factor(rz_m: f64, ultimate_pa: f64) -> Result<f64, OutOfRange> {
    let rz_m = within("rz_m", rz_m, (0.0, 2.0e-4), "0 to 200 um")?;
    let ultimate_pa = within(
        "ultimate_pa",
        ultimate_pa,
        (4.0e8, 2.5e9),
        "400 to 2500 MPa",
    )?;
    let rough = libm::log10((1.0e6 * rz_m).max(1.0));
    Ok(1.0 - 0.22 * rough * libm::log10(2.0 * ultimate_pa / 4.0e8))
}

/// Size factor of a round bar in rotating bending or torsion, of a diameter \[m\]. 1 below; axial loading takes 1.
///
/// # Errors
/// A diameter above 254 mm or below 0.
pub fn size_factor(diameter_m: f64) -> Result<f64, OutOfRange> {
    let mm = 1.0e3 * within("diameter_m", diameter_m, (0.0, 0.254), "0 to 254 mm")?;
    Ok(if mm < 2.79 {
        1.0
    } else if mm <= 51.0 {
        libm::pow(mm / 7.62, -0.107)
    } else {
        1.51 * libm::pow(mm, -0.157)
    })
}

/// How a part is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loading {
    /// Bending.
    Bending,
    /// Tension and compression.
    Axial,
    /// Torsion alone.
    Torsion,
}

/// Load factor.
pub fn load_factor(loading: Loading) -> f64 {
    match loading {
        Loading::Bending => 1.0,
        Loading::Axial => 0.85,
        Loading::Torsion => 0.59,
    }
}

/// Temperature factor of steel at a temperature \[K\]: strength there over that at room temperature.
///
/// # Errors
/// A temperature out of 294 to 811 K (70 to 1000 °F).
pub fn temperature_factor(temp_k: f64) -> Result<f64, OutOfRange> {
    let temp_k = within("temp_k", temp_k, (294.0, 811.0), "294 to 811 K")?;
    let f = 1.8 * temp_k - 459.67;
    let powers = [0.975, 0.432e-3, -0.115e-5, 0.104e-8, -0.595e-12];
    Ok(powers.iter().rev().fold(0.0, |sum, c| sum * f + c))
}

/// Reliability factor `1 − 0.08 z` for a probability of survival, 0.5 to 0.999999, at 8 % standard deviation of strength.
///
/// # Errors
/// A probability out of range.
pub fn reliability_factor(survival: f64) -> Result<f64, OutOfRange> {
    let range = (0.5, 0.999_999);
    let survival = within("survival", survival, range, "0.5 to 0.999999")?;
    Ok(1.0 - 0.08 * normal::quantile(survival))
}

use std::f64::consts::{PI, SQRT_2};

use super::GreenwoodTable;
use crate::range::{OutOfRange, within};

/// Elastic contact of two rough surfaces after J. A. Greenwood and J. H. Tripp (Proc. Inst. Mech. Eng. 185,
/// 1970-71, 625), constants from memory:
/// `p = (16√2 π/15) (ηβσ)² √(σ/β) E* F_5/2(h/σ)`, real area fraction `π² (ηβσ)² F_2(h/σ)`.
///
/// Heights of summits are normal; summits are paraboloids of one radius and do not interact. Leaves out
/// plastic flow and valleys: σ is that of the plateau.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GreenwoodTripp {
    /// Composite root-mean-square height σ \[m\], `√(Rq1² + Rq2²)`.
    pub sigma_m: f64,
    /// Mean summit radius β \[m\].
    pub radius_m: f64,
    /// Summits for each area η \[1/m²\].
    pub density_per_m2: f64,
    /// Effective modulus E* \[Pa\].
    pub modulus_pa: f64,
}

impl GreenwoodTripp {
    /// Refuses σ outside 1e-9 to 1e-4 m, β outside 1e-7 to 1 m, η outside 1e6 to 1e15 1/m², E* outside
    /// 1e8 to 1e13 Pa.
    ///
    /// # Errors
    /// The field out of range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        within("sigma_m", self.sigma_m, (1e-9, 1e-4), "1e-9 to 1e-4 m")?;
        within("radius_m", self.radius_m, (1e-7, 1.0), "1e-7 to 1 m")?;
        within(
            "density_per_m2",
            self.density_per_m2,
            (1e6, 1e15),
            "1e6 to 1e15 1/m2",
        )?;
        within("modulus_pa", self.modulus_pa, (1e8, 1e13), "1e8 to 1e13 Pa")?;
        Ok(())
    }

    /// ηβσ \[1\], 0.03 to 0.05 for usual engineering surfaces.
    pub fn roughness_number(&self) -> f64 {
        self.density_per_m2 * self.radius_m * self.sigma_m
    }

    /// Pressure \[Pa\] for `F_5/2` = 1.
    pub fn pressure_scale_pa(&self) -> f64 {
        16.0 * SQRT_2 * PI / 15.0
            * self.roughness_number().powi(2)
            * (self.sigma_m / self.radius_m).sqrt()
            * self.modulus_pa
    }

    /// Nominal contact pressure \[Pa\] at a mean-plane separation \[m\].
    pub fn pressure_pa(&self, table: &GreenwoodTable, separation_m: f64) -> f64 {
        self.pressure_scale_pa() * table.five_halves(separation_m / self.sigma_m)
    }

    /// Real over nominal area of contact \[1\] at a mean-plane separation \[m\].
    pub fn area_fraction(&self, table: &GreenwoodTable, separation_m: f64) -> f64 {
        (PI * self.roughness_number()).powi(2) * table.two(separation_m / self.sigma_m)
    }
}

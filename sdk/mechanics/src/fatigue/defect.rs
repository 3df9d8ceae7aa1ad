//! Small cracks and defects: the threshold below which they do not grow, and the strength they leave.

use std::f64::consts::PI;

/// Length \[m\] of M. H. El Haddad, K. N. Smith and T. H. Topper (1979), `(ΔKth/(Y Δσw))²/π`: threshold \[Pa·√m\] and plain fatigue limit
/// \[Pa\] as ranges, geometry factor Y.
pub fn el_haddad_length_m(threshold_pa_sqrt_m: f64, limit_range_pa: f64, geometry: f64) -> f64 {
    let ratio = threshold_pa_sqrt_m / (geometry * limit_range_pa);
    ratio * ratio / PI
}

/// Threshold \[Pa·√m\] of a crack of a depth \[m\]: `ΔKth √(a/(a + l0))`. A small crack grows at less than a long one needs.
pub fn small_crack_threshold_pa_sqrt_m(
    threshold_pa_sqrt_m: f64,
    depth_m: f64,
    length_m: f64,
) -> f64 {
    threshold_pa_sqrt_m * (depth_m / (depth_m + length_m)).sqrt()
}

/// Fatigue limit as a range \[Pa\] with a crack-like defect of a depth \[m\]: `Δσw √(l0/(a + l0))`, equal to `ΔKth/(Y √(π(a + l0)))`.
pub fn limit_range_with_defect_pa(limit_range_pa: f64, depth_m: f64, length_m: f64) -> f64 {
    limit_range_pa * (length_m / (depth_m + length_m)).sqrt()
}

/// Where a defect lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Open to the surface.
    Surface,
    /// Touching it from below.
    JustBelow,
    /// Inside.
    Inside,
}

/// Fatigue limit \[Pa\], fully reversed, of steel with a defect or inclusion (Y. Murakami): `C (HV + 120)/√area^(1/6)` `MPa` with √area in µm and C
/// 1.43, 1.41, 1.56 by place. Hardness \[Pa\]; `root_area_m` is the root of the area projected on the plane of the largest stress \[m\]. From memory;
/// meant for √area of 1 to 1000 µm and steels of 70 to 720 HV.
pub fn murakami_limit_pa(hardness_pa: f64, root_area_m: f64, place: Place) -> f64 {
    let factor = match place {
        Place::Surface => 1.43,
        Place::JustBelow => 1.41,
        Place::Inside => 1.56,
    };
    let vickers = hardness_pa / VICKERS_PA;
    1.0e6 * factor * (vickers + 120.0) / libm::pow(1.0e6 * root_area_m, 1.0 / 6.0)
}

/// Pa in one HV (kgf/mm²).
pub const VICKERS_PA: f64 = 9.806_65e6;

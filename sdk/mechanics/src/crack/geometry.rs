use std::f64::consts::{FRAC_PI_2, PI};

/// Geometry factor Y of an edge crack in a strip in tension, K = Y S √(πa), at depth over width 0 to 0.6: Brown and Srawley's polynomial, 0.5 %.
/// Read at a public page of stress intensity factors.
pub fn edge_crack(depth_over_width: f64) -> f64 {
    const COEFFICIENTS: [f64; 5] = [1.12, -0.231, 10.55, -21.72, 30.39];
    let terms = COEFFICIENTS.iter().rev();
    terms.fold(0.0, |sum, c| sum * depth_over_width + c)
}

/// Geometry factor Y of a crack through the middle of a strip in tension, at crack length over width (2a/W) 0 to below 1: √sec(πa/W) (Feddersen, from memory).
pub fn centre_crack(length_over_width: f64) -> f64 {
    (FRAC_PI_2 * length_over_width).cos().recip().sqrt()
}

/// A half-elliptical crack in the surface of a plate in tension: Newman and Raju, Engineering Fracture Mechanics 15 (1981) 185 (coefficients
/// from memory, for depth over half length up to 1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceCrack {
    /// Depth over half of the length at the surface, a/c: above 0, up to 1.
    pub depth_over_half_length: f64,
    /// Depth over thickness, a/t: 0 to below 1.
    pub depth_over_thickness: f64,
    /// Half length over half width of the plate, c/b: 0 to below 0.5.
    pub half_length_over_half_width: f64,
}

impl SurfaceCrack {
    /// Geometry factor Y, K = Y S √(πa), at an angle \[rad\] of the ellipse: 0 at the surface, π/2 at the deepest point.
    pub fn factor(&self, angle_rad: f64) -> f64 {
        let (slender, deep) = (self.depth_over_half_length, self.depth_over_thickness);
        let shape = 1.0 + 1.464 * libm::pow(slender, 1.65);
        let first = 1.13 - 0.09 * slender;
        let second = -0.54 + 0.89 / (0.2 + slender);
        let third = 0.5 - 1.0 / (0.65 + slender) + 14.0 * libm::pow(1.0 - slender, 24.0);
        let (sin, cos) = angle_rad.sin_cos();
        let front = 1.0 + (0.1 + 0.35 * deep * deep) * (1.0 - sin) * (1.0 - sin);
        let ellipse = (slender * slender * cos * cos + sin * sin).sqrt().sqrt();
        let plate = centre_crack(self.half_length_over_half_width * deep.sqrt());
        let depth = first + second * deep * deep + third * deep.powi(4);
        depth * ellipse * front * plate / shape.sqrt()
    }

    /// [`Self::factor`] where the crack meets the surface.
    pub fn at_surface(&self) -> f64 {
        self.factor(0.0)
    }

    /// [`Self::factor`] at the deepest point.
    pub fn at_deepest(&self) -> f64 {
        self.factor(0.5 * PI)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A deeper or longer crack in the same plate is worse; a small crack in the middle of a wide strip has factor 1.
    #[test]
    fn less_ligament_is_never_better() {
        assert!((centre_crack(0.0) - 1.0).abs() < 1e-15);
        assert!(centre_crack(0.4) > centre_crack(0.3));
        assert!(edge_crack(0.4) > edge_crack(0.3));
        let crack = |deep: f64, long: f64| SurfaceCrack {
            depth_over_half_length: 0.6,
            depth_over_thickness: deep,
            half_length_over_half_width: long,
        };
        assert!(crack(0.4, 0.0).at_deepest() > crack(0.3, 0.0).at_deepest());
        assert!(crack(0.4, 0.2).at_surface() > crack(0.4, 0.0).at_surface());
    }
}

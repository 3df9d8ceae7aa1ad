//! Load of a coned disc spring (J. O. Almen and A. László, Trans. ASME 58, 1936, 305; DIN EN 16984; from memory).
//!
//! Left out: friction between discs and at their seats, contact faces, stress, setting in heat.

use std::f64::consts::PI;

/// A coned disc of rectangular section, loaded at its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiscSpring {
    /// Outer diameter \[m\].
    pub outer_m: f64,
    /// Inner diameter \[m\], below the outer one.
    pub inner_m: f64,
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Cone height, free, without the thickness \[m\].
    pub height_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio \[1\].
    pub poisson: f64,
}

impl DiscSpring {
    /// Load \[N\] at a deflection \[m\] between 0 (free) and the cone height (flat); past it the disc turns inside out.
    pub fn load_n(&self, deflection_m: f64) -> f64 {
        let (h, t, s) = (self.height_m, self.thickness_m, deflection_m);
        let shape = s * t * ((h - s) * (h - 0.5 * s) + t * t);
        let plate_pa = 4.0 * self.modulus_pa / (1.0 - self.poisson * self.poisson);
        plate_pa * shape / (self.diameter_factor() * self.outer_m * self.outer_m)
    }

    /// The factor K₁ of the diameters' ratio.
    fn diameter_factor(&self) -> f64 {
        let ratio = self.outer_m / self.inner_m;
        let ring = (ratio - 1.0) / ratio;
        ring * ring / ((ratio + 1.0) / (ratio - 1.0) - 2.0 / libm::log(ratio)) / PI
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spring(thickness_m: f64, height_m: f64) -> DiscSpring {
        DiscSpring {
            outer_m: 0.050,
            inner_m: 0.0254,
            thickness_m,
            height_m,
            modulus_pa: 2.06e11,
            poisson: 0.3,
        }
    }

    /// Loads at three quarters of the cone height in the tables of DIN 2093, 50 mm, series A and B: 12 000 N and 4760 N (from memory, as printed
    /// to three figures).
    #[test]
    fn loads_are_those_of_the_standard_table() {
        for (thickness_m, height_m, load_n) in
            [(3.0e-3, 1.1e-3, 12_000.0), (2.0e-3, 1.4e-3, 4760.0)]
        {
            let found = spring(thickness_m, height_m).load_n(0.75 * height_m);
            assert!((found / load_n - 1.0).abs() < 0.005, "{found} {load_n}");
        }
    }

    /// Flat, the bracket of the formula is t²: the load of a linear spring. A cone height above √2 thicknesses makes the load fall before flat.
    #[test]
    fn a_steep_cone_gives_way() {
        let flat = spring(2.0e-3, 1.4e-3);
        let slope = flat.load_n(1.0e-3 * 1.4) / 1.4e-3;
        let expected = 4.0 * 2.06e11 / 0.91 * 8.0e-9 / (flat.diameter_factor() * 0.0025);
        assert!((slope / expected - 1.0).abs() < 1e-12);
        let steep = spring(1.0e-3, 1.8e-3);
        assert!(steep.load_n(1.7e-3) < steep.load_n(1.1e-3));
    }
}

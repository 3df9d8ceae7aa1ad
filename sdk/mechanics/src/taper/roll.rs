//! Roll of a ring: its section turns under an even couple about it (S. Timoshenko, Strength of Materials II, twisting of a ring by couples
//! along its centre line; the section keeps its shape).

use std::f64::consts::PI;

/// A rectangle of a ring's section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Inner and outer diameter \[m\].
    pub diameters_m: [f64; 2],
    /// From and to, along the axis \[m\].
    pub along_m: [f64; 2],
}

/// How a ring of bands rolls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roll {
    /// Couple about the whole ring over its roll \[N·m\]: `2π E ∬ (z − z0)²/r dr dz`.
    pub stiffness_n_m: f64,
    /// Place along the axis about which hoop strain turns round \[m\].
    pub centre_m: f64,
}

impl Roll {
    /// Of bands of one modulus \[Pa\] that do not overlap.
    pub fn of(bands: &[Band], modulus_pa: f64) -> Self {
        let weight = |band: &Band| {
            let [inner, outer] = band.diameters_m;
            let [from, to] = band.along_m;
            libm::log(outer / inner) * (to - from)
        };
        let middle = |band: &Band| 0.5 * (band.along_m[0] + band.along_m[1]);
        let whole: f64 = bands.iter().map(weight).sum();
        let first: f64 = bands.iter().map(|band| weight(band) * middle(band)).sum();
        let centre_m = first / whole;
        let second = |band: &Band| {
            let (height, off) = (band.along_m[1] - band.along_m[0], middle(band) - centre_m);
            weight(band) * (off * off + height * height / 12.0)
        };
        Self {
            stiffness_n_m: 2.0 * PI * modulus_pa * bands.iter().map(second).sum::<f64>(),
            centre_m,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A thin ring of radius R and section moment I turns by `m R²/(E I)` under a couple m over its length (Timoshenko; textbook): the whole
    /// couple `2π R m` over that is `2π E I/R`.
    #[test]
    fn a_thin_ring() {
        let band = Band {
            diameters_m: [0.0999, 0.1001],
            along_m: [0.0, 0.004],
        };
        let roll = Roll::of(&[band], 2.0e11);
        let inertia_m4 = 0.0001 * 0.004_f64.powi(3) / 12.0;
        let expected = 2.0 * PI * 2.0e11 * inertia_m4 / 0.05;
        assert!((roll.stiffness_n_m / expected - 1.0).abs() < 1e-5);
        assert!((roll.centre_m - 0.002).abs() < 1e-15);
    }

    /// One band cut in two is the same ring.
    #[test]
    fn bands_add_up() {
        let band = |from, to| Band {
            diameters_m: [8.0e-3, 14.0e-3],
            along_m: [from, to],
        };
        let whole = Roll::of(&[band(0.0, 0.01)], 1.0e11);
        let parts = Roll::of(&[band(0.0, 0.003), band(0.003, 0.01)], 1.0e11);
        assert!((parts.stiffness_n_m / whole.stiffness_n_m - 1.0).abs() < 1e-12);
        assert!((parts.centre_m / whole.centre_m - 1.0).abs() < 1e-12);
    }
}

//! A flange as an annular plate, clamped at its root, under a ring load (Kirchhoff's plate; S. Timoshenko and S. Woinowsky-Krieger, Theory of
//! Plates and Shells, chapter 3; the same as case 1l of Roark's table 11.2).

use std::f64::consts::PI;

/// A flange.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flange {
    /// Diameter at the root, where it is clamped \[m\].
    pub root_m: f64,
    /// Outer diameter, free \[m\].
    pub outer_m: f64,
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

/// Functions of Roark's table for a pair of radii, inner over outer.
struct Constants {
    two: f64,
    three: f64,
    eight: f64,
    nine: f64,
}

impl Flange {
    fn constants(&self, inner: f64) -> Constants {
        let (square, log) = (inner * inner, -libm::log(inner));
        let (half_sum, quarter_rest) = (0.5 * (1.0 + self.poisson), 0.25 * (1.0 - self.poisson));
        Constants {
            two: 0.25 * (1.0 - square * (1.0 + 2.0 * log)),
            three: 0.25 * inner * ((square + 1.0) * log + square - 1.0),
            eight: half_sum + 2.0 * quarter_rest * square,
            nine: inner * (half_sum * log + quarter_rest * (1.0 - square)),
        }
    }

    /// Radial bending moment at the root over its length \[N\], per newton of a load on a ring of a diameter \[m\].
    fn root_moment(&self, load_m: f64) -> f64 {
        let (root, load) = (self.root_m / self.outer_m, load_m / self.outer_m);
        let (plate, beyond) = (self.constants(root), self.constants(load));
        let line_per_m = 1.0 / (PI * load_m);
        let radius_m = 0.5 * self.outer_m;
        line_per_m * radius_m / plate.eight * (load / root * plate.nine - beyond.nine)
    }

    /// Bending stress at the root \[Pa\], without the fillet's concentration, under a force \[N\] spread evenly over a ring of a diameter
    /// \[m\] from the root to the edge.
    pub fn root_stress_pa(&self, force_n: f64, load_m: f64) -> f64 {
        6.0 * force_n * self.root_moment(load_m) / (self.thickness_m * self.thickness_m)
    }

    /// Sag of the outer edge \[m\] under that force.
    pub fn edge_sag_m(&self, force_n: f64, load_m: f64) -> f64 {
        let (root, load) = (self.root_m / self.outer_m, load_m / self.outer_m);
        let (plate, beyond) = (self.constants(root), self.constants(load));
        let radius_m = 0.5 * self.outer_m;
        let cube_m3 = self.thickness_m * self.thickness_m * self.thickness_m;
        let rigidity = self.modulus_pa * cube_m3 / (12.0 * (1.0 - self.poisson * self.poisson));
        let line_n_m = force_n / (PI * load_m);
        let moment_n = force_n * self.root_moment(load_m);
        let shear_n_m = line_n_m * load / root;
        let by_moment = moment_n * plate.two * radius_m * radius_m;
        let by_load =
            (line_n_m * beyond.three - shear_n_m * plate.three) * radius_m * radius_m * radius_m;
        (by_moment + by_load) / rigidity
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn flange(ratio: f64) -> Flange {
        Flange {
            root_m: 2.0 / ratio,
            outer_m: 2.0,
            thickness_m: 0.01,
            modulus_pa: 1.0e9,
            poisson: 0.3,
        }
    }

    /// Largest stress `k2 P/t²` and deflection `k1 P a²/(E t³)` of plates of outer radius a clamped inside and loaded at the outer edge, for outer
    /// over inner radius (Mechanical Engineer's Data Handbook, page 55, case 8, ν = 0.3; read on the web. The table is Timoshenko's).
    #[test]
    fn the_printed_table() {
        for (ratio, k1, k2) in [
            (1.25, 0.005_10, 0.227),
            (1.5, 0.0249, 0.428),
            (2.0, 0.0877, 0.753),
            (3.0, 0.209, 1.205),
            (4.0, 0.293, 1.514),
            (5.0, 0.350, 1.745),
        ] {
            let plate = flange(ratio);
            let stress = plate.root_stress_pa(1.0, 2.0) * 1.0e-4;
            let sag = plate.edge_sag_m(1.0, 2.0) * 1.0e9 * 1.0e-6;
            assert!((stress / k2 - 1.0).abs() < 2.5e-3, "{ratio}: {stress}");
            assert!((sag / k1 - 1.0).abs() < 3.0e-3, "{ratio}: {sag}");
        }
    }

    /// A narrow flange is a cantilever of unit width with the load at its end (in plane strain the same moment).
    #[test]
    fn a_narrow_flange_is_a_cantilever() {
        let plate = flange(1.002);
        let arm_m = 0.5 * (plate.outer_m - plate.root_m);
        let cantilever = 6.0 * arm_m / (PI * plate.root_m) * 1.0e4;
        assert!((plate.root_stress_pa(1.0, 2.0) / cantilever - 1.0).abs() < 5e-3);
    }

    #[test]
    fn a_load_at_the_root_bends_nothing() {
        let plate = flange(2.0);
        assert!(plate.root_stress_pa(1.0, plate.root_m).abs() < 1e-9);
        assert!(plate.root_stress_pa(1.0, 1.5) < plate.root_stress_pa(1.0, 1.6));
    }
}

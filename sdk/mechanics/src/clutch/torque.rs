//! Torque capacity of annular faces, and two inertias pulled to one speed.

use std::f64::consts::PI;

/// One annular friction face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Annulus {
    /// Outer radius \[m\].
    pub outer_m: f64,
    /// Inner radius \[m\], below the outer one.
    pub inner_m: f64,
}

impl Annulus {
    /// Area \[m²\], grooves not taken off.
    pub fn area_m2(&self) -> f64 {
        PI * (self.outer_m - self.inner_m) * (self.outer_m + self.inner_m)
    }

    /// Friction radius \[m\] of a face that has worn in, pressure times radius being the same everywhere: the mean of
    /// the two radii (uniform wear, textbook).
    pub fn uniform_wear_radius_m(&self) -> f64 {
        0.5 * (self.outer_m + self.inner_m)
    }

    /// Friction radius \[m\] of a new face under uniform pressure, `2/3 (r_o³ − r_i³) / (r_o² − r_i²)` (textbook).
    pub fn uniform_pressure_radius_m(&self) -> f64 {
        let (o, i) = (self.outer_m, self.inner_m);
        2.0 / 3.0 * (o * o + o * i + i * i) / (o + i)
    }
}

/// Torque \[N·m\] that faces carry without slip, `n μ F r`: number of faces, friction, clamp load \[N\], friction
/// radius \[m\].
pub fn capacity_n_m(faces: f64, friction: f64, clamp_n: f64, radius_m: f64) -> f64 {
    faces * friction * clamp_n * radius_m
}

/// Two free inertias that a clutch of constant torque pulls to one speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Synchronisation {
    /// Inertia of the driving side \[kg·m²\].
    pub driving_kg_m2: f64,
    /// Inertia of the driven side \[kg·m²\].
    pub driven_kg_m2: f64,
    /// Speed of the driving side at the start \[rad/s\].
    pub driving_rad_s: f64,
    /// Speed of the driven side at the start \[rad/s\].
    pub driven_rad_s: f64,
    /// Torque of the clutch while it slips \[N·m\].
    pub torque_n_m: f64,
}

impl Synchronisation {
    fn reduced_kg_m2(&self) -> f64 {
        self.driving_kg_m2 * self.driven_kg_m2 / (self.driving_kg_m2 + self.driven_kg_m2)
    }

    fn slip_rad_s(&self) -> f64 {
        self.driving_rad_s - self.driven_rad_s
    }

    /// Until slip ends \[s\].
    pub fn duration_s(&self) -> f64 {
        self.reduced_kg_m2() * self.slip_rad_s().abs() / self.torque_n_m
    }

    /// Heat made \[J\], `½ I₁ I₂ / (I₁ + I₂) Δω²`: independent of the torque.
    pub fn energy_j(&self) -> f64 {
        0.5 * self.reduced_kg_m2() * self.slip_rad_s() * self.slip_rad_s()
    }

    /// Common speed at the end \[rad/s\], by the conserved angular momentum.
    pub fn speed_rad_s(&self) -> f64 {
        (self.driving_kg_m2 * self.driving_rad_s + self.driven_kg_m2 * self.driven_rad_s)
            / (self.driving_kg_m2 + self.driven_kg_m2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Textbook formulas worked by hand for μ = 0.3, F = 4 kN, radii 100 and 70 mm.
    #[test]
    fn torque_of_one_face_is_the_textbook_one() {
        let face = Annulus {
            outer_m: 0.100,
            inner_m: 0.070,
        };
        let wear = capacity_n_m(1.0, 0.3, 4000.0, face.uniform_wear_radius_m());
        let pressure = capacity_n_m(1.0, 0.3, 4000.0, face.uniform_pressure_radius_m());
        assert!((wear - 102.0).abs() < 1e-9);
        assert!((pressure - 103.058_824).abs() < 1e-6);
        assert!((pressure / wear - 1.010_381).abs() < 1e-6);
        assert!((face.area_m2() - PI * 0.0051).abs() < 1e-12);
    }

    /// Rigid-body mechanics worked by hand: 0.2 and 1.5 kg·m², 400 and 100 rad/s, 300 N·m.
    #[test]
    fn synchronisation_is_that_of_two_free_inertias() {
        let two = Synchronisation {
            driving_kg_m2: 0.2,
            driven_kg_m2: 1.5,
            driving_rad_s: 400.0,
            driven_rad_s: 100.0,
            torque_n_m: 300.0,
        };
        assert!((two.duration_s() - 0.176_470_6).abs() < 1e-7);
        assert!((two.energy_j() - 7941.1765).abs() < 1e-4);
        assert!((two.speed_rad_s() - 135.294_12).abs() < 1e-5);
    }
}

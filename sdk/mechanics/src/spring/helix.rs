//! Rate, stress and natural frequency of a cylindrical coil.
//!
//! J. E. Shigley, Mechanical Engineering Design, 9th edition, chapter 10 (equations 10-2 to 10-9 and 10-25); EN 13906-1 has the same rate and
//! the correction factor [`Spring::bergstraesser`]. From memory; the figures of the tests beside this file are not.

use std::f64::consts::PI;

/// A cylindrical helical spring of round wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// Wire diameter \[m\].
    pub wire_m: f64,
    /// Mean diameter of the coil \[m\].
    pub coil_m: f64,
    /// Active coils.
    pub active_coils: f64,
    /// Shear modulus \[Pa\].
    pub shear_modulus_pa: f64,
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
}

impl Spring {
    /// Spring index `C = D/d`.
    pub fn index(&self) -> f64 {
        self.coil_m / self.wire_m
    }

    /// Rate \[N/m\]: `G d⁴ / (8 D³ N)`. Torsion of the wire alone: bending, direct shear and the pitch of the coil change it by less than
    /// 2 % at indices of 4 and more.
    pub fn rate_n_m(&self) -> f64 {
        let wire4 = self.wire_m * self.wire_m * self.wire_m * self.wire_m;
        let coil3 = self.coil_m * self.coil_m * self.coil_m;
        self.shear_modulus_pa * wire4 / (8.0 * coil3 * self.active_coils)
    }

    /// Mass of the active coils \[kg\]: `ρ (π d²/4) π D N`.
    pub fn active_mass_kg(&self) -> f64 {
        let section_m2 = 0.25 * PI * self.wire_m * self.wire_m;
        self.density_kg_m3 * section_m2 * PI * self.coil_m * self.active_coils
    }

    /// First natural frequency \[rad/s\] of the wave along the wire between two ends that do not give: `π √(k/m)`. Mode n is n times as fast.
    pub fn natural_frequency_rad_s(&self) -> f64 {
        PI * (self.rate_n_m() / self.active_mass_kg()).sqrt()
    }

    /// A. M. Wahl's correction factor for curvature and direct shear: `(4C − 1)/(4C − 4) + 0.615/C`.
    pub fn wahl(&self) -> f64 {
        let c = self.index();
        (4.0 * c - 1.0) / (4.0 * c - 4.0) + 0.615 / c
    }

    /// M. Bergsträsser's correction factor: `(4C + 2)/(4C − 3)`, which is EN 13906-1's `(C + 0.5)/(C − 0.75)`.
    pub fn bergstraesser(&self) -> f64 {
        let c = self.index();
        (4.0 * c + 2.0) / (4.0 * c - 3.0)
    }

    /// Shear stress \[Pa\] at the inside of the coil under a force \[N\]: `K 8 F D/(π d³)`, with Bergsträsser's factor. It is the
    /// standard's and that of the textbook from which the endurance data of [`super::endurance`] are taken, so that stress and strength are counted
    /// alike; Wahl's factor is 1 % larger.
    pub fn shear_stress_pa(&self, force_n: f64) -> f64 {
        let wire3 = self.wire_m * self.wire_m * self.wire_m;
        self.bergstraesser() * 8.0 * force_n * self.coil_m / (PI * wire3)
    }

    /// The force \[N\] of [`Spring::shear_stress_pa`].
    pub fn force_n(&self, shear_stress_pa: f64) -> f64 {
        shear_stress_pa / self.shear_stress_pa(1.0)
    }

    /// Length of the wire in the active coils \[m\].
    pub fn active_wire_m(&self) -> f64 {
        PI * self.coil_m * self.active_coils
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn spring(wire_m: f64, coil_m: f64, active_coils: f64) -> Spring {
        Spring {
            wire_m,
            coil_m,
            active_coils,
            shear_modulus_pa: 7.93e10,
            density_kg_m3: 7850.0,
        }
    }

    /// Correction factors by index. The values at 5, 6 and 7 are printed (to 3 decimals) in the worked examples of V. B. Bhandari's Design of
    /// Machine Elements as published with the FOSSEE textbook companions (chapter 10, example 3); the rest is the formula's arithmetic.
    #[test]
    fn correction_factors_are_those_of_the_tables() {
        let table = [
            (4.0, 1.40375, 1.384_62),
            (5.0, 1.31050, 1.294_12),
            (6.0, 1.25250, 1.238_10),
            (7.0, 1.21286, 1.200_00),
            (8.0, 1.18402, 1.172_41),
            (10.0, 1.14483, 1.135_14),
            (12.0, 1.11943, 1.111_11),
        ];
        for (index, wahl, bergstraesser) in table {
            let spring = spring(4.0e-3, index * 4.0e-3, 6.0);
            assert!((spring.wahl() - wahl).abs() < 5.0e-6, "{index}");
            assert!(
                (spring.bergstraesser() - bergstraesser).abs() < 5.0e-6,
                "{index}"
            );
        }
    }

    /// d 4 mm, D 25 mm, 6 coils: rate, mass and frequency computed from the formulas in another program, the frequency also in the form
    /// `d/(2π D² N) √(G/2ρ)`.
    #[test]
    fn rate_mass_and_wave() {
        let spring = spring(4.0e-3, 25.0e-3, 6.0);
        assert!((spring.rate_n_m() - 27_067.733).abs() < 1.0e-3);
        assert!((spring.active_mass_kg() - 0.046_485_836_7).abs() < 1.0e-10);
        let hz = spring.natural_frequency_rad_s() / (2.0 * PI);
        assert!((hz - 381.536_088).abs() < 1.0e-6);
        let other = 4.0e-3 / (2.0 * PI * 25.0e-3 * 25.0e-3 * 6.0) * (7.93e10 / 15_700.0_f64).sqrt();
        assert!((other / hz - 1.0).abs() < 1.0e-12);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// A spring made larger in the same shape: rate grows as the length, stress falls as its square, frequency as its inverse.
        #[test]
        fn shapes_scale(wire_m in 2.0e-3..6.0e-3_f64, index in 4.0..10.0_f64, coils in 3.0..8.0_f64, by in 0.5..2.0_f64) {
            let (small, large) = (spring(wire_m, index * wire_m, coils), spring(by * wire_m, by * index * wire_m, coils));
            prop_assert!((large.rate_n_m() / small.rate_n_m() / by - 1.0).abs() < 1e-12);
            prop_assert!((large.shear_stress_pa(9.0) / small.shear_stress_pa(9.0) * by * by - 1.0).abs() < 1e-12);
            prop_assert!((large.natural_frequency_rad_s() / small.natural_frequency_rad_s() * by - 1.0).abs() < 1e-12);
            prop_assert!((large.force_n(large.shear_stress_pa(9.0)) - 9.0).abs() < 1e-11);
        }
    }
}

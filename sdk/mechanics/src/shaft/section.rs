//! Round sections.

use std::f64::consts::PI;

/// Fatigue strength in torsion over that in bending by von Mises: `1/√3`.
pub const TORSION_FATIGUE_RATIO_VON_MISES: f64 = 0.577_350_269_189_625_8;
/// Fatigue strength in torsion over that in bending as tests of steel give it: 0.59 (Shigley, 9th edition, load factor).
pub const TORSION_FATIGUE_RATIO: f64 = 0.59;

/// Shear stress at the surface of a solid round shaft, `16 T/(π d³)` \[Pa\]: torque \[N·m\], diameter \[m\] above 0 (textbook).
pub fn torsion_stress_pa(torque_n_m: f64, diameter_m: f64) -> f64 {
    16.0 * torque_n_m / (PI * diameter_m.powi(3))
}

/// Bending stress at the surface of a solid round shaft, `32 M/(π d³)` \[Pa\]: moment \[N·m\], diameter \[m\] above 0 (textbook).
pub fn bending_stress_pa(moment_n_m: f64, diameter_m: f64) -> f64 {
    32.0 * moment_n_m / (PI * diameter_m.powi(3))
}

/// Polar second moment of area of a ring section, `π (d⁴ − b⁴)/32` \[m⁴\]: outer diameter and bore \[m\].
pub fn polar_moment_m4(diameter_m: f64, bore_m: f64) -> f64 {
    PI * (diameter_m.powi(4) - bore_m.powi(4)) / 32.0
}

/// Stiffness of a shaft in torsion, `G Ip/l` \[N·m/rad\]: shear modulus \[Pa\], polar moment \[m⁴\], length \[m\] above 0.
pub fn torsional_stiffness_n_m_rad(shear_modulus_pa: f64, polar_m4: f64, length_m: f64) -> f64 {
    shear_modulus_pa * polar_m4 / length_m
}

/// Equivalent stress of a normal and a shear stress, `√(σ² + 3 τ²)` \[Pa\] (R. von Mises).
pub fn von_mises_pa(normal_pa: f64, shear_pa: f64) -> f64 {
    normal_pa.hypot(3.0_f64.sqrt() * shear_pa)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1000 N·m on 40 mm: 79.577472 `MPa`, arithmetic of the textbook formula worked out independently.
    #[test]
    fn a_torque_of_a_kilonewton_metre() {
        let stress = torsion_stress_pa(1000.0, 0.04);
        assert!((stress / 79.577_472e6 - 1.0).abs() < 1e-8, "{stress}");
    }

    /// Surface stress is torque times radius over polar moment; bending is twice that of torsion for equal moments.
    #[test]
    fn stress_follows_from_the_polar_moment() {
        let by_moment = 1000.0 * 0.02 / polar_moment_m4(0.04, 0.0);
        assert!((torsion_stress_pa(1000.0, 0.04) / by_moment - 1.0).abs() < 1e-12);
        let bending = bending_stress_pa(1000.0, 0.04);
        assert!((bending / torsion_stress_pa(2000.0, 0.04) - 1.0).abs() < 1e-12);
        let twist = 1000.0 / torsional_stiffness_n_m_rad(8.0e10, polar_moment_m4(0.04, 0.0), 0.5);
        // Angle of twist T l/(G Ip) and surface shear strain r θ/l agree with τ/G.
        let strain = 0.02 * twist / 0.5;
        assert!((strain * 8.0e10 / by_moment - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_ratio_of_von_mises_is_that_of_his_stress() {
        let pure = von_mises_pa(0.0, TORSION_FATIGUE_RATIO_VON_MISES);
        assert!((pure - 1.0).abs() < 1e-12);
        assert!((TORSION_FATIGUE_RATIO / TORSION_FATIGUE_RATIO_VON_MISES - 1.0).abs() < 0.025);
    }
}

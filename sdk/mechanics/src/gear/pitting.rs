//! Contact stress and what bears it (ISO 6336-2, from memory).

use std::f64::consts::{FRAC_PI_2, PI};

use super::geometry::Mesh;

/// Contact stress of pinion and wheel \[Pa\] under a tangential load at the reference cylinder that
/// holds all load factors \[N\]. `modulus_pa` is the effective modulus E* of both steels.
///
/// Nominal stress at the pitch point, on the mean length of contact lines, raised to the inner
/// point of single contact of the pinion (Z_B) and of the wheel (Z_D).
pub fn contact_stress_pa(mesh: &Mesh, tangential_n: f64, modulus_pa: f64) -> [f64; 2] {
    let pinion = &mesh.gears[0];
    let u = mesh.ratio();
    let area = 2.0 * pinion.reference_m * mesh.pair.face_width_m;
    let intensity = tangential_n.max(0.0) / area * (u + 1.0) / u;
    // Z_E² = E*/π.
    let squared = intensity * modulus_pa
        / PI
        / mesh.contact_lines()
        / libm::cos(mesh.pair.rack.helix_angle_rad);
    let nominal = zone_factor(mesh) * libm::sqrt(squared);
    single_contact_factors(mesh).map(|factor| factor * nominal)
}

/// Zone factor Z_H.
pub fn zone_factor(mesh: &Mesh) -> f64 {
    let transverse = libm::cos(mesh.transverse_angle_rad);
    let (sine, cosine) = (
        libm::sin(mesh.working_angle_rad),
        libm::cos(mesh.working_angle_rad),
    );
    libm::sqrt(2.0 * libm::cos(mesh.base_helix_rad) * cosine / (transverse * transverse * sine))
}

/// Z_B and Z_D, 1 or more.
pub fn single_contact_factors(mesh: &Mesh) -> [f64; 2] {
    let [_, b, c, d, _] = mesh.pinion_radii_m;
    let at =
        |pinion_m: f64| libm::sqrt(mesh.relative_radius_m(c) / mesh.relative_radius_m(pinion_m));
    let overlap = mesh.overlap_ratio.min(1.0);
    let factor = |pinion_m: f64| (at(pinion_m) * (1.0 - overlap) + overlap).max(1.0);
    [factor(b), factor(d)]
}

/// The oil film's influences on what a flank bears for long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// Kinematic viscosity of the oil at 40 degC \[m²/s\].
    pub viscosity_40_m2_s: f64,
    /// Speed at the pitch circle \[m/s\].
    pub pitch_speed_m_s: f64,
    /// Mean height Rz of both flanks after running-in \[m\].
    pub rz_m: f64,
    /// Equivalent radius of curvature at the pitch point \[m\].
    pub radius_m: f64,
}

/// Roughness below which ISO 6336-2 shows no more gain \[um\], at a radius of 10 mm.
const FINEST_RZ10_UM: f64 = 1.0;

/// Z_L, Z_v and Z_R for an allowable stress number \[Pa\].
pub fn film_factors(film: &Film, allowable_pa: f64) -> [f64; 3] {
    let strength_mpa = (1e-6 * allowable_pa).clamp(850.0, 1200.0);
    let c_l = (strength_mpa - 850.0) / 350.0 * 0.08 + 0.83;
    let thin = 1.2 + 134.0 / (1e6 * film.viscosity_40_m2_s);
    let viscosity = c_l + 4.0 * (1.0 - c_l) / (thin * thin);
    let c_v = c_l + 0.02;
    let speed = c_v + 2.0 * (1.0 - c_v) / libm::sqrt(0.8 + 32.0 / film.pitch_speed_m_s.max(0.1));
    let rz10_um = 1e6 * film.rz_m * libm::cbrt(10e-3 / film.radius_m);
    let c_r = 0.32 - 0.0002 * strength_mpa;
    let roughness = libm::pow(3.0 / rz10_um.max(FINEST_RZ10_UM), c_r);
    [viscosity, speed, roughness]
}

/// Pressure angle at a base radius and a radius \[rad\], 0 below the base circle.
pub(super) fn angle_at_rad(base_m: f64, radius_m: f64) -> f64 {
    if radius_m <= base_m {
        return 0.0;
    }
    FRAC_PI_2 - libm::asin(base_m / radius_m)
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::spur;
    use super::*;
    use crate::contact::{effective_modulus_pa, line_contact};

    const STEEL: (f64, f64) = (206e9, 0.3);

    /// Z_E of steel on steel is 189.8 √MPa (ISO 6336-2 table, from memory); Z_H of 20-degree spur
    /// gears without shift is 2.495.
    #[test]
    fn the_tabled_factors_come_out() {
        let elasticity = (effective_modulus_pa(STEEL, STEEL) / PI).sqrt() * 1e-3;
        assert!((elasticity / 189.8 - 1.0).abs() < 1e-3, "{elasticity}");
        let mesh = spur([22.0, 30.0], 0.0, 84.5e-3)
            .mesh()
            .expect("a pair that meshes");
        assert!((zone_factor(&mesh) - 2.495).abs() < 1e-3);
    }

    /// With the whole load on one pair the stress at B is that of Hertz's line contact there.
    #[test]
    fn single_contact_is_hertz() {
        let mesh = spur([17.0, 35.0], 0.3, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let modulus_pa = effective_modulus_pa(STEEL, STEEL);
        let load_n = 15e3;
        let line_load = load_n / libm::cos(mesh.transverse_angle_rad) / mesh.pair.face_width_m;
        let radius_m = mesh.relative_radius_m(mesh.pinion_radii_m[1]);
        let hertz = line_contact(line_load, radius_m, modulus_pa).peak_pressure_pa;
        let [pinion, wheel] = contact_stress_pa(&mesh, load_n, modulus_pa);
        let whole = mesh.contact_lines().sqrt();
        assert!((pinion * whole / hertz - 1.0).abs() < 1e-12);
        assert!(wheel < pinion && wheel > 0.0);
    }

    /// Z_B by the standard's own form (M1), from memory.
    #[test]
    fn the_inner_point_is_that_of_the_standard() {
        let mesh = spur([17.0, 35.0], 0.3, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let reach = |index: usize| {
            let gear = &mesh.gears[index];
            ((gear.tip_m / gear.base_m).powi(2) - 1.0).sqrt()
        };
        let pitch = |index: usize| 2.0 * PI / mesh.gears[index].teeth;
        let below = (reach(0) - pitch(0)) * (reach(1) - (mesh.contact_ratio - 1.0) * pitch(1));
        let m1 = libm::tan(mesh.working_angle_rad) / below.sqrt();
        assert!((single_contact_factors(&mesh)[0] - m1.max(1.0)).abs() < 1e-12);
    }

    /// Reference conditions of the standard: each factor is 1 near 100 mm²/s at 50 degC
    /// (some 168 at 40), 10 m/s, Rz10 3 um (from memory).
    #[test]
    fn film_factors_are_one_at_reference() {
        let film = |rz_m| Film {
            viscosity_40_m2_s: 168e-6,
            pitch_speed_m_s: 10.0,
            rz_m,
            radius_m: 10e-3,
        };
        for factor in film_factors(&film(3e-6), 1.65e9) {
            assert!((factor - 1.0).abs() < 0.01, "{factor}");
        }
        let [_, _, fine] = film_factors(&film(1e-6), 1.65e9);
        let [_, _, finer] = film_factors(&film(0.3e-6), 1.65e9);
        assert!(fine > 1.08 && (fine - finer).abs() < 1e-15);
    }
}

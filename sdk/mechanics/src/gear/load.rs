//! Load on the teeth (ISO 6336-1, from memory): mesh stiffness, dynamic factor by method B, factors
//! of the face.

use std::f64::consts::{FRAC_PI_8, PI};

use super::geometry::Mesh;

/// Density of steel \[kg/m³\].
const STEEL_KG_M3: f64 = 7800.0;
/// Of the theoretical stiffness: correction by measurement.
const STIFFNESS_CORRECTION: f64 = 0.8;

/// What makes a mesh run roughly, after running-in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deviations {
    /// Transverse base pitch deviation left after running-in \[m\].
    pub base_pitch_m: f64,
    /// Profile form deviation left after running-in \[m\].
    pub profile_m: f64,
    /// Tip relief \[m\].
    pub tip_relief_m: f64,
}

/// Stiffness of one pair of teeth, and of the mesh, for each width \[N/(m·m)\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stiffness {
    /// One pair of teeth, c'.
    pub single: f64,
    /// Mean over the mesh, c_γα.
    pub mesh: f64,
}

/// Mesh stiffness of steel gears with solid blanks, at 100 N/mm or more (method B).
pub fn stiffness(mesh: &Mesh) -> Stiffness {
    let rack = &mesh.pair.rack;
    let helix = libm::cos(rack.helix_angle_rad);
    let [(z1, x1), (z2, x2)] = mesh
        .gears
        .map(|gear| (gear.teeth / (helix * helix * helix), gear.shift));
    let flexibility = 0.047_23 + 0.155_51 / z1 + 0.257_91 / z2
        - 0.006_35 * x1
        - 0.116_54 * x1 / z1
        - 0.001_93 * x2
        - 0.241_88 * x2 / z2
        + 0.005_29 * x1 * x1
        + 0.001_82 * x2 * x2;
    let angle_deg = rack.pressure_angle_rad.to_degrees();
    let rack_factor = (1.0 + 0.5 * (1.2 - rack.dedendum)) * (1.0 - 0.02 * (20.0 - angle_deg));
    // The flexibility is in mm·um/N.
    let single = 1e9 * STIFFNESS_CORRECTION * rack_factor * helix / flexibility;
    Stiffness {
        single,
        mesh: single * (0.75 * mesh.contact_ratio + 0.25),
    }
}

/// Speed of the pinion at which the mesh resonates \[rad/s\]: both blanks solid steel.
pub fn resonance_rad_s(mesh: &Mesh, stiffness: &Stiffness) -> f64 {
    let u = mesh.ratio();
    let pinion = &mesh.gears[0];
    let mean_m = pinion.tip_m + pinion.root_m; // the mean diameter
    let width = mean_m / (2.0 * pinion.base_m);
    let inertia = u * u / (1.0 + u * u);
    let reduced_kg_m = FRAC_PI_8 * width * width * mean_m * mean_m * inertia * STEEL_KG_M3;
    libm::sqrt(stiffness.mesh / reduced_kg_m) / pinion.teeth
}

/// Internal dynamic factor K_v by method B over the whole range of speed: `line_load_n_m` is
/// `F_t K_A/b` above 0, speed that of the pinion.
///
/// Leaves out neighbouring meshes, the shafts, and torsional vibration of the engine, for which the
/// application factor stands.
pub fn dynamic_factor(
    mesh: &Mesh,
    deviations: &Deviations,
    line_load_n_m: f64,
    speed_rad_s: f64,
) -> f64 {
    let stiffness = stiffness(mesh);
    let over = speed_rad_s / resonance_rad_s(mesh, &stiffness);
    let related = |deviation_m: f64| stiffness.single * deviation_m / line_load_n_m;
    let pitch = related(deviations.base_pitch_m);
    let form = related(deviations.profile_m);
    let relief = (1.0 - related(deviations.tip_relief_m)).abs().min(1.0);
    let [c1, c2, c3, c4, c5, c6, c7] = coefficients(mesh.contact_ratio + mesh.overlap_ratio);
    let below = |over: f64| 1.0 + over * (c1 * pitch + c2 * form + c3 * relief);
    let resonance = 1.0 + c1 * pitch + c2 * form + c4 * relief;
    let above = c5 * pitch + c6 * form + c7;
    // Below 100 N/mm the ranges move; the load is then too small to matter.
    let between =
        |from: f64, to: f64, low: f64, high: f64| low + (high - low) * (over - from) / (to - from);
    if over <= 0.85 {
        below(over)
    } else if over <= 1.0 {
        between(0.85, 1.0, below(0.85), resonance.max(below(0.85)))
    } else if over <= 1.15 {
        resonance
    } else if over < 1.5 {
        between(1.15, 1.5, resonance, above)
    } else {
        above
    }
}

/// C_v1 to C_v7 by total contact ratio.
fn coefficients(total: f64) -> [f64; 7] {
    let seventh = if total <= 1.5 {
        0.75
    } else if total <= 2.5 {
        0.125 * libm::sin(PI * (total - 2.0)) + 0.875
    } else {
        1.0
    };
    if total <= 2.0 {
        return [0.32, 0.34, 0.23, 0.90, 0.47, 0.47, seventh];
    }
    [
        0.32,
        0.57 / (total - 0.3),
        0.096 / (total - 1.56),
        (0.57 - 0.05 * total) / (total - 1.44),
        0.47,
        0.12 / (total - 1.74),
        seventh,
    ]
}

/// Face load factor of the root, from that of the flank: `K_Fβ = K_Hβ^N`.
pub fn root_face_factor(mesh: &Mesh, flank_face_factor: f64) -> f64 {
    let pinion = &mesh.gears[0];
    let width = (mesh.pair.face_width_m / (pinion.tip_m - pinion.root_m)).max(3.0);
    let exponent = width * width / (1.0 + width + width * width);
    libm::pow(flank_face_factor, exponent)
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::spur;
    use super::*;

    /// ISO 6336-1's mean values for spur gears of steel are 14 N/(mm·um) for a pair of teeth and 20
    /// for the mesh (from memory).
    #[test]
    fn stiffness_is_near_the_mean_values() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let found = stiffness(&mesh);
        println!(
            "c' {:.2}, c_gamma {:.2} N/(mm um)",
            1e-9 * found.single,
            1e-9 * found.mesh
        );
        assert!((found.single / 14e9 - 1.0).abs() < 0.12);
        assert!((found.mesh / 20e9 - 1.0).abs() < 0.12);
    }

    /// Two blanks and a spring: `ω = √(c_γ b (1/m1 + 1/m2))` of masses `J/r_b²`, over the teeth. The
    /// reduced mass of the standard is that of two discs of the mean diameter.
    #[test]
    fn resonance_is_that_of_two_discs_on_a_spring() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let c = stiffness(&mesh);
        let mass = |index: usize| {
            let mean_m = 0.5 * (mesh.gears[index].tip_m + mesh.gears[index].root_m);
            0.5 * PI * STEEL_KG_M3 * mean_m.powi(4) / mesh.gears[index].base_m.powi(2)
        };
        let expected = (c.mesh * (1.0 / mass(0) + 1.0 / mass(1))).sqrt() / 22.0;
        let found = resonance_rad_s(&mesh, &c);
        println!("resonance {found:.0} rad/s, two discs {expected:.0}");
        assert!((found / expected - 1.0).abs() < 0.03);
    }

    #[test]
    fn rougher_and_faster_below_resonance_is_never_easier() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let at = |pitch_um: f64, speed: f64| {
            let deviations = Deviations {
                base_pitch_m: pitch_um * 1e-6,
                profile_m: pitch_um * 1e-6,
                tip_relief_m: 0.0,
            };
            dynamic_factor(&mesh, &deviations, 7e5, speed)
        };
        assert!((at(4.0, 0.0) - 1.0).abs() < 1e-15);
        for step in 1..20 {
            let speed = 50.0 * f64::from(step);
            assert!(at(4.0, speed) > at(4.0, speed - 50.0));
            assert!(at(6.0, speed) > at(4.0, speed));
        }
    }
}

//! Tooth-root stress and what bears it (ISO 6336-3 method B, from memory): the section where the
//! tangents at 30 degrees touch the fillet, the load at the outer point of single contact.

use std::f64::consts::{FRAC_PI_3, FRAC_PI_4, FRAC_PI_6, PI};

use super::geometry::{Mesh, involute};
use super::pitting::angle_at_rad;

/// Root of one gear of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RootSection {
    /// Chord of the tooth at the critical section \[m\].
    pub chord_m: f64,
    /// Radius of the fillet there \[m\].
    pub fillet_m: f64,
    /// Arm of the load over the section \[m\].
    pub arm_m: f64,
    /// Form factor Y_F.
    pub form: f64,
    /// Stress correction factor Y_S.
    pub correction: f64,
}

impl RootSection {
    /// Notch parameter `q_s = s_Fn/(2 ρ_F)`.
    pub fn notch(&self) -> f64 {
        0.5 * self.chord_m / self.fillet_m
    }
}

/// Root section of the pinion (0) or the wheel (1).
pub fn root_section(mesh: &Mesh, member: usize) -> RootSection {
    let (rack, gear) = (&mesh.pair.rack, &mesh.gears[member]);
    let (alpha, module_m) = (rack.pressure_angle_rad, rack.module_m);
    let (sine, cosine, tangent) = (libm::sin(alpha), libm::cos(alpha), libm::tan(alpha));
    let base_cosine = libm::cos(mesh.base_helix_rad);
    let helix = libm::cos(rack.helix_angle_rad);
    let teeth = gear.teeth / (base_cosine * base_cosine * helix);
    let e = FRAC_PI_4 - rack.dedendum * tangent - (1.0 - sine) * rack.root_radius / cosine;
    let g = rack.root_radius - rack.dedendum + gear.shift;
    let h = 2.0 / teeth * (2.0 * FRAC_PI_4 - e) - FRAC_PI_3;
    let theta = tangent_angle_rad(2.0 * g / teeth, h);
    let theta_cosine = libm::cos(theta);
    let chord = teeth * libm::sin(FRAC_PI_3 - theta)
        + libm::sqrt(3.0) * (g / theta_cosine - rack.root_radius);
    let fillet = rack.root_radius
        + 2.0 * g * g / (theta_cosine * (teeth * theta_cosine * theta_cosine - 2.0 * g));
    let (angle, gamma, point) = load_point(mesh, member, teeth);
    let arm = 0.5
        * ((libm::cos(gamma) - libm::sin(gamma) * libm::tan(angle)) * point
            - teeth * libm::cos(FRAC_PI_3 - theta)
            - g / theta_cosine
            + rack.root_radius);
    let slender = chord / arm;
    let notch = (0.5 * chord / fillet).clamp(1.0, 8.0);
    RootSection {
        chord_m: module_m * chord,
        fillet_m: module_m * fillet,
        arm_m: module_m * arm,
        form: 6.0 * arm * libm::cos(angle) / (chord * chord * cosine),
        correction: (1.2 + 0.13 * slender) * libm::pow(notch, 1.0 / (1.21 + 2.3 / slender)),
    }
}

/// `θ = (2G/z) tan θ − H`, from 30 degrees.
fn tangent_angle_rad(slope: f64, h: f64) -> f64 {
    let mut theta = FRAC_PI_6;
    for _ in 0..24 {
        theta = slope * libm::tan(theta) - h;
    }
    theta
}

/// Direction of the load at the outer point of single contact, half the tooth's angle there, and the
/// diameter through it over module, on the virtual spur gear.
fn load_point(mesh: &Mesh, member: usize, teeth: f64) -> (f64, f64, f64) {
    let (rack, gear) = (&mesh.pair.rack, &mesh.gears[member]);
    let base_cosine = libm::cos(mesh.base_helix_rad);
    let cosine = libm::cos(rack.pressure_angle_rad);
    let virtual_ratio = mesh.contact_ratio / (base_cosine * base_cosine);
    let base = 0.5 * teeth * cosine;
    let tip = 0.5 * teeth + (gear.tip_m - gear.reference_m) / rack.module_m;
    let along =
        libm::sqrt((tip * tip - base * base).max(0.0)) - PI * cosine * (virtual_ratio - 1.0);
    let radius = along.max(0.0).hypot(base);
    let pressure = angle_at_rad(base, radius);
    let gamma = (2.0 * FRAC_PI_4 + 2.0 * gear.shift * libm::tan(rack.pressure_angle_rad)) / teeth
        + involute(rack.pressure_angle_rad)
        - involute(pressure);
    (pressure - gamma, gamma, 2.0 * radius)
}

/// Helix angle factor Y_β.
pub fn helix_factor(mesh: &Mesh) -> f64 {
    let helix_deg = mesh.pair.rack.helix_angle_rad.to_degrees().abs().min(30.0);
    1.0 - mesh.overlap_ratio.min(1.0) * helix_deg / 120.0
}

/// Root stress \[Pa\] under a tangential load that holds all load factors of the root \[N\].
pub fn root_stress_pa(mesh: &Mesh, section: &RootSection, tangential_n: f64) -> f64 {
    let area = mesh.pair.face_width_m * mesh.pair.rack.module_m;
    tangential_n / area * section.form * section.correction * helix_factor(mesh)
}

/// Slip-layer thickness of case-carburised steel \[m\].
const SLIP_LAYER_M: f64 = 3.0e-6;

/// Relative notch sensitivity Y_δrelT of case-carburised steel: the test gear has q_s = 2.5.
pub fn notch_sensitivity(section: &RootSection) -> f64 {
    // Relative stress gradient for each mm: (1 + 2 q_s)/5.
    let rise = |notch: f64| 1.0 + libm::sqrt(1e3 * SLIP_LAYER_M * 0.2 * (1.0 + 2.0 * notch));
    rise(section.notch()) / rise(2.5)
}

/// Relative surface factor Y_RrelT of case-carburised steel; Rz of the root \[m\], up to 40 um.
pub fn surface_factor(rz_m: f64) -> f64 {
    let rz_um = 1e6 * rz_m;
    if rz_um < 1.0 {
        return 1.12;
    }
    1.674 - 0.529 * libm::pow(rz_um + 1.0, 0.1)
}

/// Size factor Y_X of case-carburised steel.
pub fn size_factor(module_m: f64) -> f64 {
    (1.05 - 10.0 * module_m).clamp(0.8, 1.0)
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::spur;
    use super::super::pitting::contact_stress_pa;
    use super::*;

    /// The fillet that the cutter's tip arc leaves, rolled out point by point: where its tangent
    /// stands at 30 degrees to the tooth's centre line, half the thickness is half the chord, and
    /// the curvature there, by differences, is that of the fillet; the arm is how far above it the load's
    /// line crosses the centre line. Nothing of the standard is used.
    #[test]
    fn the_section_is_that_of_a_rolled_fillet() {
        for (teeth, shift) in [
            ([17.0, 35.0], 0.3),
            ([22.0, 30.0], 0.28),
            ([14.0, 38.0], 0.42),
        ] {
            let mesh = spur(teeth, shift, 86.2e-3)
                .mesh()
                .expect("a pair that meshes");
            for member in 0..2 {
                let section = root_section(&mesh, member);
                let (half_chord, height, fillet) = rolled(&mesh, member);
                let module_m = mesh.pair.rack.module_m;
                println!(
                    "{teeth:?} {member}: chord {:.5} rolled {:.5}, fillet {:.5} rolled {fillet:.5}",
                    section.chord_m / module_m,
                    2.0 * half_chord,
                    section.fillet_m / module_m
                );
                assert!(
                    (section.chord_m / module_m / (2.0 * half_chord) - 1.0).abs() < 1e-4,
                    "{teeth:?}"
                );
                let arm = crossing(&mesh, member) - height;
                assert!(
                    (section.arm_m / module_m / arm - 1.0).abs() < 1e-4,
                    "{teeth:?}"
                );
                assert!(
                    (section.fillet_m / module_m / fillet - 1.0).abs() < 1e-3,
                    "{teeth:?}"
                );
            }
        }
    }

    /// Where the line of the load crosses the tooth's centre line, above the gear's centre in modules:
    /// it touches the base circle, and is normal to the flank at the outer point of single contact,
    /// whose radius of curvature is known from the line of action.
    fn crossing(mesh: &Mesh, member: usize) -> f64 {
        let gear = &mesh.gears[member];
        let curvature_m = match member {
            0 => mesh.pinion_radii_m[3],
            _ => mesh.line_m - mesh.pinion_radii_m[1],
        };
        // The tooth's half angle at the base circle, less the roll angle to the point.
        let half_base = (2.0 * FRAC_PI_4
            + 2.0 * gear.shift * mesh.pair.rack.pressure_angle_rad.tan())
            / gear.teeth
            + involute(mesh.transverse_angle_rad);
        let direction = curvature_m / gear.base_m - half_base;
        gear.base_m / direction.cos() / mesh.pair.rack.module_m
    }

    /// Half chord, height above the gear's centre, and radius, in modules. A rack's tip arc of radius ρ about (across, depth) rolls on
    /// the pitch circle; its envelope is the locus of the arc's centre, offset by ρ along the normal
    /// through the instantaneous pole.
    fn rolled(mesh: &Mesh, member: usize) -> (f64, f64, f64) {
        let (rack, gear) = (&mesh.pair.rack, &mesh.gears[member]);
        let radius = 0.5 * gear.teeth;
        let (alpha, rho) = (rack.pressure_angle_rad, rack.root_radius);
        // Centre of the arc under the pitch line, and from the middle of the gap across.
        let depth = rack.dedendum - rho - gear.shift;
        let across =
            FRAC_PI_4 - rack.dedendum * alpha.tan() - rho * (1.0 - alpha.sin()) / alpha.cos();
        let gap = PI / gear.teeth;
        let point = |roll: f64| {
            // Pole at the pitch point; centre of the arc lies (along, -depth) from it.
            let along = across - radius * roll;
            let reach = along.hypot(depth);
            let (x, y) = (
                along * (1.0 + rho / reach),
                radius - depth * (1.0 + rho / reach),
            );
            // Back to the gear, then from the middle of the gap to that of the tooth.
            let turn = roll - gap;
            let (sine, cosine) = turn.sin_cos();
            (x * cosine + y * sine, y * cosine - x * sine)
        };
        let step = 1e-6;
        let slope = |roll: f64| {
            let ((x0, y0), (x1, y1)) = (point(roll - step), point(roll + step));
            ((x1 - x0) / (y1 - y0)).abs().atan()
        };
        // From the bottom of the fillet, where the centre stands under the pole, the tangent turns
        // from across the tooth to along it.
        let start = across / radius - 1e-4;
        let mut rolls = (0..400_000).map(|k| start - f64::from(k) * 2e-6);
        let at = rolls
            .find(|roll| slope(*roll) <= FRAC_PI_6)
            .expect("a tangent at 30 degrees");
        let far = 1e-3;
        let ((x0, y0), (x1, y1), (x2, y2)) = (point(at - far), point(at), point(at + far));
        let (a, b, c) = (
            (x1 - x0).hypot(y1 - y0),
            (x2 - x1).hypot(y2 - y1),
            (x2 - x0).hypot(y2 - y0),
        );
        let twice_area = ((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)).abs();
        (x1.abs(), y1, a * b * c / (2.0 * twice_area))
    }

    #[test]
    fn shift_makes_a_tooth_stouter() {
        let form = |shift: f64| {
            let mesh = spur([20.0, 32.0], shift, 86.2e-3)
                .mesh()
                .expect("a pair that meshes");
            root_section(&mesh, 0).form
        };
        assert!(form(0.4) < form(0.2));
    }

    /// As the helix goes to nothing every factor goes to that of the spur pair; a helix that overlaps
    /// carries more.
    #[test]
    fn a_helix_joins_the_spur_pair() {
        let mesh = |helix_rad: f64| {
            let mut pair = spur([22.0, 30.0], 0.2, 86.2e-3);
            pair.rack.helix_angle_rad = helix_rad;
            pair.rack.module_m *= helix_rad.cos(); // the same transverse module
            pair.face_width_m = 0.03;
            pair.mesh().expect("a pair that meshes")
        };
        let stresses = |mesh: &Mesh| {
            let root = root_stress_pa(mesh, &root_section(mesh, 0), 12e3);
            [contact_stress_pa(mesh, 12e3, 113e9)[0], root]
        };
        let [contact, root] = stresses(&mesh(0.0));
        let [near_contact, near_root] = stresses(&mesh(1e-6));
        assert!((near_contact / contact - 1.0).abs() < 1e-4);
        assert!((near_root / root - 1.0).abs() < 1e-4);
        let wound = mesh(0.4);
        assert!(
            wound.overlap_ratio > 1.0
                && (wound.contact_lines() - wound.contact_ratio).abs() < 1e-12
        );
        assert!(stresses(&wound)[0] < contact);
    }

    /// The test gear of the standard: factors of 1 at q_s = 2.5 and Rz = 10 um (from memory).
    #[test]
    fn relative_factors_are_one_for_the_test_gear() {
        let section = RootSection {
            chord_m: 5.0,
            fillet_m: 1.0,
            arm_m: 5.0,
            form: 1.0,
            correction: 1.0,
        };
        assert!((notch_sensitivity(&section) - 1.0).abs() < 1e-12);
        assert!((surface_factor(10e-6) - 1.0).abs() < 0.01);
        assert!((size_factor(3.25e-3) - 1.0).abs() < 1e-12);
    }
}

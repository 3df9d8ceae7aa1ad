//! Stress at the sites over the engine cycle.

use ringland_engine::CycleLoads;

use crate::constants::DENSITY_KG_M3;
use crate::spec::{SITES, Spec, site};

/// Place of the sites along the rod: distance from the piston pin over length between centres.
const PLACE: [f64; SITES] = [0.12, 0.78, 1.0];

/// Forces in the rod at a crank angle \[N\], tension positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodForces {
    /// In the small-end eye: of gas, piston, rings and pin.
    pub eye_n: f64,
    /// In the beam: with the small-end share of the rod.
    pub beam_n: f64,
    /// Across the split of the big end: with the big end's share above the split; 0 in compression.
    pub split_n: f64,
    /// Inertia load across the rod at the piston pin and at the crank pin \[N/m\].
    pub across_n_m: [f64; 2],
}

/// Forces in the rod at a point of the cycle.
pub fn forces(spec: &Spec, loads: &CycleLoads, point: usize) -> Option<RodForces> {
    let (crank, speed) = (loads.crank(), loads.speed_rad_s);
    let (angle_rad, piston) = (*loads.angle_rad.get(point)?, loads.forces.get(point)?);
    let swing_rad = crank.rod_angle_rad(angle_rad);
    let share = spec.small_end_mass_kg / spec.engine.reciprocating_mass_kg;
    let eye_n = -(piston.gas_n + piston.inertia_n * (1.0 - share)) / libm::cos(swing_rad);
    let throw_rad = angle_rad + swing_rad;
    let outward_m_s2 = crank.crank_radius_m * speed * speed;
    let cap_n = spec.cap_mass_kg * outward_m_s2 * libm::cos(throw_rad);
    let mass_kg_m = DENSITY_KG_M3 * spec.section_m2;
    let fall_m_s2 = crank.acceleration_m_s2(angle_rad, speed);
    Some(RodForces {
        eye_n,
        beam_n: -piston.rod_n,
        split_n: (loads.pin_in_rod(point)?.along_n - cap_n).max(0.0),
        across_n_m: [
            mass_kg_m * fall_m_s2 * libm::sin(swing_rad),
            mass_kg_m * outward_m_s2 * libm::sin(throw_rad),
        ],
    })
}

/// Bending moment in a bar on two pins under an even-ended, straight load \[N·m\] at a share of its length from the first pin.
pub fn bending_n_m([first_n_m, last_n_m]: [f64; 2], length_m: f64, place: f64) -> f64 {
    let shape = |x: f64| length_m * length_m / 6.0 * (x - x * x * x);
    first_n_m * shape(1.0 - place) + last_n_m * shape(place)
}

/// Stress at a notch root \[Pa\] for its nominal force and bending moment; `face` is 1 or −1, by the side of the beam.
fn root_stress_pa(spec: &Spec, index: usize, forces: &RodForces, face: f64) -> f64 {
    let site = &spec.sites[index];
    let (force_n, bending_pa) = if index == site::SPOT_FACE {
        (spec.prying_factor * forces.split_n, 0.0)
    } else {
        let moment_n_m = bending_n_m(forces.across_n_m, spec.engine.rod_length_m, PLACE[index]);
        let inertia_m2 = spec.swing_gyration_m * spec.swing_gyration_m;
        let modulus_m3 = site.section_m2 * inertia_m2 / spec.half_depth_m;
        let force_n = if index == site::EYE {
            forces.eye_n
        } else {
            forces.beam_n
        };
        (force_n, face * moment_n_m / modulus_m3)
    };
    let carried_n = if force_n < 0.0 {
        site.compression_share * force_n
    } else {
        force_n
    };
    site.fatigue_factor * (carried_n / site.section_m2 + bending_pa)
}

/// Stress over the cycle at a site, on both sides of the beam \[Pa\]. Not a number where the cycle has no forces.
pub fn traces(spec: &Spec, loads: &CycleLoads, index: usize) -> [Vec<f64>; 2] {
    [1.0, -1.0].map(|face| {
        let at = |point| {
            forces(spec, loads, point).map_or(f64::NAN, |forces| {
                root_stress_pa(spec, index, &forces, face)
            })
        };
        (0..loads.angle_rad.len()).map(at).collect()
    })
}

/// Largest tension and largest compression of the beam over the cycle \[N\], each 0 or more.
pub fn peaks_n(loads: &CycleLoads) -> (f64, f64) {
    let forces = loads.forces.iter();
    forces.fold((0.0, 0.0), |(tension, compression): (f64, f64), at| {
        (tension.max(-at.rod_n), compression.max(at.rod_n))
    })
}

//! Load of the journal in the axes of the shell: first axis towards the middle of the upper shell (that of the rod or of the block),
//! second axis a quarter turn on in the direction of rotation.

use ringland_engine::CycleLoads;
use ringland_mechanics::journal::LoadCycle;

use crate::constants::{FATIGUE_EXPONENT, MAIN_SHARE};
use crate::spec::{Position, Spec};

/// Load and speed of the journal in its shell over the cycle.
pub fn shell_load(spec: &Spec, loads: &CycleLoads) -> LoadCycle {
    let points = loads.angle_rad.len();
    let (load_n, spin_rad_s) = match spec.position {
        Position::Rod => (0..points).map(|point| rod(loads, point)).unzip(),
        Position::Main => (0..points).map(|point| main(spec, loads, point)).unzip(),
    };
    LoadCycle {
        load_n,
        spin_rad_s,
        step_s: loads.period_s() / points as f64,
    }
}

/// The rod pushes the pin with a force; the pin presses the shell the other way. Seen from the rod the pin turns faster by the swing.
fn rod(loads: &CycleLoads, point: usize) -> ([f64; 2], f64) {
    let (along_n, across_n) = loads
        .pin_in_rod(point)
        .map_or((0.0, 0.0), |force| (force.along_n, force.across_n));
    let angle = loads.angle_rad.get(point).copied().unwrap_or(0.0);
    let crank = loads.crank();
    let ratio = crank.crank_radius_m / crank.rod_length_m;
    let swing = ratio * libm::cos(angle) / libm::cos(crank.rod_angle_rad(angle));
    ([-along_n, -across_n], loads.speed_rad_s * (1.0 + swing))
}

/// Half of what acts on each of two neighbouring throws: rod, throw and counterweight.
fn main(spec: &Spec, loads: &CycleLoads, point: usize) -> ([f64; 2], f64) {
    let points = loads.angle_rad.len();
    let angle = loads.angle_rad.get(point).copied().unwrap_or(0.0);
    let lag = spec.neighbour_firing_interval_rad;
    let steps = (lag / (4.0 * std::f64::consts::PI) * points as f64).round() as usize;
    let neighbour = (point + points - steps % points) % points;
    let speed = loads.speed_rad_s;
    let unbalanced_n = (1.0 - spec.counterweight_fraction)
        * spec.throw_mass_kg
        * loads.crank().crank_radius_m
        * speed
        * speed;
    let mut load_n = [0.0; 2];
    for (at, turn) in [(point, angle), (neighbour, angle - lag)] {
        let (along_n, across_n) = loads
            .pin_in_cylinder(at)
            .map_or((0.0, 0.0), |force| (force.along_n, force.across_n));
        load_n[0] += MAIN_SHARE * (along_n + unbalanced_n * libm::cos(turn));
        load_n[1] += MAIN_SHARE * (across_n + unbalanced_n * libm::sin(turn));
    }
    (load_n, speed)
}

/// Specific load \[Pa\] that, once a cycle, does the damage of all pulses of the cycle on the upper and on the lower shell: a pulse is a
/// stretch in which the load points into that shell, its size the largest load of the stretch over projected area.
pub fn pulses_pa(spec: &Spec, cycle: &LoadCycle) -> [f64; 2] {
    [1.0, -1.0].map(|side| {
        let loads: Vec<f64> = cycle
            .load_n
            .iter()
            .map(|load| {
                let inside = side * load[0] > 0.0;
                if inside { load[0].hypot(load[1]) } else { 0.0 }
            })
            .collect();
        let n = loads.len();
        // Begin where the load points elsewhere, so that no pulse is cut; a load that never leaves is one pulse.
        let first = loads.iter().position(|load| *load <= 0.0).unwrap_or(0);
        let (mut sum, mut pulse) = (0.0, 0.0_f64);
        for k in 0..=n {
            let load = if k < n { loads[(first + k) % n] } else { 0.0 };
            if load > 0.0 {
                pulse = pulse.max(load / spec.projected_area_m2());
            } else if pulse > 0.0 {
                sum += libm::pow(pulse, FATIGUE_EXPONENT);
                pulse = 0.0;
            }
        }
        libm::pow(sum, 1.0 / FATIGUE_EXPONENT)
    })
}

//! One operating point over the crank angle, and the map of them.

use ringland_engine::{CycleLoads, MapGrid, OperatingMap};
use ringland_mechanics::contact::{GreenwoodTable, GreenwoodTripp, effective_modulus_pa};
use ringland_mechanics::engine::EngineError;
use ringland_mechanics::interpolate::Weights;
use ringland_mechanics::piston::{RingInGroove, SkirtFace, Slider, impacts_j};
use ringland_plugin::Finding;

use crate::constants::{BOSS_SWING_SHARE, POISSON};
use crate::spec::{SkirtSurface, Spec};

/// Viscosities at which the skirt is solved: 2, 4, 8, 16 mPa·s.
pub const VISCOSITIES: usize = 4;
const FIRST_VISCOSITY_PA_S: f64 = 2.0e-3;
/// Crank steps of the traced cycle between two instants of the skirt.
pub const SKIRT_STRIDE: usize = 4;

const PLAIN: usize = 9;
/// Thrust and other side, metal and coat, each viscosity; then viscous work at each viscosity.
const DOSES: usize = 2 * 2 * VISCOSITIES;
const WIDTH: usize = PLAIN + DOSES + VISCOSITIES;

/// Grid of the map.
pub const GRID: MapGrid = MapGrid {
    speeds: 7,
    ..MapGrid::usual(WIDTH, 1)
};

/// Below this the logarithm of a dose is not followed \[Pa·m\].
const LEAST_DOSE_PA_M: f64 = 1e-3;
/// Absolute pressure under the piston \[Pa\].
const CRANKCASE_PA: f64 = 1.0e5;

/// What one cycle at one operating point does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cycle {
    /// Flank pressure summed over the piston's crossings of its clearance, top and second groove \[Pa\]: times the clearance, the sliding
    /// dose \[Pa·m\].
    pub crossing_pa: [f64; 2],
    /// Energy that each ring brings to its groove \[J\].
    pub impact_j: [f64; 2],
    /// Mean pressure of the top ring on its lower flank \[Pa\].
    pub flank_pa: f64,
    /// Mean side force on the skirt, either way \[N\].
    pub side_n: f64,
    /// Highest and lowest force on the bosses, down positive \[N\].
    pub boss_n: [f64; 2],
    /// Boss bearing pressure times the pin's sliding in it \[Pa·m\].
    pub pin_bore_pa_m: f64,
    /// Asperity pressure times sliding of a skirt face: thrust and other side, metal and coat \[Pa·m\].
    pub skirt_pa_m: [[f64; 2]; 2],
    /// Viscous work of the skirt \[J\].
    pub viscous_j: f64,
}

/// Solves the map.
///
/// # Errors
/// The operating point that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let table = GreenwoodTable::new();
    ringland_engine::prepare(&spec.engine, &GRID, |loads| {
        Ok::<_, EngineError>(node(spec, &table, loads, SKIRT_STRIDE))
    })
}

fn node(spec: &Spec, table: &GreenwoodTable, loads: &CycleLoads, stride: usize) -> Vec<f64> {
    let dry = dry(spec, loads);
    let mut values = vec![
        dry.crossing_pa[0],
        dry.crossing_pa[1],
        dry.impact_j[0],
        dry.impact_j[1],
        dry.flank_pa,
        dry.side_n,
        dry.boss_n[0],
        dry.boss_n[1],
        dry.pin_bore_pa_m,
    ];
    let at: [Cycle; VISCOSITIES] = std::array::from_fn(|k| {
        let viscosity_pa_s = FIRST_VISCOSITY_PA_S * f64::from(1_u32 << k);
        skirt(spec, table, loads, viscosity_pa_s, stride)
    });
    for (face, material) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        let dose = |cycle: &Cycle| cycle.skirt_pa_m[face][material].max(LEAST_DOSE_PA_M);
        values.extend(at.iter().map(|cycle| libm::log(dose(cycle))));
    }
    values.extend(at.iter().map(|cycle| cycle.viscous_j));
    values
}

/// All of a cycle at a viscosity \[Pa·s\], solved without the map; `stride` crank steps between two instants of the skirt.
pub fn direct(
    spec: &Spec,
    table: &GreenwoodTable,
    loads: &CycleLoads,
    viscosity_pa_s: f64,
    stride: usize,
) -> Cycle {
    let wet = skirt(spec, table, loads, viscosity_pa_s, stride);
    Cycle {
        skirt_pa_m: wet.skirt_pa_m,
        viscous_j: wet.viscous_j,
        ..dry(spec, loads)
    }
}

/// What does not depend on the oil.
fn dry(spec: &Spec, loads: &CycleLoads) -> Cycle {
    let n = loads.forces.len() as f64;
    let shares = [
        (1.0, spec.second_land_share),
        (spec.second_land_share, spec.third_land_share),
    ];
    let masses = [spec.top_ring_mass_kg, spec.second_ring_mass_kg];
    let clearances = [spec.top_side_clearance_m, spec.second_side_clearance_m];
    let mut cycle = Cycle::default();
    for ring in 0..2 {
        let in_groove = RingInGroove {
            mass_kg: masses[ring],
            clearance_m: clearances[ring],
            side_area_m2: spec.ring_side_area_m2(),
        };
        let down_n = ring_forces_n(loads, &in_groove, shares[ring]);
        let step_s = loads.period_s() / n;
        cycle.crossing_pa[ring] = crossings_n(loads, &down_n) / in_groove.side_area_m2;
        cycle.impact_j[ring] = impacts_j(&in_groove, &down_n, step_s);
        if ring == 0 {
            let pressed: f64 = down_n.iter().map(|force| force.max(0.0)).sum();
            cycle.flank_pa = pressed / n / in_groove.side_area_m2;
        }
    }
    cycle.side_n = loads.forces.iter().map(|f| f.side_n.abs()).sum::<f64>() / n;
    let boss = boss_forces_n(spec, loads);
    cycle.boss_n = [
        boss.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        boss.iter().copied().fold(f64::INFINITY, f64::min),
    ];
    cycle.pin_bore_pa_m = pin_bore_pa_m(spec, loads, &boss);
    cycle
}

/// Force of a ring on the lower flank over the cycle \[N\]; `above` and `below` are shares of cylinder gauge pressure.
fn ring_forces_n(loads: &CycleLoads, ring: &RingInGroove, (above, below): (f64, f64)) -> Vec<f64> {
    let at = |(angle, pressure): (&f64, &f64)| {
        let difference_pa = (above - below) * (pressure - CRANKCASE_PA);
        let acceleration = loads.crank().acceleration_m_s2(*angle, loads.speed_rad_s);
        ring.down_n(difference_pa, acceleration)
    };
    loads
        .angle_rad
        .iter()
        .zip(&loads.pressure_pa)
        .map(at)
        .collect()
}

/// Magnitude of a force on the ring summed over the instants at which the side force on the piston turns \[N\]: there the piston crosses its
/// clearance and the ring, held by the bore, slides in its groove.
fn crossings_n(loads: &CycleLoads, down_n: &[f64]) -> f64 {
    let sides: Vec<(usize, f64)> = loads
        .forces
        .iter()
        .map(|force| force.side_n)
        .enumerate()
        .filter(|(_, side_n)| side_n.abs() > 1e-6) // at a dead centre only rounding is left
        .collect();
    let next = sides.iter().cycle().skip(1);
    let turns = sides
        .iter()
        .zip(next)
        .filter(|(from, to)| from.1 * to.1 < 0.0);
    turns
        .map(|(from, to)| {
            let share = from.1 / (from.1 - to.1);
            let force = down_n[from.0] + share * (down_n[to.0] - down_n[from.0]);
            force.abs()
        })
        .sum()
}

/// Force of the piston on its pin over the cycle, down positive \[N\]: gas less inertia of what lies above the pin.
fn boss_forces_n(spec: &Spec, loads: &CycleLoads) -> Vec<f64> {
    let own = spec.piston_mass_kg / spec.engine.reciprocating_mass_kg;
    let forces = loads.forces.iter();
    forces.map(|f| f.gas_n + own * f.inertia_n).collect()
}

fn pin_bore_pa_m(spec: &Spec, loads: &CycleLoads, boss_n: &[f64]) -> f64 {
    let swing = |angle: f64| loads.crank().rod_angle_rad(angle);
    let radius_m = 0.5 * spec.pin_diameter_m;
    let next = loads.angle_rad.iter().cycle().skip(1);
    let steps = loads.angle_rad.iter().zip(next).zip(boss_n);
    steps
        .map(|((from, to), force)| {
            let slid_m = (swing(*to) - swing(*from)).abs() * radius_m * BOSS_SWING_SHARE;
            force.abs() / spec.boss_area_m2() * slid_m
        })
        .sum()
}

/// Skirt films of one cycle; the metal's viscous work.
fn skirt(
    spec: &Spec,
    table: &GreenwoodTable,
    loads: &CycleLoads,
    viscosity_pa_s: f64,
    stride: usize,
) -> Cycle {
    let faces = [&spec.skirt, &spec.skirt_coat].map(|surface| face(spec, table, surface));
    let n = loads.forces.len();
    let step_s = loads.period_s() * stride as f64 / n as f64;
    let mut cycle = Cycle::default();
    for k in (0..n).step_by(stride) {
        let side_n = loads.forces[k].side_n;
        let crank = loads.crank();
        let speed = crank
            .velocity_m_s(loads.angle_rad[k], loads.speed_rad_s)
            .abs();
        let loaded = usize::from(side_n < 0.0);
        for (material, face) in faces.iter().enumerate() {
            let film = face.balance(side_n.abs(), viscosity_pa_s, speed);
            cycle.skirt_pa_m[loaded][material] += film.asperity_pa * speed * step_s;
            if material == 0 {
                cycle.viscous_j += film.drag_n * speed * step_s;
            }
        }
    }
    cycle
}

fn face<'a>(spec: &Spec, table: &'a GreenwoodTable, surface: &SkirtSurface) -> SkirtFace<'a> {
    SkirtFace {
        slider: Slider {
            length_m: spec.skirt_length_m,
            rise_m: spec.skirt_rise_m,
            supply_m: spec.skirt_oil_film_m,
        },
        contact: GreenwoodTripp {
            sigma_m: surface.rq_m.hypot(spec.bore_rq_m),
            radius_m: surface.summit_radius_m,
            density_per_m2: surface.summit_density_per_m2,
            modulus_pa: effective_modulus_pa(
                (surface.modulus_pa, POISSON),
                (spec.bore_modulus_pa, POISSON),
            ),
        },
        table,
        width_m: spec.skirt_width_m,
    }
}

/// Looks up a cycle at a speed \[rad/s\], a net indicated mean effective pressure \[Pa\] and a viscosity \[Pa·s\]; whether the map had to be
/// extrapolated.
pub fn look_up(
    map: &OperatingMap<'_>,
    speed_rad_s: f64,
    imep_pa: f64,
    viscosity_pa_s: f64,
) -> (Cycle, bool) {
    let mut values = [0.0; WIDTH];
    let off = map.look_up(speed_rad_s, imep_pa, &mut values);
    let place = libm::log2(viscosity_pa_s / FIRST_VISCOSITY_PA_S);
    let weights = Weights::new(place, VISCOSITIES);
    let between = |first: usize| -> f64 {
        let nodes = weights
            .nodes
            .iter()
            .zip(&values[first..first + VISCOSITIES]);
        nodes.map(|(weight, value)| weight * value).sum()
    };
    let dose = |index: usize| libm::exp(between(PLAIN + index * VISCOSITIES));
    let positive = |index: usize| values[index].max(0.0);
    let cycle = Cycle {
        crossing_pa: [positive(0), positive(1)],
        impact_j: [positive(2), positive(3)],
        flank_pa: positive(4),
        side_n: positive(5),
        boss_n: [values[6], values[7]],
        pin_bore_pa_m: positive(8),
        skirt_pa_m: [[dose(0), dose(1)], [dose(2), dose(3)]],
        viscous_j: between(PLAIN + DOSES).max(0.0),
    };
    (cycle, off)
}

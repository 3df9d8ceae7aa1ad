//! Loads on the joint between rod and cap, from gas and inertia over crank angle, as a map over operating points.
//!
//! The pin pulls on the cap or presses on the rod. When it pulls with a force P along the rod, the bolts carry P less what accelerates the
//! cap itself; when it presses, they only hold the cap: F = max(P, 0) − m r ω² cos ψ, with m the mass of the cap and ψ the angle from rod to throw.

use ringland_engine::{Block, CycleLoads, MapGrid, OperatingMap};
use ringland_mechanics::counting::rainflow;
use ringland_mechanics::engine::EngineError;
use ringland_plugin::Finding;

use crate::spec::{RodJoint, Spec};

/// Load of the joint of one rod over a cycle: its largest cycle and the second largest, rainflow-counted \[N\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct JointLoad {
    /// Highest load, then the top of the second cycle.
    pub peak_n: [f64; 2],
    /// Lowest load, then the bottom of the second cycle; negative when the cap is pressed on.
    pub valley_n: [f64; 2],
}

/// The grid of the map.
pub const GRID: MapGrid = MapGrid::usual(4, 1);

/// Solves the map.
///
/// # Errors
/// The operating point without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    ringland_engine::prepare(&spec.engine, &GRID, |loads| -> Result<_, EngineError> {
        let load = joint_load(loads, spec.cap_mass_kg);
        Ok([load.peak_n, load.valley_n].concat())
    })
}

/// Load of the joint over a solved cycle.
pub fn joint_load(loads: &CycleLoads, cap_mass_kg: f64) -> JointLoad {
    let trace: Vec<f64> = (0..loads.angle_rad.len())
        .filter_map(|point| joint_force_n(loads, cap_mass_kg, point))
        .collect();
    two_cycles(&trace)
}

/// Force that pulls the joint open at a point of the cycle \[N\].
pub fn joint_force_n(loads: &CycleLoads, cap_mass_kg: f64, point: usize) -> Option<f64> {
    let angle_rad = *loads.angle_rad.get(point)?;
    let crank = loads.crank();
    let throw_rad = angle_rad + crank.rod_angle_rad(angle_rad);
    let speed = loads.speed_rad_s;
    let cap_n = cap_mass_kg * crank.crank_radius_m * speed * speed;
    let pull_n = loads.pin_in_rod(point)?.along_n.max(0.0);
    Some(pull_n - cap_n * throw_rad.cos())
}

/// The two largest cycles of a periodic trace.
fn two_cycles(trace: &[f64]) -> JointLoad {
    let highest = (0..trace.len()).max_by(|&a, &b| trace[a].total_cmp(&trace[b]));
    let Some(start) = highest else {
        return JointLoad::default();
    };
    let peak_n = trace[start];
    let valley_n = trace.iter().copied().fold(peak_n, f64::min);
    // From peak to peak: what is left open at the end is the largest cycle, all else is closed in between.
    let once_round = [&trace[start..], &trace[..=start]].concat();
    let cycles = rainflow(&once_round).unwrap_or_default();
    let within = cycles.iter().filter(|cycle| cycle.count >= 1.0);
    let second = within.max_by(|a, b| a.range.total_cmp(&b.range));
    let (mean, half) = second.map_or((valley_n, 0.0), |c| (c.mean, 0.5 * c.range));
    JointLoad {
        peak_n: [peak_n, mean + half],
        valley_n: [valley_n, mean - half],
    }
}

/// What a block puts on one bolt.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BoltLoad {
    /// Cycles of the engine in the block.
    pub cycles: f64,
    /// External load at the top of the two cycles of each engine cycle \[N\], prying included.
    pub peak_n: [f64; 2],
    /// External load at their bottom \[N\].
    pub valley_n: [f64; 2],
    /// Change of preload by temperature \[N\].
    pub thermal_n: f64,
    /// Crank speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Whether the operating point lies off the map.
    pub extrapolated: bool,
}

/// Looks a block up. `None` when the engine stands or no time passes.
pub fn bolt_load(
    spec: &Spec,
    rod: &RodJoint,
    map: &OperatingMap<'_>,
    block: &Block,
) -> Option<BoltLoad> {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return None;
    }
    let load = at(spec, rod, map, block.speed_rad_s, map.imep_pa(block));
    Some(BoltLoad {
        cycles: block.cycles(),
        thermal_n: rod.joint.thermal_change_n(
            spec.grip_m(),
            spec.rod_expansion_per_k,
            spec.bolt_expansion_per_k,
            block.oil_k - spec.assembly_temp_k,
        ),
        ..load
    })
}

/// External load of one bolt at a crank speed \[rad/s\] and a net indicated mean effective pressure \[Pa\]. Above the map loads rise with the square of speed.
pub fn at(
    spec: &Spec,
    rod: &RodJoint,
    map: &OperatingMap<'_>,
    speed_rad_s: f64,
    imep_pa: f64,
) -> BoltLoad {
    let edge_rad_s = GRID.fastest * spec.engine.rated_speed_rad_s;
    let held_rad_s = speed_rad_s.min(edge_rad_s);
    let mut values = [0.0; 4];
    let off = map.look_up(held_rad_s, imep_pa, &mut values);
    let beyond = (speed_rad_s / held_rad_s).powi(2);
    let external_n = |value: f64| {
        let share_n = beyond * value / spec.bolts_per_rod;
        // The edge of the joint face is a lever only for a load that pulls.
        if share_n > 0.0 {
            rod.prying * share_n
        } else {
            share_n
        }
    };
    let [peak, second_peak, valley, second_valley] = values.map(external_n);
    BoltLoad {
        cycles: 0.0,
        peak_n: [peak, second_peak],
        // Interpolation may cross where both are near 0.
        valley_n: [valley.min(peak), second_valley.min(second_peak)],
        thermal_n: 0.0,
        speed_rad_s,
        extrapolated: off || speed_rad_s > edge_rad_s,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One large cycle with a smaller one inside: rainflow by hand.
    #[test]
    fn two_cycles_of_a_periodic_trace() {
        let trace = [0.0, 4.0, 1.0, 2.0, -3.0, 10.0, -1.0];
        let load = two_cycles(&trace);
        assert_eq!((load.peak_n, load.valley_n), ([10.0, 4.0], [-3.0, -1.0]));
        let single = two_cycles(&[0.0, 5.0, 0.0, -5.0]);
        assert_eq!((single.peak_n[0], single.valley_n[0]), (5.0, -5.0));
        assert!((single.peak_n[1] - single.valley_n[1]).abs() < 1e-12);
        assert_eq!(two_cycles(&[]), JointLoad::default());
    }
}

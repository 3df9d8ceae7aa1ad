//! Damage of one engine cycle over speed and load, clean and knocking.

use ringland_engine::{Block, CycleLoads, CycleSolver, MapGrid, OperatingMap};
use ringland_mechanics::counting::NotFinite;
use ringland_mechanics::engine::EngineError;
use ringland_plugin::{Finding, error};

use crate::constants::{KNOCK_MOST, KNOCK_RISE};
use crate::cycle_damage::{ZONES, single_amplitude_pa, stress_blocks, utilisation};
use crate::relaxation::{NODES, retained};
use crate::spec::{SITES, Spec};
use crate::stress::{peaks_n, traces};

/// Damages: for each site its surface layer, then what lies below.
pub const DAMAGES: usize = SITES * ZONES;
/// Values of a solved operating point: utilisation of each damage at each node of the retained share, peak tension and compression of the
/// beam, equivalent amplitude of each site.
const POINT: usize = DAMAGES * NODES + 2 + SITES;
const TENSION: usize = DAMAGES * NODES;
const COMPRESSION: usize = TENSION + 1;
const AMPLITUDE: usize = TENSION + 2;

/// The grid: clean combustion, then the largest knock.
pub const GRID: MapGrid = MapGrid::usual(2 * POINT, 1);

/// Prepares the map.
///
/// # Errors
/// The operating point without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    prepare_on(spec, &GRID)
}

/// [`prepare`] on a grid of one's own.
///
/// # Errors
/// The operating point without a solution.
pub fn prepare_on(spec: &Spec, grid: &MapGrid) -> Result<Vec<f64>, Vec<Finding>> {
    let solver = CycleSolver::new(&spec.engine, grid.points).map_err(|wrong| {
        let remedy = "correct the engine's geometry";
        vec![error(
            "spec",
            wrong.to_string().as_str(),
            "an engine that can be solved",
            remedy,
        )]
    })?;
    ringland_engine::prepare(&spec.engine, grid, |clean| {
        let knocking = solver.loads_with_knock(clean.speed_rad_s, clean.imep_pa, KNOCK_MOST)?;
        // A stress that is not finite has no damage: the map refuses the point.
        let solved = |loads| solve(spec, loads).unwrap_or_else(|_| vec![f64::NAN; POINT]);
        let mut values = solved(clean);
        values.extend(solved(&knocking));
        Ok::<_, EngineError>(values)
    })
}

/// Values of one operating point.
///
/// # Errors
/// A stress that is not finite.
pub fn solve(spec: &Spec, loads: &CycleLoads) -> Result<Vec<f64>, NotFinite> {
    let mut values = vec![0.0; POINT];
    (values[TENSION], values[COMPRESSION]) = peaks_n(loads);
    for (index, site) in spec.sites.iter().enumerate() {
        for trace in traces(spec, loads, index) {
            let blocks = stress_blocks(&trace)?;
            let amplitude_pa = single_amplitude_pa(&blocks, spec.slope);
            values[AMPLITUDE + index] = values[AMPLITUDE + index].max(amplitude_pa);
            for node in 0..NODES {
                let zones = utilisation(site, &blocks, retained(node), spec.slope);
                for (zone, share) in zones.into_iter().enumerate() {
                    let value = &mut values[(index * ZONES + zone) * NODES + node];
                    *value = value.max(share);
                }
            }
        }
    }
    Ok(values)
}

/// Values at full load and rated speed: largest tension of the beam \[N\] and equivalent amplitude of each site \[Pa\].
pub fn full_load(spec: &Spec, map: &OperatingMap<'_>) -> (f64, [f64; SITES]) {
    let mut values = [0.0; 2 * POINT];
    let engine = &spec.engine;
    map.look_up(
        engine.rated_speed_rad_s,
        engine.full_load_imep_pa,
        &mut values,
    );
    let mut amplitude_pa = [0.0; SITES];
    amplitude_pa.copy_from_slice(&values[AMPLITUDE..POINT]);
    (values[TENSION], amplitude_pa)
}

/// What one engine cycle does at an operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Damage at each node of the retained share.
    pub damage: [[f64; NODES]; DAMAGES],
    /// Largest tension of the beam \[N\].
    pub tension_n: f64,
    /// Largest compression of the beam \[N\].
    pub compression_n: f64,
    /// Whether the point lies off the map.
    pub extrapolated: bool,
}

/// Peak pressure over that of clean combustion.
fn knock_multiplier(level: f64) -> f64 {
    (1.0 + KNOCK_RISE * level).min(KNOCK_MOST)
}

/// Looks up a block of duty.
///
/// # Errors
/// A slope out of range.
pub fn look_up(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Result<Looked, Vec<Finding>> {
    let mut values = [0.0; 2 * POINT];
    let imep_pa = map.imep_pa(block);
    let extrapolated = map.look_up(block.speed_rad_s, imep_pa, &mut values);
    let knock = (knock_multiplier(block.knock_level) - 1.0) / (KNOCK_MOST - 1.0);
    let (clean, knocking) = values.split_at(POINT);
    let mixed = |index: usize| {
        let (clean, knocking) = (clean[index], knocking[index]);
        // Interpolation may dip below 0 where there is next to nothing.
        (clean + (knocking - clean) * knock).max(0.0)
    };
    let line = spec.line().map_err(|wrong| {
        vec![error(
            "slope",
            wrong.value,
            wrong.expected,
            "correct the spec",
        )]
    })?;
    let mut damage = [[0.0; NODES]; DAMAGES];
    for (row, nodes) in damage.iter_mut().enumerate() {
        for (node, value) in nodes.iter_mut().enumerate() {
            *value = line.damage(mixed(row * NODES + node), 1.0);
        }
    }
    Ok(Looked {
        damage,
        tension_n: mixed(TENSION),
        compression_n: mixed(COMPRESSION),
        extrapolated,
    })
}

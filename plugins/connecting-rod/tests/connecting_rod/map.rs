//! Convergence: the traced cycle, the map against direct solutions, relaxation nodes.

use ringland_engine::{Block, CycleSolver, MapGrid, OperatingMap, POINTS};
use ringland_plugin_connecting_rod::constants::RELAXATION;
use ringland_plugin_connecting_rod::cycle_damage::{stress_blocks, utilisation};
use ringland_plugin_connecting_rod::operating_map::{
    DAMAGES, GRID, Looked, look_up, prepare_on, solve,
};
use ringland_plugin_connecting_rod::relaxation::{NODES, retained, weights};
use ringland_plugin_connecting_rod::spec::{Spec, site};
use ringland_plugin_connecting_rod::stress::traces;

use ringland_trials::engine;

use crate::scenario::{peened, treated};

fn blocks() -> Vec<Block> {
    let block = |&(rpm, torque_n_m, minutes): &(f64, f64, f64)| Block {
        time_s: 60.0 * minutes,
        speed_rad_s: rpm * std::f64::consts::PI / 30.0,
        torque_n_m,
        ..Block::default()
    };
    engine::EVENT.iter().map(block).collect()
}

/// Damage of the event at the second node of retention.
fn total(of: impl Fn(&Block) -> [f64; DAMAGES]) -> [f64; DAMAGES] {
    blocks().iter().fold([0.0; DAMAGES], |mut sum, block| {
        for (sum, each) in sum.iter_mut().zip(of(block)) {
            *sum += block.cycles() * each;
        }
        sum
    })
}

fn looked(spec: &Spec, map: &OperatingMap<'_>) -> [f64; DAMAGES] {
    let at = |looked: Looked| looked.damage.map(|nodes| nodes[1]);
    total(|block| at(look_up(spec, map, block).unwrap()))
}

fn direct(spec: &Spec, map: &OperatingMap<'_>, points: usize) -> [f64; DAMAGES] {
    let solver = CycleSolver::new(&spec.engine, points).unwrap();
    let line = spec.line().unwrap();
    total(|block| {
        let loads = solver.loads(block.speed_rad_s, map.imep_pa(block)).unwrap();
        let values = solve(spec, &loads).unwrap();
        std::array::from_fn(|row| line.damage(values[row * NODES + 1], 1.0))
    })
}

fn changes(name: &str, of: &[f64; DAMAGES], against: &[f64; DAMAGES], most: f64) {
    let change: Vec<f64> = of
        .iter()
        .zip(against)
        .map(|(a, b)| 100.0 * (a / b - 1.0))
        .collect();
    println!("{name}: {change:.2?} %");
    assert!(
        change.iter().all(|percent| percent.abs() < 100.0 * most),
        "{name}: {change:?}"
    );
}

#[test]
fn step_and_grid_of_the_map_are_fine_enough() {
    let spec = Spec::read(&treated()).unwrap();
    let map = OperatingMap::read(&peened().map, &spec.engine, &GRID).unwrap();
    let coarse = direct(&spec, &map, POINTS);
    changes(
        "cycle in 2 deg against 1 deg",
        &coarse,
        &direct(&spec, &map, 2 * POINTS),
        0.01,
    );
    changes(
        "look-up against direct solution",
        &looked(&spec, &map),
        &coarse,
        0.06,
    );
    let finer = MapGrid {
        speeds: 17,
        loads: 11,
        ..GRID
    };
    let values = prepare_on(&spec, &finer).unwrap();
    let fine = OperatingMap::read(&values, &spec.engine, &finer).unwrap();
    changes(
        "grid against half its spacing",
        &looked(&spec, &map),
        &looked(&spec, &fine),
        0.06,
    );
    println!("map: {} numbers", peened().map.len());
    assert!(8 * peened().map.len() < 1_000_000);
}

/// Damage with retention straight between its nodes against the same integral with the retention of each cycle.
#[test]
fn nodes_of_retention_are_close_enough() {
    let spec = Spec::read(&treated()).unwrap();
    let solver = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let loads = solver.loads(780.0, 2.9e6).unwrap();
    let blocks = stress_blocks(&traces(&spec, &loads, site::SHOULDER)[0]).unwrap();
    let line = spec.line().unwrap();
    let rate = |retained| {
        let [surface, core] =
            utilisation(&spec.sites[site::SHOULDER], &blocks, retained, spec.slope);
        [line.damage(surface, 1.0), line.damage(core, 1.0)]
    };
    let cycles = 2.0e7;
    for zone in 0..2 {
        let nodes = weights(0.0, cycles);
        let by_nodes: f64 = (0..NODES).map(|k| nodes[k] * rate(retained(k))[zone]).sum();
        let steps = 2000;
        let sum: f64 = (0..steps)
            .map(|k| {
                // Even in the root, so that the first cycles are met.
                let edge = |k: i32| cycles * (f64::from(k) / f64::from(steps)).powi(2);
                let (from, to) = (edge(k), edge(k + 1));
                rate(RELAXATION.retained(0.5 * (from + to)))[zone] * (to - from)
            })
            .sum();
        let change = by_nodes / sum - 1.0;
        println!("retention nodes, zone {zone}: {:+.2} %", 100.0 * change);
        assert!(change.abs() < 0.02, "{change}");
    }
}

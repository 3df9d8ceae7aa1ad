//! Maps against direct solutions, and grids against finer ones.

use ringland_engine::valvetrain::{SpeedGrid, TrainSolver};
use ringland_engine::{Block, CycleSolver, MapGrid, POINTS};
use ringland_plugin_valve::duty::Look;
use ringland_plugin_valve::maps::{GAS_GRID, Maps, TURN_GRID, prepare_on, turn};
use ringland_plugin_valve::spec::Spec;
use ringland_plugin_valve::{card::slot, gas};
use ringland_trials::engine::{EVENT, rad_s};

use crate::scenario::{WORN, exhaust, plain};

/// What the event does on maps of given grids.
fn event_on(gas_grid: &MapGrid, turn_grid: &SpeedGrid) -> [f64; slot::COUNT] {
    let spec = Spec::read(&exhaust()).unwrap();
    let prepared = prepare_on(&spec, gas_grid, turn_grid).unwrap();
    let maps = Maps::read_on(&prepared, &spec, gas_grid, turn_grid).unwrap();
    let look = Look::new(&spec, &maps, spec.train.seat_load_n).unwrap();
    let mut sum = [0.0; slot::COUNT];
    for (rpm, torque_n_m, minutes) in EVENT {
        let block = Block {
            time_s: 60.0 * minutes,
            speed_rad_s: rad_s(rpm),
            torque_n_m,
            ..Block::default()
        };
        let added = look.block(&block, 1123.0);
        for (total, value) in sum.iter_mut().zip(added.slots) {
            *total += value;
        }
    }
    sum
}

fn apart(name: &str, usual: &[f64], finer: &[f64], most: f64) {
    for slot in WORN {
        let error = usual[slot] / finer[slot] - 1.0;
        println!("{name}, slot {slot}: {:.2} %", 100.0 * error);
        assert!(error.abs() < most, "{name}, slot {slot}: {error}");
    }
}

/// Grid of the gas against half its spacing: every slot of the event within 2 %.
#[test]
fn the_gas_map_has_converged() {
    let finer = MapGrid {
        speeds: 2 * GAS_GRID.speeds - 1,
        loads: 2 * GAS_GRID.loads - 1,
        ..GAS_GRID
    };
    let usual = event_on(&GAS_GRID, &TURN_GRID);
    apart("gas grid", &usual, &event_on(&finer, &TURN_GRID), 0.06);
    let steps = MapGrid {
        points: 2 * POINTS,
        ..GAS_GRID
    };
    apart("crank steps", &usual, &event_on(&steps, &TURN_GRID), 0.04);
}

/// Grid of the motion against half its spacing.
#[test]
fn the_motion_map_has_converged() {
    let finer = SpeedGrid {
        speeds: 2 * TURN_GRID.speeds - 1,
        ..TURN_GRID
    };
    let usual = event_on(&GAS_GRID, &TURN_GRID);
    apart("motion grid", &usual, &event_on(&GAS_GRID, &finer), 0.10);
}

/// Between nodes: temperature, seating and dose against direct solutions.
#[test]
fn between_nodes_the_maps_agree_with_the_solutions() {
    let spec = Spec::read(&exhaust()).unwrap();
    let maps = Maps::read(&plain().map, &spec).unwrap();
    let gases = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let train = TrainSolver::new(&spec.train);
    let mut worst = [0.0_f64; 4];
    for (rpm, imep_pa) in [
        (2700.0, 0.6e6),
        (5210.0, 1.7e6),
        (6830.0, 3.0e6),
        (8130.0, 2.6e6),
    ] {
        let (found, off) = maps.gas_at(rad_s(rpm), imep_pa);
        let solved = gas::solve(&spec.engine, &gases.loads(rad_s(rpm), imep_pa).unwrap());
        assert!(!off);
        let cycle = train.cycle(rad_s(rpm), spec.train.seat_load_n).unwrap();
        let direct = turn(&spec, spec.stem().peak_n_s_m(), &cycle).unwrap();
        let (motion, off) = maps.turn_at(rad_s(rpm), spec.train.seat_load_n);
        assert!(!off);
        let errors = [
            found.face_w_m2_k / solved.face_w_m2_k - 1.0,
            found.creep_pressure_pa(4.5) / solved.creep_pressure_pa(4.5) - 1.0,
            motion.dose_n_m[0] / direct.dose_n_m[0] - 1.0,
            motion.impacts_m2_s2 / direct.impacts_m2_s2 - 1.0,
        ];
        for (worst, error) in worst.iter_mut().zip(errors) {
            *worst = worst.max(error.abs());
        }
    }
    println!("heat transfer, creep pressure, dose, landings: {worst:.4?}");
    for (worst, most) in worst.iter().zip([0.02, 0.02, 0.03, 0.15]) {
        assert!(*worst < most, "{worst} {most}");
    }
}

/// The map of the motion also holds a spring that has lost a quarter: there it agrees with the solution.
#[test]
fn a_slack_spring_is_on_the_map() {
    let spec = Spec::read(&exhaust()).unwrap();
    let maps = Maps::read(&plain().map, &spec).unwrap();
    let speed = TURN_GRID.speed_rad_s(&spec.train, 120);
    let load_n = 0.75 * spec.train.seat_load_n;
    let cycle = TrainSolver::new(&spec.train).cycle(speed, load_n).unwrap();
    let direct = turn(&spec, spec.stem().peak_n_s_m(), &cycle).unwrap();
    let (found, off) = maps.turn_at(speed, load_n);
    assert!(!off && (found.impacts_m2_s2 / direct.impacts_m2_s2 - 1.0).abs() < 1e-9);
    assert!(maps.turn_at(speed, 0.5 * spec.train.seat_load_n).1);
}

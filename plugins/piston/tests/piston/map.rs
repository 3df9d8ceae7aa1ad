//! Convergence of the solution and error of the map.

use std::f64::consts::PI;

use ringland_engine::{Block, CycleSolver, OperatingMap};
use ringland_mechanics::contact::GreenwoodTable;
use ringland_plugin_piston::duty::{Temperatures, boss_damage, knock_multiplier, viscosity_pa_s};
use ringland_plugin_piston::solve::{Cycle, GRID, SKIRT_STRIDE, direct, look_up};
use ringland_plugin_piston::spec::Spec;

use ringland_trials::engine::EVENT;

use crate::scenario::plain;

fn block((rpm, torque_n_m, minutes): (f64, f64, f64)) -> Block {
    Block {
        time_s: 60.0 * minutes,
        speed_rad_s: rpm * PI / 30.0,
        torque_n_m,
        ..Block::default()
    }
}

/// Doses of a cycle in the order compared: top and second crossing, top impact, pin bore, skirt metal thrust, mean side, boss amplitude.
fn compared(cycle: &Cycle) -> [f64; 7] {
    [
        cycle.crossing_pa[0],
        cycle.crossing_pa[1],
        cycle.impact_j[0],
        cycle.pin_bore_pa_m,
        cycle.skirt_pa_m[0][0],
        cycle.side_n,
        cycle.boss_n[0] - cycle.boss_n[1],
    ]
}

/// Sum over the points of the event of each dose times cycles.
fn over_event(of: impl Fn(&Spec, &OperatingMap<'_>, &Block) -> Cycle) -> [f64; 7] {
    let spec = Spec::read(&plain().specimen).unwrap();
    let map = OperatingMap::read(&plain().map, &spec.engine, &GRID).unwrap();
    let mut sum = [0.0; 7];
    for point in EVENT.map(block) {
        let cycle = of(&spec, &map, &point);
        for (sum, dose) in sum.iter_mut().zip(compared(&cycle)) {
            *sum += dose * point.cycles();
        }
    }
    sum
}

fn viscosity(spec: &Spec, map: &OperatingMap<'_>, point: &Block) -> f64 {
    let temperatures = Temperatures::new(spec, point, map.imep_pa(point));
    viscosity_pa_s(spec, point, &temperatures)
}

fn solved(points: usize, stride: usize) -> [f64; 7] {
    let table = GreenwoodTable::new();
    over_event(|spec, map, point| {
        let solver = CycleSolver::new(&spec.engine, points).unwrap();
        let loads = solver.loads(point.speed_rad_s, map.imep_pa(point)).unwrap();
        direct(spec, &table, &loads, viscosity(spec, map, point), stride)
    })
}

/// Steps of 2° (skirt 8°) against 0.5° (skirt 1°): stated in the README.
#[test]
fn steps_are_fine_enough() {
    let coarse = solved(GRID.points, SKIRT_STRIDE);
    let (middle, fine) = (solved(720, 4), solved(1440, 2));
    let error =
        |a: &[f64; 7]| -> Vec<f64> { a.iter().zip(&fine).map(|(a, b)| a / b - 1.0).collect() };
    println!(
        "2 deg {:+.4?}\n1 deg {:+.4?} against 0.5 deg",
        error(&coarse),
        error(&middle)
    );
    for (k, (coarse, middle)) in error(&coarse).iter().zip(error(&middle)).enumerate() {
        assert!(coarse.abs() < 0.02, "{k} {coarse}");
        assert!(middle.abs() < coarse.abs().max(5e-3), "{k} {middle}");
    }
}

/// Map against direct solution over the default event.
#[test]
fn interpolation_error() {
    let looked = over_event(|spec, map, point| {
        look_up(
            map,
            point.speed_rad_s,
            map.imep_pa(point),
            viscosity(spec, map, point),
        )
        .0
    });
    let direct = solved(GRID.points, SKIRT_STRIDE);
    let errors: Vec<f64> = looked
        .iter()
        .zip(&direct)
        .map(|(a, b)| a / b - 1.0)
        .collect();
    println!("map against direct over the event {errors:+.4?}");
    assert!(errors.iter().all(|error| error.abs() < 0.05), "{errors:?}");
}

/// Knock as the engine's loads have it (peak multiplied) against what the look-up adds to the boss force.
#[test]
fn knock_on_the_boss_agrees_with_the_loads() {
    let spec = Spec::read(&plain().specimen).unwrap();
    let table = GreenwoodTable::new();
    let solver = CycleSolver::new(&spec.engine, 720).unwrap();
    let multiplier = knock_multiplier(3.0);
    let clean = solver.loads(700.0, 2.8e6).unwrap();
    let knocking = solver.loads_with_knock(700.0, 2.8e6, multiplier).unwrap();
    let high = |loads| direct(&spec, &table, loads, 6e-3, 4).boss_n;
    let area_m2 = 0.25 * PI * spec.engine.bore_m.powi(2);
    let added_n = (multiplier - 1.0) * clean.peak_pressure_pa * area_m2;
    let (with, without) = (high(&knocking), high(&clean));
    let error = (without[0] + added_n) / with[0] - 1.0;
    println!("boss force with knock: look-up over solution {error:+.4}");
    assert!(error.abs() < 0.01, "{error}");
    let damage = |boss_n| boss_damage(&spec, boss_n, 480.0, 1e5);
    assert!(damage(with) > damage(without));
}

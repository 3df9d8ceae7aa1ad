//! Convergence of the solution and error of the map.

use std::f64::consts::PI;

use ringland_engine::{Block, CycleSolver, OperatingMap};
use ringland_mechanics::contact::GreenwoodTable;
use ringland_plugin_piston_pin::duty::{knock_multiplier, viscosity_pa_s};
use ringland_plugin_piston_pin::solve::{Cycle, GRID, direct, look_up};
use ringland_plugin_piston_pin::spec::Spec;

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

/// Over the points of the event: sum of dose times cycles, highest severity, sum of force range times cycles.
fn over_event(of: impl Fn(&Spec, &OperatingMap<'_>, &Block) -> Cycle) -> [f64; 3] {
    let spec = Spec::read(&plain().specimen).unwrap();
    let map = OperatingMap::read(&plain().map, &spec.engine, &GRID).unwrap();
    let mut sum = [0.0; 3];
    for point in EVENT.map(block) {
        let cycle = of(&spec, &map, &point);
        sum[0] += cycle.dose_pa_m * point.cycles();
        sum[1] = f64::max(sum[1], cycle.severity_w_m2);
        sum[2] += (cycle.force_n[0] - cycle.force_n[1]) * point.cycles();
    }
    sum
}

fn solved(points: usize, knock: f64) -> [f64; 3] {
    let table = GreenwoodTable::new();
    over_event(|spec, map, point| {
        let solver = CycleSolver::new(&spec.engine, points).unwrap();
        let imep_pa = map.imep_pa(point);
        let loads = solver.loads(point.speed_rad_s, imep_pa).unwrap();
        let viscosity = viscosity_pa_s(spec, point, imep_pa);
        direct(spec, &table, &loads, knock, viscosity).unwrap().0
    })
}

fn errors(found: &[f64; 3], right: &[f64; 3]) -> [f64; 3] {
    std::array::from_fn(|k| found[k] / right[k] - 1.0)
}

/// Steps of 2° against 0.5°: stated in the README.
#[test]
fn steps_are_fine_enough() {
    let (coarse, middle, fine) = (solved(360, 1.0), solved(720, 1.0), solved(1440, 1.0));
    let (coarse, middle) = (errors(&coarse, &fine), errors(&middle, &fine));
    println!("2 deg {coarse:+.4?}\n1 deg {middle:+.4?} against 0.5 deg");
    for (coarse, middle) in coarse.iter().zip(middle) {
        assert!(coarse.abs() < 0.05, "{coarse}");
        assert!(middle.abs() < coarse.abs().max(1e-3), "{middle} {coarse}");
    }
}

/// Map against direct solution over the default event, clean and with knock between the nodes.
#[test]
fn interpolation_error() {
    for level in [0.0, 3.0] {
        let peak = knock_multiplier(level);
        let looked = over_event(|spec, map, point| {
            let imep_pa = map.imep_pa(point);
            let viscosity = viscosity_pa_s(spec, point, imep_pa);
            look_up(map, point.speed_rad_s, imep_pa, viscosity, peak).0
        });
        let errors = errors(&looked, &solved(GRID.points, peak));
        println!("map against direct over the event, knock level {level}: {errors:+.4?}");
        assert!(errors.iter().all(|error| error.abs() < 0.06), "{errors:?}");
    }
}

/// Shares of the load on asperities at the event's points, printed; between none and all.
#[test]
fn contact_shares() {
    let spec = Spec::read(&plain().specimen).unwrap();
    let map = OperatingMap::read(&plain().map, &spec.engine, &GRID).unwrap();
    let solver = CycleSolver::new(&spec.engine, GRID.points).unwrap();
    let table = GreenwoodTable::new();
    for point in EVENT.map(block) {
        let imep_pa = map.imep_pa(&point);
        let loads = solver.loads(point.speed_rad_s, imep_pa).unwrap();
        let viscosity = viscosity_pa_s(&spec, &point, imep_pa);
        let (cycle, bush) = direct(&spec, &table, &loads, 1.0, viscosity).unwrap();
        println!(
            "{:4.0} rad/s {imep_pa:.2e} Pa: force {:6.0} to {:6.0} N, contact share {:.3}, least gap {:.2} um",
            point.speed_rad_s,
            cycle.force_n[1],
            cycle.force_n[0],
            bush.contact_share,
            1e6 * bush.least_m
        );
        assert!((0.0..=1.0).contains(&bush.contact_share));
    }
}

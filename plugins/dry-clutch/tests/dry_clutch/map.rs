//! Convergence: cells and steps, and the map against direct solutions.

use ringland_plugin_dry_clutch::response_map::{ResponseMap, prepare, prepare_on};
use ringland_plugin_dry_clutch::spec::Spec;
use ringland_plugin_dry_clutch::stack::{GRID, Grid, Response, Stack};

use crate::clutches::{carbon, organic, sintered};

/// Peak of a face, mean of a plate, hot band, sums over the faces, bending of both plates.
fn figures(response: &Response) -> [f64; 6] {
    [
        response.face_peak,
        response.plate_mean,
        response.band,
        response.faces.iter().flatten().sum(),
        response.floater.peak,
        response.pressure_plate.peak,
    ]
}

fn worst(of: [f64; 6], against: [f64; 6]) -> f64 {
    let change = of.iter().zip(against).map(|(a, b)| (a / b - 1.0).abs());
    change.fold(0.0, f64::max)
}

/// Cells and steps doubled. A launch lasts a second or more; a tenth of that is the shortest of any use.
#[test]
fn the_grid_is_fine_enough() {
    for (name, specimen) in [
        ("sintered", sintered()),
        ("organic", organic()),
        ("carbon", carbon()),
    ] {
        let spec = Spec::read(&specimen).unwrap();
        let twice = Grid {
            cells: 2 * GRID.cells,
            steps: 2 * GRID.steps,
        };
        let (coarse, fine) = (prepare(&spec), prepare_on(&spec, twice));
        let coarse = ResponseMap::read(&coarse, &spec).unwrap();
        let fine = ResponseMap::read(&fine, &spec).unwrap();
        let change = |duration_s: f64, hold: f64| {
            let (a, b) = (
                coarse.look_up(duration_s, hold).0,
                fine.look_up(duration_s, hold).0,
            );
            worst(figures(&a), figures(&b))
        };
        let launch = change(1.6, 0.0).max(change(1.0, 0.0)).max(change(3.0, 1.0));
        let short = change(0.1, 0.0).max(change(0.3, 0.5));
        println!(
            "{name}: cells and steps doubled {:.2} % from 1 s on, {:.2} % from 0.1 s on",
            100.0 * launch,
            100.0 * short
        );
        assert!(launch < 0.015 && short < 0.05, "{name} {launch} {short}");
    }
}

/// Between the durations and shapes of the map. What bends a floater is little after a long slip: it is held against what bends the pressure plate.
#[test]
fn the_map_agrees_with_direct_solutions() {
    let spec = Spec::read(&sintered()).unwrap();
    let prepared = prepare(&spec);
    let map = ResponseMap::read(&prepared, &spec).unwrap();
    let stack = Stack::new(&spec, GRID.cells);
    let mut off = [0.0_f64; 6];
    for duration_s in [0.06, 0.12, 0.33, 0.8, 1.2, 1.6, 2.9, 6.0, 13.0, 20.0] {
        for hold in [0.0, 0.17, 0.5, 0.9] {
            let (looked_up, outside) = map.look_up(duration_s, hold);
            assert!(!outside);
            let direct = figures(&stack.response(duration_s, hold, GRID.steps));
            let mut scale = direct;
            scale[4] = scale[5];
            for (index, value) in figures(&looked_up).into_iter().enumerate() {
                let apart = (value - direct[index]).abs() / scale[index];
                off[index] = off[index].max(apart);
            }
        }
    }
    let percent = off.map(|off| 100.0 * off);
    println!("map against direct solutions, largest: {percent:.2?} %");
    let floater = off[4];
    off[4] = 0.0;
    assert!(
        off.iter().all(|off| *off < 0.015) && floater < 0.05,
        "{off:?} {floater}"
    );
    // Beyond the map the longest stands in, which is hotter.
    let (longest, outside) = map.look_up(100.0, 0.0);
    let direct = stack.response(100.0, 0.0, 200);
    assert!(outside && longest.band >= direct.band);
}

//! Convergence, and the map against direct solutions: `cargo test --release -p ringland-plugin-spring-retainer map -- --nocapture`.

use ringland_engine::valvetrain::{SpeedMap, TrainSolver};
use ringland_plugin_spring_retainer::operating_map::{GRID, look_up};
use ringland_plugin_spring_retainer::spec::{GRIPPING, Spec};
use ringland_plugin_spring_retainer::turn::{Bodies, Turn};
use ringland_trials::engine::{EVENT, rad_s};

use crate::scenario::{bare, untreated};

/// Doses of taper and seat and flange damage over the event, by any way to get a turn at a speed.
fn over_the_event(turn: impl Fn(f64) -> Turn) -> [f64; 3] {
    let mut sums = [0.0; 3];
    for (rpm, _, minutes) in EVENT {
        let (turn, turns) = (turn(rad_s(rpm)), 0.5 * rpm * minutes);
        let [mean, _] = turn.taper_pa_m;
        for (sum, each) in sums.iter_mut().zip([mean, turn.seat_pa_m, turn.flange]) {
            *sum += turns * each;
        }
    }
    sums
}

fn direct(spec: &Spec, grid: Option<(usize, usize)>) -> [f64; 3] {
    let bodies = Bodies::new(spec).unwrap();
    let bodies = match grid {
        Some((cells, steps)) => bodies.with_grid(cells, steps),
        None => bodies,
    };
    let solver = TrainSolver::new(&spec.train);
    over_the_event(|speed| {
        let cycle = solver.cycle(speed, spec.train.seat_load_n).unwrap();
        bodies.turn(&cycle).unwrap()
    })
}

fn off(found: [f64; 3], fine: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|k| found[k] / fine[k] - 1.0)
}

#[test]
fn map_cells_and_steps_of_the_taper() {
    let spec = Spec::read(&untreated()).unwrap();
    let fine = direct(&spec, Some((96, 16)));
    let (usual, half) = (
        off(direct(&spec, None), fine),
        off(direct(&spec, Some((48, 8))), fine),
    );
    println!(
        "taper dose over the event against 96 cells, 16 steps: usual {:+.2} %, halved {:+.2} %",
        100.0 * usual[0],
        100.0 * half[0]
    );
    assert!(usual[0].abs() < 0.02 && half[0].abs() <= usual[0].abs() + 1e-4);
}

#[test]
fn map_against_direct_solutions() {
    let spec = Spec::read(&untreated()).unwrap();
    let map = SpeedMap::read(&bare().map, &spec.train, &GRID).unwrap();
    let looked = over_the_event(|speed| look_up(&spec, &map, speed).0);
    let off = off(looked, direct(&spec, None)).map(|off| 100.0 * off);
    println!(
        "map against direct over the event: taper {:+.2} %, seat {:+.2} %, flange {:+.2} %",
        off[0], off[1], off[2]
    );
    assert!(
        off[0].abs() < 3.0 && off[1].abs() < 3.0 && off[2].abs() < 15.0,
        "{off:?}"
    );
    println!("{} numbers", bare().map.len());
    assert_eq!(bare().map.len(), GRID.length());
}

/// Beyond the map values are held, and said to be.
#[test]
fn off_the_map_is_told() {
    let spec = Spec::read(&untreated()).unwrap();
    let map = SpeedMap::read(&bare().map, &spec.train, &GRID).unwrap();
    let limiter = spec.train.limiter_speed_rad_s;
    let (last, inside) = look_up(&spec, &map, 1.35 * limiter);
    let (beyond, outside) = look_up(&spec, &map, 1.6 * limiter);
    assert!(!inside && outside && last == beyond);
}

/// No slip is assumed: the axial force alone hardly slides a taper that its friction holds; the stem that the rocker bends in the keepers makes it slide by the
/// tenths of a micrometre to some micrometres that fretting is commonly given (common practice, no source: 0.3 to 5 um).
#[test]
fn map_what_slides() {
    let spec = Spec::read(&untreated()).unwrap();
    let straight = Spec {
        locks: 1 - GRIPPING,
        ..spec.clone()
    };
    let solver = TrainSolver::new(&spec.train);
    let slid = |spec: &Spec, rpm: f64| {
        let cycle = solver.cycle(rad_s(rpm), spec.train.seat_load_n).unwrap();
        Bodies::new(spec).unwrap().turn(&cycle).unwrap().slid_m
    };
    for rpm in [1500.0, 6250.0, 8400.0] {
        let (bent, straight) = (slid(&spec, rpm), slid(&straight, rpm));
        println!(
            "{rpm} 1/min: slides {:.3} um to and fro, {:.4} um without bending (free keepers)",
            1e6 * bent,
            1e6 * straight
        );
        assert!(straight < 0.05 * bent && (0.02e-6..5.0e-6).contains(&bent));
    }
}

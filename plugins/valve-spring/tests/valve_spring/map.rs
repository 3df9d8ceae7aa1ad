//! Convergence: the map against direct solutions and finer grids, stations, points and steps.

use ringland_engine::valvetrain::{SpeedGrid, SpeedMap, TrainSolver};
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::spec::Spec;
use ringland_plugin_valve_spring::speed_map::{GRID, prepare_on, turn_at};
use ringland_plugin_valve_spring::turn::Turn;
use ringland_trials::engine::{EVENT, rad_s};

use crate::springs::{delivered, moderate};

/// Damage of the default event's points, surface and core, with a turn for each speed.
fn event_damage(spec: &Spec, turn: impl Fn(f64) -> Turn) -> [f64; 2] {
    let mut sum = [0.0; 2];
    for (rpm, _, minutes) in EVENT {
        let turns = 0.5 * rpm * minutes;
        for (sum, used) in sum.iter_mut().zip(turn(rad_s(rpm)).utilisation) {
            *sum += turns * spec.wire.damage(used);
        }
    }
    sum
}

#[test]
fn the_map_is_the_direct_solution() {
    for springs in [delivered(), moderate()] {
        let spec = Spec::read(&springs.specimen).unwrap();
        let map = SpeedMap::read(&springs.map, &spec.train, &GRID).unwrap();
        let solver = TrainSolver::new(&spec.train);
        for share in [1.0, 0.9] {
            let load_n = share * spec.train.seat_load_n;
            let looked = event_damage(&spec, |speed| turn_at(&map, speed, load_n).0);
            let solved = event_damage(&spec, |speed| {
                Turn::of(&spec, &solver.cycle(speed, load_n).unwrap()).unwrap()
            });
            let off = [0, 1].map(|zone| looked[zone] / solved[zone] - 1.0);
            println!(
                "{share} of the seat load: map over direct solution of the event, surface and core {off:.3?}"
            );
            assert!(off.iter().all(|off| off.abs() < 0.15), "{off:?}");
        }
    }
}

/// Every sixth node left out and replaced by its neighbours' mean: what half the spacing would change is less.
#[test]
fn a_grid_of_half_the_spacing_changes_little() {
    let spec = Spec::read(&delivered().specimen).unwrap();
    let window = |speeds| SpeedGrid {
        speeds,
        slowest: 0.80,
        fastest: 0.98,
        ..GRID
    };
    let damage = |grid: &SpeedGrid| {
        let prepared = prepare_on(&spec, grid).unwrap();
        let map = SpeedMap::read(&prepared, &spec.train, grid).unwrap();
        // Time spread evenly over the window: what a log of a race has.
        let speeds =
            (0..=180).map(|k| spec.train.limiter_speed_rad_s * (0.80 + 0.001 * f64::from(k)));
        speeds
            .map(|speed| {
                spec.wire
                    .damage(turn_at(&map, speed, spec.train.seat_load_n).0.utilisation[0])
            })
            .sum::<f64>()
    };
    let (used, finer) = (damage(&window(25)), damage(&window(49)));
    println!(
        "spacing 0.75 % over half of it, damage over 7050 to 8400 1/min: {:.4}",
        used / finer
    );
    assert!((used / finer - 1.0).abs() < 0.10);
}

/// Every second instant of the turn is enough: peaks are well resolved.
#[test]
fn half_the_instants_change_little() {
    let spec = Spec::read(&delivered().specimen).unwrap();
    let solver = TrainSolver::new(&spec.train);
    for rpm in [7250.0, 8000.0] {
        let whole = solver.cycle(rad_s(rpm), spec.train.seat_load_n).unwrap();
        let mut half = whole.clone();
        half.instants = whole.instants.iter().step_by(2).copied().collect();
        let [all, some] = [&whole, &half].map(|cycle| {
            spec.wire
                .damage(Turn::of(&spec, cycle).unwrap().utilisation[0])
        });
        println!(
            "{rpm} 1/min: every second instant over all {:.4}",
            some / all
        );
        assert!((some / all - 1.0).abs() < 0.02);
    }
}

/// The condition after ten events, one by one, against the forecast's path: the seat load read ahead is that of the records that come.
#[test]
fn forecast_and_records_agree() {
    let springs = delivered();
    let event = ringland_trials::engine::event::<ValveSpring>();
    let forecast = springs.forecast(&springs.begin(), &event);
    for (ahead, events) in [(1, 1), (2, 3), (3, 6)] {
        let row = springs.repeated(&springs.begin(), &event, events);
        let then = springs.forecast(&row, &event);
        for index in [0, 1] {
            let (read, came) = (
                forecast.readings[index].median[ahead],
                then.readings[index].median[0],
            );
            assert!(
                (read / came - 1.0).abs() < 2e-3,
                "{index} after {events}: {read} {came}"
            );
        }
    }
}

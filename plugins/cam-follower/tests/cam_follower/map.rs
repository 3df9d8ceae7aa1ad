//! Convergence: steps, stations, and the map against direct solutions.

use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin_cam_follower::spec::Spec;
use ringland_plugin_cam_follower::speed_map::CamMap;
use ringland_plugin_cam_follower::turn::{Lobe, STATIONS, Turn};
use ringland_trials::engine;

use crate::trains::{Prepared, bucket, flat, roller, rolling};

fn most(values: &[f64; STATIONS]) -> f64 {
    values.iter().copied().fold(0.0, f64::max)
}

/// Dose of lobe and follower, pitting of the lobe and of the follower, flash temperature.
fn of(turn: &Turn) -> [f64; 5] {
    [
        most(&turn.lobe_dose_pa_m),
        turn.follower_dose_pa_m,
        most(&turn.lobe_pitting),
        turn.follower_pitting,
        turn.flash_k,
    ]
}

fn percent(of: [f64; 5], against: [f64; 5]) -> [f64; 5] {
    std::array::from_fn(|k| 100.0 * (of[k] / against[k] - 1.0))
}

fn largest(percents: &[[f64; 5]]) -> [f64; 5] {
    std::array::from_fn(|k| percents.iter().map(|row| row[k].abs()).fold(0.0, f64::max))
}

/// Means over the event's speeds, so that what one turn gives too much another gives back.
fn mean(rows: &[[f64; 5]]) -> [f64; 5] {
    std::array::from_fn(|k| rows.iter().map(|row| row[k]).sum::<f64>() / rows.len() as f64)
}

/// Two instants taken together count with the heavier load: pitting comes out on the safe side.
#[test]
fn steps_of_the_turn_are_short_enough() {
    for (name, specimen) in [("bucket", bucket()), ("roller", roller())] {
        let spec = Spec::read(&specimen).unwrap();
        let solver = TrainSolver::new(&spec.train);
        let (mut coarse, mut fine) = (Vec::new(), Vec::new());
        for (rpm, _, _) in engine::EVENT {
            let cycle = solver
                .cycle(engine::rad_s(rpm), spec.train.seat_load_n)
                .unwrap();
            let mut lobe = Lobe::new(&spec, 1.0);
            coarse.push(of(&lobe.turn(&lobe.touches(&cycle), 5.0e-3)));
            lobe.stride = 1;
            fine.push(of(&lobe.turn(&lobe.touches(&cycle), 5.0e-3)));
        }
        let change = percent(mean(&coarse), mean(&fine));
        println!(
            "{name}: 1 deg of cam against 0.5 deg, dose lobe, follower, pitting lobe, follower, flash: {change:.2?} %"
        );
        assert!(
            change.iter().all(|percent| percent.abs() < 8.0),
            "{change:?}"
        );
    }
}

/// Wear of the deepest station against the deepest single degree of cam, where it is not the start or end of a contact.
#[test]
fn stations_are_narrow_enough() {
    let spec = Spec::read(&bucket()).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let lobe = Lobe::new(&spec, 1.0);
    let (mut station, mut local) = (0.0, 0.0);
    for (rpm, _, _) in engine::EVENT {
        let cycle = solver
            .cycle(engine::rad_s(rpm), spec.train.seat_load_n)
            .unwrap();
        let touches = lobe.touches(&cycle);
        station += lobe.turn(&touches, 5.0e-3).lobe_dose_pa_m[STATIONS / 2];
        let nose = touches.iter().filter(|touch| touch.station == STATIONS / 2);
        local += nose
            .map(|touch| {
                most(
                    &lobe
                        .turn(std::slice::from_ref(touch), 5.0e-3)
                        .lobe_dose_pa_m,
                )
            })
            .fold(0.0, f64::max);
    }
    println!(
        "bucket: deepest degree of the nose over its station {:.3}",
        local / station
    );
    assert!((1.0..1.35).contains(&(local / station)));
}

fn look_up(name: &str, prepared: &Prepared) {
    let spec = Spec::read(&prepared.specimen).unwrap();
    let map = CamMap::read(&prepared.map, &spec).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let lobe = Lobe::new(&spec, 1.0);
    let mut rows = Vec::new();
    let (mut looked, mut direct) = (Vec::new(), Vec::new());
    for k in 0..24 {
        let rpm = 2000.0 + 271.0 * f64::from(k);
        let viscosity_pa_s = [2.2e-3, 4.3e-3, 8.6e-3][k as usize % 3];
        let load_n = spec.train.seat_load_n * [1.0, 0.93][k as usize % 2];
        let cycle = solver.cycle(engine::rad_s(rpm), load_n).unwrap();
        let exact = of(&lobe.turn(&lobe.touches(&cycle), viscosity_pa_s));
        let found = of(&map.at(engine::rad_s(rpm), load_n, viscosity_pa_s).turn);
        rows.push(percent(found, exact));
        looked.push(found);
        direct.push(exact);
    }
    let total = percent(mean(&looked), mean(&direct));
    println!(
        "{name}: look-up against direct, 24 speeds, largest {:.1?} %, of the sum {total:.2?} %",
        largest(&rows)
    );
    assert!(total.iter().all(|percent| percent.abs() < 3.0), "{total:?}");
    assert!(8 * prepared.map.len() < 1_000_000);
}

#[test]
fn the_map_follows_direct_solutions() {
    look_up("bucket", flat());
    look_up("roller", rolling());
}

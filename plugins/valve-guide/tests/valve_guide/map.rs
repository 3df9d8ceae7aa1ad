//! The map against the solution it stands for, and convergence of what is tabulated.

use ringland_engine::valvetrain::{SpeedMap, TrainSolver};
use ringland_plugin_valve_guide::card::slot;
use ringland_plugin_valve_guide::condition::volumes;
use ringland_plugin_valve_guide::solve::{GRID, GuideCycle, look_up};
use ringland_plugin_valve_guide::spec::Spec;
use ringland_plugin_valve_guide::wear_limit::{Ahead, WearLimit};

use crate::scenario::{event, plain, untreated};

/// Speed over the limiter's beyond which this valve floats and its motion is wild from speed to speed.
const SOUND: f64 = 1.1;

/// Looked up against solved, half-way between nodes: dose within 1 %, peak power within 3 %, up to 1.1 of the limiter; dose within 10 % beyond.
#[test]
fn look_up_agrees_with_the_solution() {
    let spec = Spec::read(&untreated()).unwrap();
    let map = SpeedMap::read(&plain().map, &spec.train, &GRID).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let (mut dose_off, mut power_off, mut float_off) = (0.0_f64, 0.0_f64, 0.0_f64);
    for node in (0..GRID.speeds - 1).step_by(7) {
        let speed =
            0.5 * (GRID.speed_rad_s(&spec.train, node) + GRID.speed_rad_s(&spec.train, node + 1));
        let turn = solver.cycle(speed, spec.train.seat_load_n).unwrap();
        let direct = GuideCycle::of(&spec.own, &turn);
        let (found, outside) = look_up(&map, &spec, speed);
        assert!(!outside);
        let ends = [
            found.dose.top_n_m() / direct.dose.top_n_m(),
            found.dose.bottom_n_m() / direct.dose.bottom_n_m(),
        ];
        if speed > SOUND * spec.train.limiter_speed_rad_s {
            float_off = float_off.max((ends[0] - 1.0).abs());
            continue;
        }
        dose_off = ends
            .iter()
            .fold(dose_off, |worst, ratio| worst.max((ratio - 1.0).abs()));
        power_off = power_off.max((found.power_w[0] / direct.power_w[0] - 1.0).abs());
        let radius = found.speed_radius_m / direct.speed_radius_m - 1.0;
        assert!(radius.abs() < 0.02, "{radius}");
    }
    println!(
        "look-up against solution: dose {:.2} %, peak power {:.2} % at worst; where the valve floats, dose {:.1} %",
        100.0 * dose_off,
        100.0 * power_off,
        100.0 * float_off
    );
    assert!(
        dose_off < 0.03 && power_off < 0.06,
        "{dose_off} {power_off}"
    );
}

/// Points of a turn twice as far apart: dose within 1 %, peak power within 3 %.
#[test]
fn points_of_a_turn_are_close_enough() {
    let spec = Spec::read(&untreated()).unwrap();
    let solver = TrainSolver::new(&spec.train);
    for share in [0.4, 0.7, 0.95, 1.1] {
        let speed = share * spec.train.limiter_speed_rad_s;
        let turn = solver.cycle(speed, spec.train.seat_load_n).unwrap();
        let mut coarse = turn.clone();
        coarse.instants = turn.instants.iter().step_by(2).copied().collect();
        let (fine, coarse) = (
            GuideCycle::of(&spec.own, &turn),
            GuideCycle::of(&spec.own, &coarse),
        );
        let dose = coarse.dose.top_n_m() / fine.dose.top_n_m() - 1.0;
        let power = coarse.power_w[0] / fine.power_w[0] - 1.0;
        println!(
            "{speed:.0} rad/s: points twice as far apart, dose {:+.3} %, peak power {:+.2} %",
            100.0 * dose,
            100.0 * power
        );
        assert!(dose.abs() < 0.01 && power.abs() < 0.03);
    }
}

/// The damage along an event is interpolated between exact values: against the exact damage, for a guide that wore on other sides than the event wears, within 1 %.
#[test]
fn damage_along_an_event_meets_the_exact_one() {
    let spec = Spec::read(&untreated()).unwrap();
    let limit = WearLimit::new(&spec, [4.0e-6, 7.0e-6]);
    let event = plain().after(&event());
    let mut now = [0.0; slot::COUNT];
    now[slot::TOP_MINUS] = 0.4e-9;
    now[slot::BOTTOM_PLUS] = 0.05e-9;
    let mut event_m3 = [0.0; 4];
    event_m3.copy_from_slice(&event[..4]);
    let ahead = Ahead::new(&limit, &now, &event_m3);
    let mut worst = 0.0_f64;
    for events in [0.0, 0.3, 1.0, 2.5, 6.0, 11.0, 20.0, 60.0, 300.0] {
        let mut row = now;
        for (worn, more) in row.iter_mut().zip(event_m3) {
            *worn += events * more;
        }
        for (found, exact) in ahead.at(events).iter().zip(limit.damages(&row)) {
            worst = worst.max((found / exact - 1.0).abs());
        }
    }
    println!("damage along an event: {:.3} % at worst", 100.0 * worst);
    assert!(worst < 0.01, "{worst}");
}

/// Damage is the share of the way by volume: the worn guide, its volumes over its damage, stands at its limit.
#[test]
fn volumes_over_damage_stand_at_the_limit() {
    let spec = Spec::read(&untreated()).unwrap();
    for loss in [[0.0, 0.0], [10.0e-6, 2.0e-6]] {
        let limit = WearLimit::new(&spec, loss);
        for events in [1, 30] {
            let after = plain().repeated(&plain().begin(), &event(), events);
            let row: [f64; slot::COUNT] = after.try_into().unwrap();
            let [clearance, wobble] = limit.damages(&row);
            let [top, bottom, _] = limit.sizes_m(&volumes(&row, 1.0 / clearance));
            assert!((top.max(bottom) / spec.own.limit_clearance_m - 1.0).abs() < 1e-7);
            let [_, _, swing] = limit.sizes_m(&volumes(&row, 1.0 / wobble));
            assert!((swing / spec.own.limit_wobble_m - 1.0).abs() < 1e-7);
        }
    }
}

//! Loads on the joint against closed forms of the slider-crank, and the map against direct solutions.

use std::f64::consts::PI;

use ringland_engine::{CycleSolver, POINTS};
use ringland_plugin_rod_bolt::bolt::{damage_sum, opening_preload_n};
use ringland_plugin_rod_bolt::card;
use ringland_plugin_rod_bolt::loads::{self, BoltLoad, JointLoad, joint_force_n, joint_load};

use ringland_trials::engine::EVENT;

use crate::scenario::{bolts, event, plain};

/// Textbook, slider-crank at the gas-exchange dead centre: everything above the split is thrown up with r ω² (1 + r/l) for what goes up and
/// down and r ω² for what turns; gas presses it down. At the lower dead centre the bolts hold the cap: m r ω².
#[test]
fn dead_centres_by_hand() {
    let bolts = bolts(plain());
    let solver = CycleSolver::new(&bolts.spec.engine, POINTS).unwrap();
    for rpm in [4000.0, 6250.0, 8000.0, 9500.0] {
        let speed = rpm * PI / 30.0;
        let solved = solver.loads(speed, 2.0e6).unwrap();
        let throw = 0.043 * speed * speed;
        let area_m2 = 0.25 * PI * 0.086 * 0.086;
        let gas_n = (solved.pressure_pa[0] - 1.0e5) * area_m2;
        let inertia_n = (0.56 * (1.0 + 43.0 / 145.0) + 0.25) * throw;
        let upper_n = joint_force_n(&solved, 0.14, 0).unwrap();
        assert!(
            (upper_n / (inertia_n - gas_n) - 1.0).abs() < 1e-9,
            "{rpm}: {upper_n}"
        );
        // Half way through the record is firing dead centre; a quarter and three quarters are lower dead centres.
        for lower in [POINTS / 4, 3 * POINTS / 4] {
            let found_n = joint_force_n(&solved, 0.14, lower).unwrap();
            assert!(
                (found_n / (0.14 * throw) - 1.0).abs() < 1e-6,
                "{rpm}: {found_n}"
            );
        }
        println!(
            "{rpm} 1/min: inertia {:.1} kN, exhaust gas {:.2} kN, joint {:.1} kN, each bolt with prying {:.1} kN",
            1e-3 * inertia_n,
            1e-3 * gas_n,
            1e-3 * upper_n,
            1e-3 * 0.5 * bolts.rod.prying * upper_n
        );
    }
}

/// Gas only ever helps the bolts: the joint is pulled by no more than the inertia above the split, and pressed by no more than that of the cap. Under
/// full load the cap is pressed on in full at firing dead centre.
#[test]
fn gas_never_pulls() {
    let bolts = bolts(plain());
    let solver = CycleSolver::new(&bolts.spec.engine, POINTS).unwrap();
    let throw = 0.043 * 800.0 * 800.0;
    let inertia_n = (0.56 * (1.0 + 43.0 / 145.0) + 0.25) * throw;
    for imep in [0.0, 1.0e6, 3.0e6] {
        let load = joint_load(&solver.loads(800.0, imep).unwrap(), 0.14);
        assert!(load.peak_n[0] <= 1.0001 * inertia_n);
        assert!(load.valley_n[0] >= -1.0001 * 0.14 * throw);
        assert_eq!(imep > 2.0e6, load.valley_n[0] <= -0.999 * 0.14 * throw);
    }
}

/// Steps of the cycle halved twice, and the look-up against direct solution at every operating point: damage of one event to a bolt that
/// has 15 kN left, and the preload that keeps the joint closed.
#[test]
fn map_and_steps() {
    let bolts = bolts(plain());
    let looked = bolts.loads(&card::duty(), &event()).unwrap().all();
    let direct = |steps: usize| -> Vec<BoltLoad> {
        let solver = CycleSolver::new(&bolts.spec.engine, steps).unwrap();
        let one = |(load, (rpm, torque, minutes)): (&BoltLoad, &(f64, f64, f64))| {
            let block = ringland_engine::Block {
                time_s: 60.0 * minutes,
                speed_rad_s: rpm * PI / 30.0,
                torque_n_m: *torque,
                ..ringland_engine::Block::default()
            };
            let imep_pa = bolts.map.imep_pa(&block);
            let solved = solver.loads(block.speed_rad_s, imep_pa).unwrap();
            let JointLoad { peak_n, valley_n } = joint_load(&solved, 0.14);
            let share = |force_n: f64| {
                let prying = if force_n > 0.0 { bolts.rod.prying } else { 1.0 };
                0.5 * prying * force_n
            };
            BoltLoad {
                peak_n: peak_n.map(share),
                valley_n: valley_n.map(share),
                ..*load
            }
        };
        looked.iter().zip(&EVENT).map(one).collect()
    };
    let damage = |loads: &[BoltLoad]| damage_sum(&bolts.rod, 15.0e3, loads, false);
    let (coarse, fine) = (direct(POINTS), direct(4 * POINTS));
    let steps = damage(&coarse) / damage(&fine) - 1.0;
    let map = damage(&looked) / damage(&fine) - 1.0;
    let closed =
        opening_preload_n(&bolts.rod, &looked) / opening_preload_n(&bolts.rod, &fine) - 1.0;
    println!(
        "damage at 15 kN: steps of 2 deg against 0.5 deg {:+.2} %, map against direct {:+.2} %; preload to stay closed {:+.3} %; map {} numbers",
        100.0 * steps,
        100.0 * map,
        100.0 * closed,
        plain().map.len()
    );
    assert!(steps.abs() < 0.005, "{steps}");
    assert!(map.abs() < 0.03, "{map}");
    assert!(closed.abs() < 0.005, "{closed}");
    for (looked, fine) in looked.iter().zip(&fine) {
        let off_n = (looked.peak_n[0] - fine.peak_n[0]).abs();
        assert!(
            off_n < 0.005 * fine.peak_n[0] + 100.0,
            "{looked:?} {fine:?}"
        );
    }
}

/// Above the map load goes with the square of speed, as inertia does.
#[test]
fn beyond_the_map_inertia_goes_on() {
    let bolts = bolts(plain());
    let at = |share: f64| {
        let speed = share * bolts.spec.engine.rated_speed_rad_s;
        loads::at(&bolts.spec, &bolts.rod, &bolts.map, speed, 0.0)
    };
    let (edge, beyond) = (at(1.35), at(2.7));
    assert!((beyond.peak_n[0] / edge.peak_n[0] - 4.0).abs() < 1e-9);
    assert!(beyond.extrapolated && !edge.extrapolated);
}

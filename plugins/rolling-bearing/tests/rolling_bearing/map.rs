//! The map against direct solutions, and its grid.

use ringland_plugin_rolling_bearing::operating_map::{OperatingMap, equivalent_n};
use ringland_plugin_rolling_bearing::shaft::{cases, load, reach};
use ringland_plugin_rolling_bearing::spec::Spec;

use crate::sets::all;

/// Between loads of the map, where straight lines are farthest off, and at growths of play between those solved: what counts is the third power of the
/// load, summed over the loads of a case.
#[test]
fn the_map_agrees_with_direct_solutions() {
    for set in all() {
        let spec = Spec::read(&set.specimen).unwrap();
        let map = OperatingMap::read(&set.map, &spec).unwrap();
        let growths = map.growths_m();
        let (mut looked, mut solved, mut worst) = ([0.0; 2], [0.0; 2], 0.0_f64);
        let mut between = [0.0; 2];
        for case in 0..cases(&spec) {
            for k in 0..40 {
                let driver = reach(&spec) * ((f64::from(k) + 0.5) / 20.0 - 1.0);
                let found = map.look_up(case, driver);
                let shaft = load(&spec, case, driver);
                for (node, growth_m) in [(0, growths[0]), (3, growths[3])] {
                    let direct = equivalent_n(&spec, growth_m, &shaft).unwrap();
                    for bearing in 0..2 {
                        let here = found.equivalent_n[bearing][node];
                        looked[bearing] += here.powi(3);
                        solved[bearing] += direct[bearing].powi(3);
                        if direct[bearing] > 2000.0 {
                            worst = worst.max((here / direct[bearing] - 1.0).abs());
                        }
                    }
                }
                let growth_m = 0.5 * (growths[1] + growths[2]);
                let direct = equivalent_n(&spec, growth_m, &shaft).unwrap();
                for (bearing, direct) in direct.iter().enumerate() {
                    let [low, high] = [1, 2].map(|node| found.equivalent_n[bearing][node].powi(3));
                    between[0] += 0.5 * (low + high);
                    between[1] += direct.powi(3);
                }
            }
        }
        let off = |[a, b]: [f64; 2]| 100.0 * (a / b - 1.0);
        let sums = [[looked[0], solved[0]], [looked[1], solved[1]]].map(off);
        println!(
            "{:?}: sums off by {sums:.2?} %, worst load {:.2} %, between growths {:.2} %, map of {} numbers",
            spec.place,
            100.0 * worst,
            off(between),
            set.map.len()
        );
        assert!(sums.iter().all(|off| off.abs() < 2.0) && off(between).abs() < 3.0);
    }
}

/// Every second load left out, the third powers that count change by less than a hundredth.
#[test]
fn half_the_grid_gives_the_same() {
    for set in all() {
        let spec = Spec::read(&set.specimen).unwrap();
        let map = OperatingMap::read(&set.map, &spec).unwrap();
        let (mut fine, mut coarse) = (0.0, 0.0);
        for case in 0..cases(&spec) {
            let node = |k: i32| map.look_up(case, reach(&spec) * f64::from(k) / 20.0);
            // Odd nodes: nothing, where loads turn round, is one of the coarse grid too.
            for k in (-19..20).step_by(2) {
                for bearing in 0..2 {
                    let at = |k: i32| node(k).equivalent_n[bearing][0];
                    fine += at(k).powi(3);
                    coarse += (0.5 * (at(k - 1) + at(k + 1))).powi(3);
                }
            }
        }
        let off = 100.0 * (coarse / fine - 1.0);
        println!("{:?}: half the grid is off by {off:.2} %", spec.place);
        assert!(off.abs() < 1.0);
    }
}

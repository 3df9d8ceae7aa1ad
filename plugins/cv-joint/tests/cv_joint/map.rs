//! Convergence: steps of the turn and angles of the map.

use ringland_mechanics::cv_joint::Turn;
use ringland_plugin_cv_joint::CvJoint;
use ringland_plugin_cv_joint::condition::Joint;
use ringland_plugin_cv_joint::constants::STEPS;
use ringland_trials::Record;

use crate::scenario::{bare, event};

fn worst(found: &Turn, exact: &Turn) -> f64 {
    [
        found.cube_load / exact.cube_load,
        found.peak_load / exact.peak_load,
        found.slide / exact.slide,
        found.travel_m / exact.travel_m,
        found.window / exact.window,
    ]
    .into_iter()
    .fold(0.0, |most: f64, ratio| most.max((ratio - 1.0).abs()))
}

/// The temperature of a record balances its heat: a hundredth of a kelvin more or less of air moves it by as much, within what viscosity does to friction.
#[test]
fn the_temperature_has_settled() {
    let joint = Joint::new(&bare().specimen, &bare().map).unwrap();
    let at = |air_k: f64| {
        let record = Record::edit::<CvJoint>(&event()).channel("ambient_temp_k", air_k);
        joint.read(&record.duty()).unwrap().surface_k.unwrap()
    };
    let slope = (at(298.16) - at(298.14)) / 0.02;
    println!("surface over air: {slope:.4} K/K");
    assert!((1.0..1.2).contains(&slope), "{slope}");
}

/// Between the angles of the map and with four times the steps: below 1 % up to the steep angle of the joint, beyond which loads have peaks that no grid of angles follows.
#[test]
fn the_map_is_fine_enough() {
    let joint = Joint::new(&bare().specimen, &bare().map).unwrap();
    let mut largest: f64 = 0.0;
    let steep_rad = joint.spec.joint.steep_rad();
    println!("steep from {steep_rad:.3} rad");
    for k in 1..26 {
        let angle_rad = 0.04 * steep_rad * f64::from(k);
        let exact = Turn::solve(&joint.spec.joint, angle_rad, 4 * STEPS);
        let off = worst(&joint.turns.at(angle_rad), &exact);
        println!("{angle_rad:.3} rad: off by {off:.2e}");
        largest = largest.max(off);
    }
    println!(
        "map: {} bytes, largest error {largest:.2e}",
        8 * bare().map.len()
    );
    assert!(largest < 0.01, "{largest}");
}

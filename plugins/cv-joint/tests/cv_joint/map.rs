//! Convergence: steps of the turn and angles of the map.

use ringland_mechanics::cv_joint::Turn;
use ringland_plugin_cv_joint::condition::Joint;
use ringland_plugin_cv_joint::constants::STEPS;

use crate::scenario::bare;

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

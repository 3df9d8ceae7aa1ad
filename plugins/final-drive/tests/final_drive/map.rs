//! Convergence: places on the path, nodes of the map.

use ringland_plugin_final_drive::constants::SETTLING_TURNS;
use ringland_plugin_final_drive::gears::Gears;
use ringland_plugin_final_drive::mesh::{Mating, Mesh, Running};
use ringland_plugin_final_drive::mesh_map::{Axis, GRID, Grid, MeshMap, prepare_on};
use ringland_plugin_final_drive::spec::Spec;
use ringland_trials::driveline;

use crate::pairs;

/// Operating points of the event that load a flank.
fn runnings() -> Vec<(f64, Running)> {
    let card = ringland_plugin_final_drive::card::duty();
    let event = pairs::event();
    let done = ringland_driveline::read(&card, &event).unwrap();
    let moving = done
        .points
        .iter()
        .filter(|block| block.axle_torque_n_m > 0.0);
    moving
        .map(|block| {
            let running = Running {
                ring_rad_s: block.wheel_speed_rad_s(),
                torque_n_m: block.axle_torque_n_m,
                oil_k: block.axle_oil_k,
            };
            (block.time_s * running.ring_rad_s, running)
        })
        .collect()
}

const DOSES: [fn(&Mesh) -> f64; 4] = [
    |mesh| mesh.pinion_dose_n_m,
    |mesh| mesh.ring_dose_n_m,
    |mesh| mesh.flash_k,
    |mesh| mesh.film_ratio,
];

/// Sums over the event, and the largest difference at one point.
fn differences(name: &str, at: impl Fn(&Running) -> [Mesh; 2]) -> [(f64, f64); 4] {
    let found = DOSES.map(|of| {
        let (mut sums, mut largest) = ([0.0; 2], 0.0_f64);
        for (turns, running) in runnings() {
            let [coarse, fine] = at(&running).map(|mesh| of(&mesh));
            sums[0] += turns * coarse;
            sums[1] += turns * fine;
            largest = largest.max((coarse / fine - 1.0).abs());
        }
        (sums[0] / sums[1] - 1.0, largest)
    });
    println!("{name}: pinion dose, ring dose, flash, film (over the event, largest) {found:.4?}");
    found
}

#[test]
fn map_of_places_and_rounds_converges() {
    for specimen in [pairs::hypoid(), pairs::spiral_bevel()] {
        let spec = Spec::read(&specimen).unwrap();
        let gears = Gears::new(&spec).unwrap();
        let usual = Mating::new(&spec, &gears.flanks[0], 1.0);
        let mut fine = Mating::new(&spec, &gears.flanks[0], 1.0);
        fine.places *= 2;
        let found = differences("places doubled", |running| {
            [usual.mesh(running), fine.mesh(running)]
        });
        for (over, _) in found {
            assert!(over.abs() < 0.04, "{found:?}");
        }
        fine.places = usual.places;
        fine.rounds *= 2;
        let found = differences("rounds doubled", |running| {
            [usual.mesh(running), fine.mesh(running)]
        });
        for (over, _) in found {
            assert!(over.abs() < 0.01, "{found:?}");
        }
    }
}

#[test]
fn map_is_as_good_as_a_finer_one_and_as_the_solution() {
    let spec = Spec::read(&pairs::hypoid()).unwrap();
    let gears = Gears::new(&spec).unwrap();
    let denser = |axis: Axis| Axis {
        nodes: 2 * axis.nodes - 1,
        ..axis
    };
    let grid = Grid {
        speed: denser(GRID.speed),
        torque: denser(GRID.torque),
        oil: denser(GRID.oil),
    };
    let nodes = prepare_on(&spec, &grid).unwrap();
    let fine = MeshMap::read_on(&nodes, grid).unwrap();
    let usual = MeshMap::read(&pairs::ground().map).unwrap();
    let found = differences("nodes doubled", |running| {
        [usual.at(0, running).0, fine.at(0, running).0]
    });
    for (over, largest) in found {
        assert!(over.abs() < 0.02 && largest < 0.05, "{found:?}");
    }
    let direct = Mating::new(&spec, &gears.flanks[0], 1.0);
    let found = differences("against the solution", |running| {
        [usual.at(0, running).0, direct.mesh(running)]
    });
    for (over, largest) in found {
        assert!(over.abs() < 0.02 && largest < 0.05, "{found:?}");
    }
}

/// What was calibrated is said to be: the counts that the read-me quotes.
#[test]
fn map_of_the_event_has_the_turns_that_settling_was_calibrated_to() {
    let turns =
        pairs::ground().after(&driveline::event::<ringland_plugin_final_drive::FinalDrive>())[9];
    println!("pinion turns of the event {turns:.4e}");
    assert!((25.0 * turns / SETTLING_TURNS - 1.0).abs() < 1e-3);
}

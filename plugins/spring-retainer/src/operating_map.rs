//! The map over engine speed.

use ringland_engine::valvetrain::{self, SpeedGrid, SpeedMap};
use ringland_plugin::{Finding, error};

use crate::spec::Spec;
use crate::turn::{Bodies, Turn, Unsolved, WIDTH};

/// Grid of the map.
pub const GRID: SpeedGrid = SpeedGrid::as_built(WIDTH, 2);

/// Solves the map.
///
/// # Errors
/// The speed that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let bodies = Bodies::new(spec).map_err(|found| {
        let remedy = "check fillet, flange and roughness against the card";
        vec![error(found.field, found.value, found.expected, remedy)]
    })?;
    // The map has a second, lower seat load, which this model never looks up: its rows repeat those of the load as built.
    let mut row = Vec::new();
    valvetrain::prepare(&spec.train, &GRID, |cycle| {
        if cycle.seat_load_n >= spec.train.seat_load_n {
            row = bodies.turn(cycle)?.to_row().to_vec();
        }
        Ok::<_, Unsolved>(row.clone())
    })
}

/// Looks up a turn at a crank speed \[rad/s\] with the spring as built; whether the speed lies above the map.
pub fn look_up(spec: &Spec, map: &SpeedMap<'_>, speed_rad_s: f64) -> (Turn, bool) {
    let mut row = [0.0; WIDTH];
    let above = map.look_up(speed_rad_s, spec.train.seat_load_n, &mut row);
    (Turn::from_row(row), above)
}

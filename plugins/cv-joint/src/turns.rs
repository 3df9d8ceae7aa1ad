//! The map: a turn of the joint at each angle, looked up linearly.

use ringland_mechanics::cv_joint::Turn;
use ringland_plugin::{Finding, error};

use crate::constants::{ANGLES, MOST_ANGLE_RAD, STEPS};
use crate::spec::Spec;

/// Numbers of a turn.
const COLUMNS: usize = 9;

/// Turns at all angles of the map, one after the other.
pub fn prepare(spec: &Spec) -> Vec<f64> {
    let angle_rad = |k: usize| MOST_ANGLE_RAD * k as f64 / (ANGLES - 1) as f64;
    (0..ANGLES)
        .flat_map(|k| columns(&Turn::solve(&spec.joint, angle_rad(k), STEPS)))
        .collect()
}

/// The map of a specimen.
#[derive(Debug, Clone, PartialEq)]
pub struct Turns {
    rows: Vec<[f64; COLUMNS]>,
}

impl Turns {
    /// Reads a map.
    ///
    /// # Errors
    /// A map of another version.
    pub fn read(prepared: &[f64]) -> Result<Self, Vec<Finding>> {
        if prepared.len() != ANGLES * COLUMNS || prepared.iter().any(|value| !value.is_finite()) {
            return Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{} finite numbers", ANGLES * COLUMNS),
                "prepare the specimen again",
            )]);
        }
        let row = |chunk: &[f64]| {
            let mut row = [0.0; COLUMNS];
            row.copy_from_slice(chunk);
            row
        };
        let rows = prepared.chunks_exact(COLUMNS).map(row).collect();
        Ok(Self { rows })
    }

    /// A turn at an angle \[rad\], whose sign does not matter; beyond the map its last.
    pub fn at(&self, joint_rad: f64) -> Turn {
        let position = (joint_rad.abs() / MOST_ANGLE_RAD).min(1.0) * (ANGLES - 1) as f64;
        let first = (position as usize).min(ANGLES - 2);
        let share = position - first as f64;
        let (low, high) = (&self.rows[first], &self.rows[first + 1]);
        let mut row = [0.0; COLUMNS];
        for (value, (from, to)) in row.iter_mut().zip(low.iter().zip(high)) {
            *value = from + share * (to - from);
        }
        turn(&row)
    }
}

fn columns(turn: &Turn) -> [f64; COLUMNS] {
    [
        turn.mean_load,
        turn.peak_load,
        turn.cube_load,
        turn.travel_m,
        turn.slide,
        turn.pivot,
        turn.window,
        turn.window_load,
        turn.sphere,
    ]
}

fn turn(row: &[f64; COLUMNS]) -> Turn {
    let [
        mean_load,
        peak_load,
        cube_load,
        travel_m,
        slide,
        pivot,
        window,
        window_load,
        sphere,
    ] = *row;
    Turn {
        mean_load,
        peak_load,
        cube_load,
        travel_m,
        slide,
        pivot,
        window,
        window_load,
        sphere,
    }
}

//! The map: a turn of the joint at each angle, and what asperities carry at each film; looked up linearly.

use ringland_mechanics::contact::GreenwoodTable;
use ringland_mechanics::cv_joint::Turn;
use ringland_plugin::{Finding, error};

use crate::constants::{ANGLES, FILMS, MOST_ANGLE_RAD, MOST_FILM, STEPS};
use crate::spec::Spec;

/// Numbers of a turn.
const COLUMNS: usize = 9;

/// Length of the map.
const LENGTH: usize = ANGLES * COLUMNS + FILMS;

/// Turns at all angles of the map, one after the other; then the asperities' shares at all films.
pub fn prepare(spec: &Spec) -> Vec<f64> {
    let angle_rad = |k: usize| MOST_ANGLE_RAD * k as f64 / (ANGLES - 1) as f64;
    let mut map: Vec<f64> = (0..ANGLES)
        .flat_map(|k| columns(&Turn::solve(&spec.joint, angle_rad(k), STEPS)))
        .collect();
    let asperities = GreenwoodTable::new();
    let film_ratio = |k: usize| MOST_FILM * k as f64 / (FILMS - 1) as f64;
    let all = asperities.five_halves(0.0);
    map.extend((0..FILMS).map(|k| asperities.five_halves(film_ratio(k)) / all));
    map
}

/// The map of a specimen.
#[derive(Debug, Clone, PartialEq)]
pub struct Turns {
    rows: Vec<[f64; COLUMNS]>,
    boundary: Vec<f64>,
}

impl Turns {
    /// Reads a map.
    ///
    /// # Errors
    /// A map of another version.
    pub fn read(prepared: &[f64]) -> Result<Self, Vec<Finding>> {
        if prepared.len() != LENGTH || prepared.iter().any(|value| !value.is_finite()) {
            return Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{LENGTH} finite numbers"),
                "prepare the specimen again",
            )]);
        }
        let (turns, boundary) = prepared.split_at(ANGLES * COLUMNS);
        let row = |chunk: &[f64]| {
            let mut row = [0.0; COLUMNS];
            row.copy_from_slice(chunk);
            row
        };
        Ok(Self {
            rows: turns.chunks_exact(COLUMNS).map(row).collect(),
            boundary: boundary.to_vec(),
        })
    }

    /// A turn at an angle \[rad\], whose sign does not matter; beyond the map its last.
    pub fn at(&self, joint_rad: f64) -> Turn {
        let (first, share) = position(joint_rad.abs() / MOST_ANGLE_RAD, ANGLES);
        let (low, high) = (&self.rows[first], &self.rows[first + 1]);
        let mut row = [0.0; COLUMNS];
        for (value, (from, to)) in row.iter_mut().zip(low.iter().zip(high)) {
            *value = from + share * (to - from);
        }
        turn(&row)
    }

    /// Share of the load that asperities carry at a film over roughness of 0 or more: the pressure of Greenwood and Tripp over that without film.
    pub fn boundary(&self, film_ratio: f64) -> f64 {
        let (first, share) = position(film_ratio / MOST_FILM, FILMS);
        let (low, high) = (self.boundary[first], self.boundary[first + 1]);
        low + share * (high - low)
    }
}

/// The node below a share of a map's length, and how far beyond it.
fn position(of_length: f64, nodes: usize) -> (usize, f64) {
    let position = of_length.min(1.0) * (nodes - 1) as f64;
    let first = (position as usize).min(nodes - 2);
    (first, position - first as f64)
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

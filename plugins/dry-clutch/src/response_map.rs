//! The map over duration and shape of an engagement.

use ringland_mechanics::interpolate::Weights;
use ringland_plugin::{Finding, error};

use crate::heat_check;
use crate::spec::Spec;
use crate::stack::{Bent, GRID, Grid, PLATE_VALUES, Response, SAMPLES, Stack};

/// Durations of the map: from the first on, each longer by the ratio.
const FIRST_S: f64 = 0.05;
const RATIO: f64 = 1.75;
/// How many durations: to 24 s.
pub const DURATIONS: usize = 12;
/// Shapes: power held for none, a third, two thirds, all of the time.
pub const HOLDS: usize = 4;

/// Values before the first row: discs, and the table of heat checks.
const HEAD: usize = 1 + heat_check::NODES;

/// Values of a row.
fn width(faces: usize) -> usize {
    faces * SAMPLES + PLATE_VALUES
}

/// Solves the map.
pub fn prepare(spec: &Spec) -> Vec<f64> {
    prepare_on(spec, GRID)
}

/// Solves the map on a grid.
pub fn prepare_on(spec: &Spec, grid: Grid) -> Vec<f64> {
    let stack = Stack::new(spec, grid.cells);
    let mut map = vec![spec.discs as f64];
    map.extend(heat_check::table(spec));
    for duration in 0..DURATIONS {
        let duration_s = FIRST_S * libm::pow(RATIO, duration as f64);
        for hold in 0..HOLDS {
            let hold = hold as f64 / (HOLDS - 1) as f64;
            let response = stack.response(duration_s, hold, grid.steps);
            map.extend(response.faces.iter().flatten());
            map.extend([response.face_peak, response.plate_mean, response.band]);
            map.extend(response.floater.values());
            map.extend(response.pressure_plate.values());
        }
    }
    map
}

/// A solved map.
#[derive(Debug, Clone, Copy)]
pub struct ResponseMap<'a> {
    heat_checks: &'a [f64],
    rows: &'a [f64],
    faces: usize,
}

impl<'a> ResponseMap<'a> {
    /// Reads what [`prepare`] made for a spec.
    ///
    /// # Errors
    /// A map of another spec or version.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let faces = 2 * spec.discs;
        let expected = HEAD + DURATIONS * HOLDS * width(faces);
        let finite = prepared.iter().all(|value| value.is_finite());
        if prepared.len() != expected
            || !finite
            || prepared[0].to_bits() != (spec.discs as f64).to_bits()
        {
            let what = format!("{expected} finite values, made for {} discs", spec.discs);
            return Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &what,
                "prepare the specimen again",
            )]);
        }
        Ok(Self {
            heat_checks: &prepared[1..HEAD],
            rows: &prepared[HEAD..],
            faces,
        })
    }

    /// The table of heat checks.
    pub fn heat_checks(&self) -> &'a [f64] {
        self.heat_checks
    }

    /// Response to an engagement of a duration and hold; whether the duration lies off the map (then that of the nearest duration of the map).
    pub fn look_up(&self, duration_s: f64, hold: f64) -> (Response, bool) {
        let position = libm::log(duration_s / FIRST_S) / libm::log(RATIO);
        let held = position.clamp(0.0, (DURATIONS - 1) as f64);
        let along = Weights::new(held, DURATIONS);
        let across = Weights::new(hold.clamp(0.0, 1.0) * (HOLDS - 1) as f64, HOLDS);
        let width = width(self.faces);
        let mut row = vec![0.0; width];
        for (i, weight) in along.nodes.iter().enumerate() {
            for (j, share) in across.nodes.iter().enumerate() {
                let from = ((along.first + i) * HOLDS + across.first + j) * width;
                let values = self.rows.iter().skip(from);
                for (sum, value) in row.iter_mut().zip(values) {
                    *sum += weight * share * value;
                }
            }
        }
        let off = position < -1e-9 || position > (DURATIONS - 1) as f64 + 1e-9;
        (self.unpacked(&row), off)
    }

    fn unpacked(&self, row: &[f64]) -> Response {
        let (faces, plates) = row.split_at(self.faces * SAMPLES);
        let face = |chunk: &[f64]| std::array::from_fn(|k| chunk[k].max(0.0));
        let mut rest = plates.iter().copied();
        let mut value = || rest.next().unwrap_or(0.0).max(0.0);
        let (face_peak, plate_mean, band) = (value(), value(), value());
        Response {
            faces: faces.chunks_exact(SAMPLES).map(face).collect(),
            face_peak,
            plate_mean,
            band,
            floater: Bent::from_values(rest.by_ref().take(Bent::VALUES)),
            pressure_plate: Bent::from_values(rest),
        }
    }
}

//! The stack as a wall of layers, and what a unit of heat does to it.
//!
//! From the pressure plate: plate, then lining, core, lining for each disc with a floater between discs, then the flywheel's face. Heat is
//! made at each face. Conduction is linear, so the response to 1 J/m² of each face serves any energy and any temperature at the start.

use ringland_mechanics::clutch::heat::{Body, Boundary, History, Layer};

use crate::slip::Slip;
use crate::spec::Spec;

/// Points of equal heat at which an engagement's wear and glazing are summed.
pub const SAMPLES: usize = 12;
/// Values of a response besides those of the faces.
pub const PLATE_VALUES: usize = 6;

/// Cells through a layer, steps over an engagement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// Cells through each layer.
    pub cells: usize,
    /// Steps in time.
    pub steps: usize,
}

/// The grid as built.
pub const GRID: Grid = Grid {
    cells: 6,
    steps: 60,
};

/// A rise of temperature for 1 J/m² on each face \[K·m²/J\].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Response {
    /// Mean rise of each face as each twelfth of its heat is half made, face by face. A hot band rises by its factor more.
    pub faces: Vec<[f64; SAMPLES]>,
    /// Highest mean rise of any face.
    pub face_peak: f64,
    /// Highest rise of a plate's mean over its thickness.
    pub plate_mean: f64,
    /// Half the difference across the floater that is most unevenly heated, and the rise of its hotter face by then.
    pub floater: [f64; 2],
    /// The same for the pressure plate.
    pub pressure_plate: [f64; 2],
    /// Highest rise of a hot band above the mean of the plate that it is on.
    pub band: f64,
}

/// A stack ready to be heated.
pub struct Stack {
    body: Body,
    faces: usize,
    layers: Vec<Layer>,
    hot_band_factor: f64,
}

impl Stack {
    /// Of a spec.
    pub fn new(spec: &Spec, cells: usize) -> Self {
        let layers = layers(spec);
        let mut boundaries = vec![Boundary::PLAIN; layers.len() + 1];
        for face in 0..2 * spec.discs {
            let uneven = if face % 2 == 0 {
                -spec.side_imbalance
            } else {
                spec.side_imbalance
            };
            boundaries[boundary_of(face)] = Boundary::heated(1.0 + uneven);
        }
        Self {
            body: Body::new(&layers, &boundaries, cells),
            faces: 2 * spec.discs,
            layers,
            hot_band_factor: spec.hot_band_factor,
        }
    }

    /// Response to 1 J/m² on each face over a profile of slip.
    pub fn response(&self, duration_s: f64, hold: f64, steps: usize) -> Response {
        let unit = Slip {
            duration_s,
            hold,
            energy_j: 1.0,
        };
        let cold = vec![0.0; self.layers.len()];
        let start = self.body.uniform(&cold);
        let history = self
            .body
            .heat(&start, duration_s, steps, |t| unit.power_w(t));
        let samples = |face: usize| {
            let column = &history.boundaries_k[boundary_of(face)];
            std::array::from_fn(|k| {
                let heat = (k as f64 + 0.5) / SAMPLES as f64;
                between(column, unit.time_share(heat))
            })
        };
        let peaks = (0..self.faces).filter_map(|face| history.peak(boundary_of(face)));
        Response {
            faces: (0..self.faces).map(samples).collect(),
            face_peak: peaks.map(|peak| peak.value).fold(0.0, f64::max),
            plate_mean: self
                .plates()
                .map(|p| highest_mean(&history, p))
                .fold(0.0, f64::max),
            floater: self.bent(&history, self.floaters()),
            pressure_plate: self.bent(&history, std::iter::once(0)),
            band: self.band(&history),
        }
    }

    /// Layers of all plates: pressure plate, floaters, flywheel.
    fn plates(&self) -> impl Iterator<Item = usize> {
        (0..self.layers.len()).step_by(4)
    }

    fn floaters(&self) -> impl Iterator<Item = usize> {
        (4..self.layers.len() - 1).step_by(4)
    }

    /// Half the difference across the most bent of some plates at its steepest, and its hotter face's rise then.
    fn bent(&self, history: &History, plates: impl Iterator<Item = usize>) -> [f64; 2] {
        let mut most = [0.0, 0.0];
        for plate in plates {
            let half_m = 0.5 * self.layers[plate].thickness_m;
            for state in &history.layers[plate] {
                let half = state.gradient_k_m.abs() * half_m;
                if half > most[0] {
                    most = [half, state.mean_k + half];
                }
            }
        }
        most
    }

    /// Highest rise of a hot band above the mean of its plate.
    fn band(&self, history: &History) -> f64 {
        let one = |face: usize| {
            let plate = plate_of(face);
            let column = &history.boundaries_k[boundary_of(face)];
            let states = &history.layers[plate];
            let above = column.iter().zip(states);
            above
                .map(|(k, state)| self.hot_band_factor * k - state.mean_k)
                .fold(0.0, f64::max)
        };
        (0..self.faces).map(one).fold(0.0, f64::max)
    }
}

/// Layers from the pressure plate to the flywheel.
fn layers(spec: &Spec) -> Vec<Layer> {
    let materials = &spec.materials;
    let plate = |thickness_m| materials.plate.thermal.layer(thickness_m, 1.0);
    let lining = materials
        .lining
        .thermal
        .layer(spec.lining_m, spec.pad_share);
    let disc = [lining, materials.core.layer(spec.core_m, 1.0), lining];
    let mut layers = vec![plate(spec.pressure_plate_m)];
    for index in 0..spec.discs {
        layers.extend(disc);
        let last = index + 1 == spec.discs;
        layers.push(plate(if last {
            spec.flywheel_m
        } else {
            spec.floater_m
        }));
    }
    layers
}

/// Heat capacity of the whole stack \[J/K\].
pub fn capacity_j_k(spec: &Spec) -> f64 {
    let area: f64 = layers(spec).iter().map(Layer::capacity_j_m2_k).sum();
    area * spec.face.area_m2()
}

/// The boundary of a face: disc d lies between boundaries 4 d + 1 and 4 d + 4.
fn boundary_of(face: usize) -> usize {
    4 * (face / 2) + if face % 2 == 0 { 1 } else { 4 }
}

/// The plate that a face rubs on.
fn plate_of(face: usize) -> usize {
    4 * (face / 2) + if face % 2 == 0 { 0 } else { 4 }
}

fn highest_mean(history: &History, layer: usize) -> f64 {
    history.layers[layer]
        .iter()
        .map(|state| state.mean_k)
        .fold(0.0, f64::max)
}

/// A column of equally spaced values at a share of its length, linear between them.
fn between(column: &[f64], share: f64) -> f64 {
    let last = column.len() - 1;
    let at = (share * last as f64).clamp(0.0, last as f64);
    let low = (at as usize).min(last.saturating_sub(1));
    column[low] + (at - low as f64) * (column[(low + 1).min(last)] - column[low])
}

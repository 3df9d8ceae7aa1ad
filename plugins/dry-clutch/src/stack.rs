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
pub const PLATE_VALUES: usize = 3 + 2 * Bent::VALUES;

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
    cells: 8,
    steps: 80,
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
    /// The floater that is most bent.
    pub floater: Bent,
    /// The pressure plate.
    pub pressure_plate: Bent,
    /// Highest rise of a hot band above the mean of the plate that it is on.
    pub band: f64,
}

/// A plate that is hotter on one face, for 1 J/m² on each face of the stack \[K·m²/J\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bent {
    /// Largest half difference across the plate.
    pub peak: f64,
    /// Rise of its hotter face by then.
    pub hot_at_peak: f64,
    /// Half difference as each twelfth of the heat is half made.
    pub half: [f64; SAMPLES],
    /// Rise of the hotter face by then.
    pub hot: [f64; SAMPLES],
}

impl Bent {
    /// How many values it has.
    pub const VALUES: usize = 2 + 2 * SAMPLES;

    /// As values of a map.
    pub fn values(&self) -> impl Iterator<Item = f64> + '_ {
        let rest = self.half.iter().chain(&self.hot).copied();
        [self.peak, self.hot_at_peak].into_iter().chain(rest)
    }

    /// From values of a map.
    pub fn from_values(mut values: impl Iterator<Item = f64>) -> Self {
        let mut next = || values.next().unwrap_or(0.0);
        Self {
            peak: next(),
            hot_at_peak: next(),
            half: std::array::from_fn(|_| next()),
            hot: std::array::from_fn(|_| next()),
        }
    }
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
            let uneven = if face.is_multiple_of(2) {
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
        let samples = |face: usize| sampled(&history.boundaries_k[boundary_of(face)], &unit);
        let peaks = (0..self.faces).filter_map(|face| history.peak(boundary_of(face)));
        Response {
            faces: (0..self.faces).map(samples).collect(),
            face_peak: peaks.map(|peak| peak.value).fold(0.0, f64::max),
            plate_mean: self
                .plates()
                .map(|p| highest_mean(&history, p))
                .fold(0.0, f64::max),
            floater: self.bent(&history, &unit, self.floaters()),
            pressure_plate: self.bent(&history, &unit, std::iter::once(0)),
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

    /// The most bent of some plates.
    fn bent(&self, history: &History, unit: &Slip, plates: impl Iterator<Item = usize>) -> Bent {
        let steepest = |plate| Some((plate, history.steepest(plate)?));
        let size = |plate: usize, gradient: f64| gradient.abs() * self.layers[plate].thickness_m;
        let most = plates.filter_map(steepest).reduce(|most, next| {
            if size(next.0, next.1.value) > size(most.0, most.1.value) {
                next
            } else {
                most
            }
        });
        let Some((plate, steepest)) = most else {
            return Bent::default();
        };
        let half_m = 0.5 * self.layers[plate].thickness_m.copysign(steepest.value);
        let states = &history.layers[plate];
        let half: Vec<f64> = states
            .iter()
            .map(|state| state.gradient_k_m * half_m)
            .collect();
        let hot: Vec<f64> = states
            .iter()
            .zip(&half)
            .map(|(state, half)| state.mean_k + half.abs())
            .collect();
        let at = steepest.at_s / unit.duration_s;
        Bent {
            peak: between(&half, at),
            hot_at_peak: between(&hot, at),
            half: sampled(&half, unit),
            hot: sampled(&hot, unit),
        }
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
    4 * (face / 2) + if face.is_multiple_of(2) { 1 } else { 4 }
}

/// The plate that a face rubs on.
fn plate_of(face: usize) -> usize {
    4 * (face / 2) + if face.is_multiple_of(2) { 0 } else { 4 }
}

fn highest_mean(history: &History, layer: usize) -> f64 {
    history.layers[layer]
        .iter()
        .map(|state| state.mean_k)
        .fold(0.0, f64::max)
}

/// Equally spaced values over an engagement as each twelfth of its heat is half made.
fn sampled(column: &[f64], slip: &Slip) -> [f64; SAMPLES] {
    std::array::from_fn(|k| {
        let heat = (k as f64 + 0.5) / SAMPLES as f64;
        between(column, slip.time_share(heat))
    })
}

/// A column of equally spaced values at a share of its length, linear between them.
fn between(column: &[f64], share: f64) -> f64 {
    let last = column.len() - 1;
    let at = (share * last as f64).clamp(0.0, last as f64);
    let low = (at as usize).min(last.saturating_sub(1));
    column[low] + (at - low as f64) * (column[(low + 1).min(last)] - column[low])
}

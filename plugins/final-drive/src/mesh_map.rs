//! Meshes solved over speed, torque and oil temperature, and looked up between them: straight in the logarithms, so that what rises from node to
//! node rises between them.

use ringland_plugin::{Finding, error};

use crate::gears::Gears;
use crate::mesh::{Mating, Mesh, Running};
use crate::spec::Spec;

/// An axis of the map: first node, last node, how many; even in the logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// First node.
    pub first: f64,
    /// Last node.
    pub last: f64,
    /// Nodes, at least 2.
    pub nodes: usize,
}

impl Axis {
    /// Value at a node.
    pub fn at(&self, node: usize) -> f64 {
        let share = node as f64 / (self.nodes - 1) as f64;
        self.first * libm::pow(self.last / self.first, share)
    }

    /// The node before a value, how far it lies beyond that on the way to the next, held at the ends, and whether it lies beyond the last.
    fn place(&self, value: f64) -> (usize, f64, bool) {
        let held = value.clamp(self.first, self.last);
        let share = libm::log(held / self.first) / libm::log(self.last / self.first);
        let position = share * (self.nodes - 1) as f64;
        let before = (position as usize).min(self.nodes - 2);
        let beyond = value > self.last * (1.0 + 1.0e-9);
        (before, position - before as f64, beyond)
    }
}

/// Axes of the map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// Speed of the ring gear \[rad/s\].
    pub speed: Axis,
    /// Axle torque without sign \[N·m\].
    pub torque: Axis,
    /// Oil temperature \[K\].
    pub oil: Axis,
}

/// The map's grid.
pub const GRID: Grid = Grid {
    speed: Axis {
        first: 2.0,
        last: 400.0,
        nodes: 11,
    },
    torque: Axis {
        first: 20.0,
        last: 16_000.0,
        nodes: 8,
    },
    oil: Axis {
        first: 290.0,
        last: 440.0,
        nodes: 7,
    },
};

/// Values of a mesh.
const VALUES: usize = 5;
/// Slope of ln(dose) over ln(roughness), after the nodes.
const SLOPES: usize = 1;
/// What is added before a logarithm is taken, so that nothing is a number: doses \[N/m\], temperatures \[K\], ratio.
const FLOORS: [f64; VALUES] = [1.0e-1, 1.0e-1, 0.01, 0.01, 1.0e-4];

fn logs(mesh: &Mesh) -> [f64; VALUES] {
    let values = [
        mesh.pinion_dose_n_m,
        mesh.ring_dose_n_m,
        mesh.flash_k,
        mesh.bulk_rise_k,
        mesh.film_ratio,
    ];
    std::array::from_fn(|k| libm::log(values[k] + FLOORS[k]))
}

fn from_logs(logs: [f64; VALUES]) -> Mesh {
    let [
        pinion_dose_n_m,
        ring_dose_n_m,
        flash_k,
        bulk_rise_k,
        film_ratio,
    ] = std::array::from_fn(|k| (libm::exp(logs[k]) - FLOORS[k]).max(0.0));
    Mesh {
        pinion_dose_n_m,
        ring_dose_n_m,
        flash_k,
        bulk_rise_k,
        film_ratio,
    }
}

/// Solves the map of both flanks, then the slope over roughness.
///
/// # Errors
/// A spec that makes no pair.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    prepare_on(spec, &GRID)
}

/// The same on another grid.
///
/// # Errors
/// A spec that makes no pair.
pub fn prepare_on(spec: &Spec, grid: &Grid) -> Result<Vec<f64>, Vec<Finding>> {
    let gears = Gears::new(spec)?;
    let mut prepared = Vec::with_capacity(length(grid));
    for flank in &gears.flanks {
        let mating = Mating::new(spec, flank, 1.0);
        for speed in 0..grid.speed.nodes {
            for torque in 0..grid.torque.nodes {
                for oil in 0..grid.oil.nodes {
                    prepared.extend(logs(&mating.mesh(&Running {
                        ring_rad_s: grid.speed.at(speed),
                        torque_n_m: grid.torque.at(torque),
                        oil_k: grid.oil.at(oil),
                    })));
                }
            }
        }
    }
    prepared.push(roughness_slope(spec, &gears));
    Ok(prepared)
}

fn length(grid: &Grid) -> usize {
    2 * grid.speed.nodes * grid.torque.nodes * grid.oil.nodes * VALUES + SLOPES
}

/// Flanks rougher by this much give the slope.
const ROUGHER: f64 = 1.1;

/// At half the rated torque, 60 rad/s of the wheels, warm: where a race car wears its pair.
fn roughness_slope(spec: &Spec, gears: &Gears) -> f64 {
    let running = Running {
        ring_rad_s: 60.0,
        torque_n_m: 0.5 * spec.rated_torque_n_m,
        oil_k: 378.15,
    };
    let dose = |roughness: f64| {
        let mating = Mating::new(spec, &gears.flanks[0], roughness);
        mating.mesh(&running).pinion_dose_n_m.max(1.0e-12)
    };
    (libm::log(dose(ROUGHER) / dose(1.0)) / libm::log(ROUGHER)).abs()
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct MeshMap<'a> {
    nodes: &'a [f64],
    grid: Grid,
    /// Slope of ln(dose) over ln(roughness), without its sign.
    pub dose_slope: f64,
}

impl<'a> MeshMap<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        Self::read_on(prepared, GRID)
    }

    /// The same of another grid.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read_on(prepared: &'a [f64], grid: Grid) -> Result<Self, Vec<Finding>> {
        let remedy = "prepare the specimen again";
        let expected = length(&grid);
        let wrong = |value: f64, expected: &str| vec![error("prepared", value, expected, remedy)];
        if prepared.len() != expected {
            let expected = format!("{expected} numbers");
            return Err(wrong(prepared.len() as f64, &expected));
        }
        if let Some(value) = prepared.iter().find(|value| !value.is_finite()) {
            return Err(wrong(*value, "finite numbers"));
        }
        let (nodes, slope) = prepared.split_at(expected - SLOPES);
        Ok(Self {
            nodes,
            grid,
            dose_slope: slope[0],
        })
    }

    /// A mesh of a flank at a state of running, and whether it lies beyond the map. Below the least torque doses and temperatures fall with
    /// it; below the least speed a mesh is as there.
    pub fn at(&self, flank: usize, running: &Running) -> (Mesh, bool) {
        let grid = &self.grid;
        let (speed, by_speed, fast) = grid.speed.place(running.ring_rad_s);
        let (torque, by_torque, strong) = grid.torque.place(running.torque_n_m);
        let (oil, by_oil, hot) = grid.oil.place(running.oil_k);
        let mut sums = [0.0; VALUES];
        for corner in 0..8 {
            let [i, j, k] = [corner & 1, (corner >> 1) & 1, corner >> 2];
            let row = (flank * grid.speed.nodes + speed + i) * grid.torque.nodes + torque + j;
            let node = (row * grid.oil.nodes + oil + k) * VALUES;
            let part = |next: usize, share: f64| if next == 1 { share } else { 1.0 - share };
            let weight = part(i, by_speed) * part(j, by_torque) * part(k, by_oil);
            let values = self.nodes.get(node..node + VALUES).unwrap_or_default();
            for (sum, value) in sums.iter_mut().zip(values) {
                *sum += weight * value;
            }
        }
        let mut mesh = from_logs(sums);
        let light = (running.torque_n_m / grid.torque.first).clamp(0.0, 1.0);
        mesh.pinion_dose_n_m *= light;
        mesh.ring_dose_n_m *= light;
        mesh.flash_k *= light;
        mesh.bulk_rise_k *= light;
        (mesh, fast || strong || hot)
    }
}

//! The prepared map: stress cycles of every site over speed and load, for a new, a half-aged and an aged damper.

use ringland_engine::{CycleLoads, Engine, MapGrid};
use ringland_mechanics::engine::EngineError;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{Harmonics, TorsionalChain};
use ringland_plugin::Finding;

use crate::spec::Spec;
use crate::stress::{CycleStress, NotchFactors, bending, sites};
use crate::torsion::{chain, respond, torque_harmonics};

/// States of the damper that are solved: aged by 0, a half, 1.
pub const DAMPERS: usize = 3;
/// Values of a site.
const SITE: usize = 3;
/// Values of a damper state besides its sites: power of the damper, amplitude of twist.
const MORE: usize = 2;

/// How finely the map is solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resolution {
    /// Speeds, from 0.15 to 1.35 of rated.
    pub speeds: usize,
    /// Loads, from 0 to 1.25 of full load.
    pub loads: usize,
    /// Points of the cycle.
    pub points: usize,
}

impl Resolution {
    /// That of the map: speeds 1/60 of rated apart, so that a resonance of a few per cent is resolved.
    pub const MAP: Self = Self {
        speeds: 73,
        loads: 5,
        points: 240,
    };

    /// Nodes for a number of throws.
    pub fn grid(&self, throws: usize) -> MapGrid {
        MapGrid {
            speeds: self.speeds,
            slowest: 0.15,
            fastest: 1.35,
            loads: self.loads,
            highest: 1.25,
            points: self.points,
            width: DAMPERS * state_width(throws) + 1,
            version: 1,
        }
    }
}

/// Sites of a crank: pin and journal fillets of each throw, shoulder of the nose.
pub fn site_count(throws: usize) -> usize {
    2 * throws + 1
}

fn state_width(throws: usize) -> usize {
    SITE * site_count(throws) + MORE
}

/// Why an operating point has no solution.
#[derive(Debug, Clone, PartialEq)]
pub enum Unsolved {
    /// The cylinder.
    Gas(EngineError),
    /// A number out of the range of its formula.
    Range(OutOfRange),
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Gas(error) => error.fmt(out),
            Self::Range(error) => error.fmt(out),
        }
    }
}

impl From<EngineError> for Unsolved {
    fn from(error: EngineError) -> Self {
        Self::Gas(error)
    }
}

impl From<OutOfRange> for Unsolved {
    fn from(error: OutOfRange) -> Self {
        Self::Range(error)
    }
}

/// Solves the map.
///
/// # Errors
/// The operating point without a solution, and why.
pub fn prepare(spec: &Spec, resolution: &Resolution) -> Result<Vec<f64>, Vec<Finding>> {
    let solver = NodeSolver::new(spec, resolution.points).map_err(|e| vec![unsolved(&e)])?;
    let grid = resolution.grid(spec.throws());
    ringland_engine::prepare(&spec.engine, &grid, |loads| solver.values(loads))
}

fn unsolved(error: &OutOfRange) -> Finding {
    ringland_plugin::error(
        error.field,
        error.value,
        error.expected,
        "check the dimension; the factors are not known outside",
    )
}

/// What is the same at every operating point.
pub struct NodeSolver<'a> {
    spec: &'a Spec,
    factors: NotchFactors,
    chains: Vec<TorsionalChain>,
    harmonics: Harmonics,
}

impl<'a> NodeSolver<'a> {
    /// Factors and chains of a spec, for cycles of so many points.
    ///
    /// # Errors
    /// A dimension out of the range of its formula.
    pub fn new(spec: &'a Spec, points: usize) -> Result<Self, OutOfRange> {
        let aged = |state: usize| chain(spec, state as f64 / (DAMPERS - 1) as f64);
        Ok(Self {
            spec,
            factors: NotchFactors::new(spec, 0.0)?,
            chains: (0..DAMPERS).map(aged).collect::<Result<_, _>>()?,
            harmonics: Harmonics::new(points),
        })
    }

    /// Values of an operating point, for the damper states one after the other.
    ///
    /// # Errors
    /// A response that is not finite.
    pub fn values(&self, loads: &CycleLoads) -> Result<Vec<f64>, Unsolved> {
        let spec = self.spec;
        let bending = bending(spec, &self.factors, loads);
        let harmonics = &self.harmonics;
        let torque = torque_harmonics(harmonics, loads);
        let mut values = Vec::with_capacity(DAMPERS * state_width(spec.throws()));
        for chain in &self.chains {
            let vibration = respond(spec, chain, loads.speed_rad_s, &torque)?;
            for site in sites(spec, &self.factors, &bending, &vibration, harmonics)? {
                values.extend([site.amplitude_pa, site.mean_pa, site.torsion_share]);
            }
            let twist = harmonics.trace(&vibration.twist_rad);
            let highest = twist.iter().copied().fold(f64::MIN, f64::max);
            let lowest = twist.iter().copied().fold(f64::MAX, f64::min);
            values.extend([vibration.damper_w, 0.5 * (highest - lowest)]);
        }
        values.push(mean_pin_load_n(loads));
        Ok(values)
    }
}

/// Mean of the magnitude of the rod's force on the pin over the cycle \[N\].
fn mean_pin_load_n(loads: &CycleLoads) -> f64 {
    let points = loads.angle_rad.len();
    let forces = (0..points).filter_map(|point| loads.pin_in_crank(point));
    forces.map(|force| force.magnitude_n()).sum::<f64>() / points as f64
}

/// One damper state at one operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State<'a> {
    values: &'a [f64],
}

impl State<'_> {
    /// Stress cycles of a site.
    pub fn site(&self, site: usize) -> CycleStress {
        let at = SITE * site;
        CycleStress {
            amplitude_pa: self.values[at].max(0.0),
            mean_pa: self.values[at + 1],
            torsion_share: self.values[at + 2].clamp(0.0, 1.0),
        }
    }

    /// Mean power that the damper turns into heat \[W\].
    pub fn damper_w(&self) -> f64 {
        self.values[self.values.len() - MORE].max(0.0)
    }

    /// Amplitude of the hub's twist against the flywheel \[rad\].
    pub fn twist_rad(&self) -> f64 {
        self.values[self.values.len() - 1].max(0.0)
    }
}

/// An operating point looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Looked {
    values: Vec<f64>,
    /// Whether the point lies off the map.
    pub outside: bool,
}

impl Looked {
    /// A damper state, from 0 (new) to [`DAMPERS`] − 1 (aged).
    pub fn state(&self, damper: usize) -> State<'_> {
        let width = (self.values.len() - 1) / DAMPERS;
        State {
            values: &self.values[damper * width..(damper + 1) * width],
        }
    }

    /// Mean of the magnitude of the rod's force on the pin over the cycle \[N\].
    pub fn mean_pin_load_n(&self) -> f64 {
        self.values.last().copied().unwrap_or(0.0).max(0.0)
    }
}

/// The prepared map, read.
#[derive(Debug, Clone, Copy)]
pub struct OperatingMap<'a> {
    map: ringland_engine::OperatingMap<'a>,
    width: usize,
}

impl<'a> OperatingMap<'a> {
    /// Reads what [`prepare`] gave for the same spec.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        Self::read_at(prepared, &spec.engine, spec.throws(), &Resolution::MAP)
    }

    /// Reads a map of another resolution.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn read_at(
        prepared: &'a [f64],
        engine: &Engine,
        throws: usize,
        resolution: &Resolution,
    ) -> Result<Self, Vec<Finding>> {
        let grid = resolution.grid(throws);
        Ok(Self {
            map: ringland_engine::OperatingMap::read(prepared, engine, &grid)?,
            width: grid.width,
        })
    }

    /// Looks an operating point up: speed \[rad/s\], net indicated mean effective pressure \[Pa\].
    pub fn look_up(&self, speed_rad_s: f64, imep_pa: f64) -> Looked {
        let mut values = vec![0.0; self.width];
        let outside = self.map.look_up(speed_rad_s, imep_pa, &mut values);
        Looked { values, outside }
    }

    /// Indicated pressure of a block \[Pa\].
    pub fn imep_pa(&self, block: &ringland_engine::Block) -> f64 {
        self.map.imep_pa(block)
    }
}

//! The bearing solved over operating points, viscosities and fillings of the gap, and looked up between them.

use std::fmt::Display;

use ringland_engine::{Block, CycleLoads, MapGrid, OperatingMap};
use ringland_mechanics::interpolate::Weights;
use ringland_mechanics::journal::{LoadCycle, MobilityGrid};
use ringland_plugin::{Finding, error};

use crate::bearing::{Bearing, FLOORS, LAYERS, NoSolution, Solution, VALUES};
use crate::constants::{FLOODING_PA_S, LEAST_LAYER, OIL_DENSITY_KG_M3};
use crate::shell_load::{pulses_pa, shell_load};
use crate::spec::{Position, Spec};
use crate::starting::{self, Starts};

/// Viscosities of the map \[Pa·s\]: even in their logarithm.
pub const VISCOSITIES_PA_S: [f64; 6] = [1.0e-3, 1.6e-3, 2.56e-3, 4.096e-3, 6.5536e-3, 10.48576e-3];
const WIDTH: usize = VISCOSITIES_PA_S.len() * LAYERS.len() * VALUES + 2;

/// Grid of the map.
pub const GRID: MapGrid = MapGrid {
    speeds: 7,
    slowest: 0.15,
    fastest: 1.35,
    loads: 5,
    highest: 1.25,
    points: 180,
    width: WIDTH,
    version: 1,
};

/// Solves the map: operating points, then starts, then the slope of ln(dose) over ln(roughness).
///
/// # Errors
/// An operating point without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let bearing = Bearing::new(spec, &MobilityGrid::USUAL, 1.0);
    let engine = &spec.engine;
    let mut prepared =
        ringland_engine::prepare(engine, &GRID, |loads| node(&bearing, spec, loads))?;
    let solver =
        ringland_engine::CycleSolver::new(engine, GRID.points).map_err(|e| unsolved(&e))?;
    let cranking = solver
        .loads(spec.cranking_speed_rad_s, 0.0)
        .map_err(|e| unsolved(&e))?;
    prepared
        .extend(starting::solve(&bearing, &shell_load(spec, &cranking)).map_err(|e| unsolved(&e))?);
    let full = solver
        .loads(engine.rated_speed_rad_s, engine.full_load_imep_pa)
        .map_err(|e| unsolved(&e))?;
    prepared.push(sensitivity(&bearing, &shell_load(spec, &full)).map_err(|e| unsolved(&e))?);
    Ok(prepared)
}

fn node(bearing: &Bearing, spec: &Spec, loads: &CycleLoads) -> Result<Vec<f64>, NoSolution> {
    let cycle = shell_load(spec, loads);
    let mut values = Vec::with_capacity(WIDTH);
    for viscosity_pa_s in VISCOSITIES_PA_S {
        for layer in 0..LAYERS.len() {
            values.extend(bearing.solve(&cycle, viscosity_pa_s, layer)?.logs());
        }
    }
    values.extend(pulses_pa(spec, &cycle));
    Ok(values)
}

fn unsolved(wrong: &impl Display) -> Vec<Finding> {
    vec![error(
        "spec",
        wrong.to_string().as_str(),
        "an operating point with a solution",
        "bring the spec nearer to the defaults of the card, field by field",
    )]
}

/// Slope of ln(dose) over ln(composite roughness) at full load and rated speed, in thin oil.
fn sensitivity(bearing: &Bearing, cycle: &LoadCycle) -> Result<f64, NoSolution> {
    let worst = |bearing: &Bearing| -> Result<f64, NoSolution> {
        let [upper, lower] = bearing.solve(cycle, VISCOSITIES_PA_S[2], 0)?.dose_pa_m;
        Ok(libm::log(upper.max(lower) + FLOORS[0]))
    };
    let step = 0.1;
    let rougher = bearing.with_roughness(1.0 + step);
    Ok((worst(&rougher)? - worst(bearing)?) / libm::log1p(step))
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct BearingMap<'a> {
    spec: Spec,
    points: OperatingMap<'a>,
    /// Starts.
    pub starts: Starts,
    /// Slope of ln(dose) over ln(composite roughness).
    pub roughness_slope: f64,
}

/// The map at one speed and load, still over viscosity and filling.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    values: [f64; WIDTH],
    /// Whether it had to be extrapolated.
    pub extrapolated: bool,
}

impl<'a> BearingMap<'a> {
    /// Reads what [`prepare`] gave for the same specimen.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let rest = prepared.get(GRID.length()..).unwrap_or_default();
        let Some((&starts, &[roughness_slope])) = rest.split_first_chunk::<{ starting::VALUES }>()
        else {
            return Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{} numbers", GRID.length() + starting::VALUES + 1),
                "prepare the specimen again",
            )]);
        };
        if !(roughness_slope.is_finite() && starts.iter().all(|value| value.is_finite())) {
            return Err(vec![error(
                "prepared",
                roughness_slope,
                "finite numbers",
                "prepare the specimen again",
            )]);
        }
        Ok(Self {
            spec: *spec,
            points: OperatingMap::read(&prepared[..GRID.length()], &spec.engine, &GRID)?,
            starts: Starts::read(&starts),
            roughness_slope,
        })
    }

    /// Net indicated mean effective pressure of a block \[Pa\].
    pub fn imep_pa(&self, block: &Block) -> f64 {
        self.points.imep_pa(block)
    }

    /// Peak cylinder pressure \[Pa\].
    pub fn peak_pressure_pa(&self, speed_rad_s: f64, imep_pa: f64) -> f64 {
        self.points.peak_pressure_pa(speed_rad_s, imep_pa)
    }

    /// Looks a speed \[rad/s\] and a net indicated mean effective pressure \[Pa\] up.
    pub fn place(&self, speed_rad_s: f64, imep_pa: f64) -> Place {
        let mut values = [0.0; WIDTH];
        let extrapolated = self.points.look_up(speed_rad_s, imep_pa, &mut values);
        Place {
            values,
            extrapolated,
        }
    }

    /// Oil in the gap, in radial clearances, at a gallery pressure \[Pa\]: full from the pressure that practice asks of the speed,
    /// nothing but what clings to the walls where the pressure cannot lift the oil against the rotation of the drilling that feeds a
    /// crank pin, and in proportion between, as a laminar feed.
    pub fn layer(&self, speed_rad_s: f64, oil_pressure_pa: f64) -> f64 {
        layer(&self.spec, speed_rad_s, oil_pressure_pa)
    }
}

/// See [`BearingMap::layer`].
pub fn layer(spec: &Spec, speed_rad_s: f64, oil_pressure_pa: f64) -> f64 {
    let rim_m_s = match spec.position {
        Position::Rod => speed_rad_s * spec.feed_radius_m,
        Position::Main => 0.0,
    };
    let barrier_pa = 0.5 * OIL_DENSITY_KG_M3 * rim_m_s * rim_m_s;
    let full_pa = FLOODING_PA_S * speed_rad_s;
    let span_pa = (full_pa - barrier_pa).max(0.1 * full_pa).max(1.0);
    let share = (oil_pressure_pa - barrier_pa) / span_pa;
    (LAYERS[0] * share).clamp(LEAST_LAYER, LAYERS[0])
}

impl Place {
    /// Damaging specific load of upper and lower shell \[Pa\].
    pub fn pulses_pa(&self) -> [f64; 2] {
        [
            self.values[WIDTH - 2].max(0.0),
            self.values[WIDTH - 1].max(0.0),
        ]
    }

    /// The solution at a viscosity \[Pa·s\] and a filling: cubic in the logarithm of viscosity, linear in that of filling. Thinner
    /// or thicker oil than the map has is held at its ends: it hardly carries, or does not touch.
    pub fn at(&self, viscosity_pa_s: f64, layer: f64) -> Solution {
        let first = libm::log(VISCOSITIES_PA_S[0]);
        let step = libm::log(VISCOSITIES_PA_S[1]) - first;
        let count = VISCOSITIES_PA_S.len();
        let place = ((libm::log(viscosity_pa_s) - first) / step).clamp(0.0, (count - 1) as f64);
        let weights = Weights::new(place, count);
        let (upper, share) = between(layer);
        let mut logs = [0.0; VALUES];
        for (k, weight) in weights.nodes.iter().enumerate() {
            let row = (weights.first + k) * LAYERS.len();
            for (side, part) in [(upper, 1.0 - share), (upper + 1, share)] {
                let at = (row + side) * VALUES;
                for (log, node) in logs.iter_mut().zip(&self.values[at..at + VALUES]) {
                    *log += weight * part * node;
                }
            }
        }
        Solution::from_logs(logs)
    }
}

/// Index of the fuller of the two fillings about one, and the share of the emptier.
fn between(layer: f64) -> (usize, f64) {
    let upper = usize::from(layer < LAYERS[1]);
    let (high, low) = (libm::log(LAYERS[upper]), libm::log(LAYERS[upper + 1]));
    let share = (high - libm::log(layer)) / (high - low);
    (upper, share.clamp(0.0, 1.0))
}

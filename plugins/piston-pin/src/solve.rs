//! One operating point over the crank angle, and the map of them.

use ringland_engine::{CycleLoads, MapGrid, OperatingMap};
use ringland_mechanics::contact::{GreenwoodTable, GreenwoodTripp, effective_modulus_pa};
use ringland_mechanics::engine::EngineError;
use ringland_mechanics::interpolate::Weights;
use ringland_mechanics::piston_pin::{Bush, BushCycle, BushFilmError, BushStep};
use ringland_plugin::Finding;

use crate::constants::{BUSH_SWING_SHARE, CRANKCASE_PA, KNOCK_PEAK, POISSON};
use crate::spec::Spec;

/// Viscosities at which the bush is solved: 2, 4, 8, 16 mPa·s.
const VISCOSITIES: usize = 4;
const FIRST_VISCOSITY_PA_S: f64 = 2.0e-3;
/// Peak pressures over clean combustion at which it is solved.
const KNOCK: [f64; 2] = [1.0, 1.0 + KNOCK_PEAK[1]];

/// Lowest force; highest force for each peak; logarithms of dose and severity for each peak and viscosity.
const WIDTH: usize = 1 + KNOCK.len() * (1 + 2 * VISCOSITIES);

/// Grid of the map.
pub const GRID: MapGrid = MapGrid {
    speeds: 7,
    ..MapGrid::usual(WIDTH, 1)
};

/// Below these, logarithms are not followed.
const LEAST_DOSE_PA_M: f64 = 1.0;
const LEAST_SEVERITY_W_M2: f64 = 1.0;

/// What one cycle at one operating point does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cycle {
    /// Highest and lowest force between pin and bush \[N\], positive when the rod is pressed.
    pub force_n: [f64; 2],
    /// Asperity pressure times sliding \[Pa·m\].
    pub dose_pa_m: f64,
    /// Highest asperity pressure times sliding speed \[W/m²\].
    pub severity_w_m2: f64,
}

/// Why a node has no solution.
#[derive(Debug, Clone, PartialEq)]
pub enum Unsolved {
    /// The engine's cycle.
    Engine(EngineError),
    /// The bush's film.
    Film(BushFilmError),
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Engine(error) => error.fmt(out),
            Self::Film(error) => error.fmt(out),
        }
    }
}

impl From<EngineError> for Unsolved {
    fn from(error: EngineError) -> Self {
        Self::Engine(error)
    }
}

impl From<BushFilmError> for Unsolved {
    fn from(error: BushFilmError) -> Self {
        Self::Film(error)
    }
}

/// Solves the map.
///
/// # Errors
/// The operating point that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let table = GreenwoodTable::new();
    ringland_engine::prepare(&spec.engine, &GRID, |loads| node(spec, &table, loads))
}

fn node(spec: &Spec, table: &GreenwoodTable, loads: &CycleLoads) -> Result<Vec<f64>, Unsolved> {
    let mut values = vec![extremes_n(&steps(spec, loads, 1.0))[1]];
    for peak in KNOCK {
        let steps = steps(spec, loads, peak);
        let mut severities = [0.0; VISCOSITIES];
        values.push(extremes_n(&steps)[0]);
        for (k, severity) in severities.iter_mut().enumerate() {
            let viscosity_pa_s = FIRST_VISCOSITY_PA_S * f64::from(1_u32 << k);
            let cycle = film(spec, table, loads, &steps, viscosity_pa_s)?;
            values.push(libm::log(cycle.dose_pa_m.max(LEAST_DOSE_PA_M)));
            *severity = libm::log(cycle.severity_w_m2.max(LEAST_SEVERITY_W_M2));
        }
        values.extend(severities);
    }
    Ok(values)
}

/// A cycle solved without the map, at a peak pressure over that of clean combustion and a viscosity \[Pa·s\]; also the bush's own account.
///
/// # Errors
/// A film that does not repeat.
pub fn direct(
    spec: &Spec,
    table: &GreenwoodTable,
    loads: &CycleLoads,
    peak: f64,
    viscosity_pa_s: f64,
) -> Result<(Cycle, BushCycle), Unsolved> {
    let steps = steps(spec, loads, peak);
    let bush = film(spec, table, loads, &steps, viscosity_pa_s)?;
    let cycle = Cycle {
        force_n: extremes_n(&steps),
        dose_pa_m: bush.dose_pa_m,
        severity_w_m2: bush.severity_w_m2,
    };
    Ok((cycle, bush))
}

/// Force along the rod between pin and bush, and sliding speed, over the cycle. The part of the gas pressure above half of its peak is
/// stretched so that the peak is `peak` times the clean one.
pub fn steps(spec: &Spec, loads: &CycleLoads, peak: f64) -> Vec<BushStep> {
    let crank = loads.crank();
    let own = spec.piston_and_pin_mass_kg / spec.engine.reciprocating_mass_kg;
    let half_pa = 0.5 * loads.peak_pressure_pa;
    let area_m2 = 0.25 * std::f64::consts::PI * spec.engine.bore_m * spec.engine.bore_m;
    let lambda = crank.crank_radius_m / crank.rod_length_m;
    let points = loads.angle_rad.iter().zip(&loads.pressure_pa);
    points
        .zip(&loads.forces)
        .map(|((angle, pressure_pa), forces)| {
            let risen_pa = (pressure_pa - half_pa).max(0.0) * 2.0 * (peak - 1.0);
            let gas_n = (pressure_pa + risen_pa - CRANKCASE_PA) * area_m2;
            let tilt = crank.rod_angle_rad(*angle).cos();
            // The rod swings at ω λ cos θ / cos φ.
            let swing_rad_s = loads.speed_rad_s * lambda * angle.cos() / tilt;
            BushStep {
                force_n: (gas_n + own * forces.inertia_n) / tilt,
                sliding_m_s: swing_rad_s.abs() * 0.5 * spec.pin.outer_m * BUSH_SWING_SHARE,
            }
        })
        .collect()
}

fn extremes_n(steps: &[BushStep]) -> [f64; 2] {
    let forces = steps.iter().map(|step| step.force_n);
    [
        forces.clone().fold(f64::NEG_INFINITY, f64::max),
        forces.fold(f64::INFINITY, f64::min),
    ]
}

fn film(
    spec: &Spec,
    table: &GreenwoodTable,
    loads: &CycleLoads,
    steps: &[BushStep],
    viscosity_pa_s: f64,
) -> Result<BushCycle, BushFilmError> {
    let bush = Bush {
        area_m2: spec.bush_area_m2(),
        clearance_m: spec.bush_clearance_m,
        patch_m: spec.oil_patch_m,
        contact: GreenwoodTripp {
            sigma_m: spec.pin_rq_m.hypot(spec.bush_rq_m),
            radius_m: spec.summit_radius_m,
            density_per_m2: spec.summit_density_per_m2,
            modulus_pa: effective_modulus_pa(
                (spec.pin.modulus_pa, POISSON),
                (spec.bush_modulus_pa, POISSON),
            ),
        },
        table,
    };
    bush.march(steps, loads.period_s() / steps.len() as f64, viscosity_pa_s)
}

/// Looks up a cycle at a speed \[rad/s\], a net indicated mean effective pressure \[Pa\], a viscosity \[Pa·s\] and a peak pressure over that of
/// clean combustion; whether the map had to be extrapolated.
pub fn look_up(
    map: &OperatingMap<'_>,
    speed_rad_s: f64,
    imep_pa: f64,
    viscosity_pa_s: f64,
    peak: f64,
) -> (Cycle, bool) {
    let mut values = [0.0; WIDTH];
    let off = map.look_up(speed_rad_s, imep_pa, &mut values);
    let (lowest_n, blocks) = (values[0], &values[1..]);
    let place = libm::log2(viscosity_pa_s / FIRST_VISCOSITY_PA_S);
    let weights = Weights::new(place, VISCOSITIES);
    let between = |nodes: &[f64]| -> f64 {
        let nodes = weights.nodes.iter().zip(nodes);
        nodes.map(|(weight, value)| weight * value).sum()
    };
    let solved = |block: &[f64]| {
        let (doses, severities) = block[1..].split_at(VISCOSITIES);
        [block[0], between(doses), between(severities)]
    };
    let (clean, knocking) = blocks.split_at(1 + 2 * VISCOSITIES);
    let (clean, knocking) = (solved(clean), solved(knocking));
    let share = (peak - KNOCK[0]) / (KNOCK[1] - KNOCK[0]);
    let [highest_n, dose, severity] =
        std::array::from_fn(|k| clean[k] + share * (knocking[k] - clean[k]));
    let cycle = Cycle {
        force_n: [highest_n, lowest_n],
        dose_pa_m: libm::exp(dose),
        severity_w_m2: libm::exp(severity),
    };
    (cycle, off)
}

//! Starts: the engine cranks on what oil clings to the walls until the gallery fills.

use ringland_mechanics::journal::LoadCycle;

use crate::bearing::{Bearing, LAYERS, NoSolution};

/// Viscosities of cold to hot starts \[Pa·s\], even in their logarithm.
const VISCOSITIES_PA_S: [f64; 4] = [2.5e-3, 10.0e-3, 40.0e-3, 160.0e-3];
/// Numbers that describe starts.
pub const VALUES: usize = 3 * VISCOSITIES_PA_S.len();
/// Below this nothing is told apart: a dose \[Pa·m\], a flux \[W/m²\].
const FLOOR: f64 = 1.0;

/// Cranking solved over viscosity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Starts {
    /// ln of the dose of a cycle on upper and lower shell and of the flux, at each viscosity.
    logs: [[f64; 3]; VISCOSITIES_PA_S.len()],
}

/// Dose of a cycle of cranking \[Pa·m\] on upper and lower shell, and highest flux \[W/m²\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cranking {
    /// Dose of a cycle.
    pub dose_pa_m: [f64; 2],
    /// Highest asperity pressure times sliding speed.
    pub flux_w_m2: f64,
}

/// Solves cranking.
///
/// # Errors
/// An orbit that does not close.
pub fn solve(bearing: &Bearing, cycle: &LoadCycle) -> Result<Vec<f64>, NoSolution> {
    let mut values = Vec::with_capacity(VALUES);
    for viscosity_pa_s in VISCOSITIES_PA_S {
        let solved = bearing.solve(cycle, viscosity_pa_s, LAYERS.len() - 1)?;
        let [upper, lower] = solved.dose_pa_m;
        values.extend([upper, lower, solved.flux_w_m2].map(|value| libm::log(value + FLOOR)));
    }
    Ok(values)
}

impl Starts {
    /// Reads what [`solve`] gave.
    pub fn read(values: &[f64; VALUES]) -> Self {
        let mut logs = [[0.0; 3]; VISCOSITIES_PA_S.len()];
        for (row, chunk) in logs.iter_mut().zip(values.as_chunks::<3>().0) {
            *row = *chunk;
        }
        Self { logs }
    }

    /// Cranking at a viscosity \[Pa·s\]: linear between nodes, held beyond.
    pub fn at(&self, viscosity_pa_s: f64) -> Cranking {
        let first = libm::log(VISCOSITIES_PA_S[0]);
        let step = libm::log(VISCOSITIES_PA_S[1]) - first;
        let last = VISCOSITIES_PA_S.len() - 1;
        let place = ((libm::log(viscosity_pa_s) - first) / step).clamp(0.0, last as f64);
        let below = (place as usize).min(last - 1);
        let share = place - below as f64;
        let value = |k: usize| {
            let log = self.logs[below][k] + share * (self.logs[below + 1][k] - self.logs[below][k]);
            (libm::exp(log) - FLOOR).max(0.0)
        };
        Cranking {
            dose_pa_m: [value(0), value(1)],
            flux_w_m2: value(2),
        }
    }
}

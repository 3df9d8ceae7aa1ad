//! A bearing solved under one load cycle.

use std::fmt::{self, Display};

use ringland_mechanics::engine::EngineError;
use ringland_mechanics::journal::{
    Asperities, JournalBearing, LoadCycle, MobilityGrid, MobilityMap, OrbitSettings, rubbing,
};

use crate::constants::LEAST_LAYER;
use crate::spec::Spec;

/// Fillings of the gap: oil in radial clearances; 2 is full at any eccentricity.
pub const LAYERS: [f64; 3] = [2.0, 0.4, LEAST_LAYER];
/// Values of one solution.
pub const VALUES: usize = 7;
/// Angles around the shell at which wear is followed.
pub const ANGLES: usize = 120;

/// What is added before a logarithm is taken, so that nothing is a number: far below what matters of a dose \[Pa·m\], a flux
/// \[W/m²\], a power \[W\], a flow \[m³/s\] and a film \[m\].
pub(crate) const FLOORS: [f64; VALUES] = [1.0e-3, 1.0e-3, 1.0, 1.0e-6, 1.0e-3, 1.0e-9, 1.0e-9];

/// A bearing at one operating point, one viscosity and one filling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solution {
    /// Asperity pressure times sliding distance of a cycle at the worst place of the upper and of the lower shell \[Pa·m\].
    pub dose_pa_m: [f64; 2],
    /// Highest asperity pressure times sliding speed \[W/m²\].
    pub flux_w_m2: f64,
    /// Mean asperity load times sliding speed \[W\].
    pub asperity_power_w: f64,
    /// Mean loss of the film \[W\].
    pub film_power_w: f64,
    /// Mean flow out of the sides \[m³/s\].
    pub side_flow_m3_s: f64,
    /// Least film \[m\].
    pub least_film_m: f64,
}

impl Solution {
    pub(crate) fn logs(&self) -> [f64; VALUES] {
        let [upper, lower] = self.dose_pa_m;
        let mut values = [
            upper,
            lower,
            self.flux_w_m2,
            self.asperity_power_w,
            self.film_power_w,
            self.side_flow_m3_s,
            self.least_film_m,
        ];
        for (value, floor) in values.iter_mut().zip(FLOORS) {
            *value = libm::log(*value + floor);
        }
        values
    }

    pub(crate) fn from_logs(logs: [f64; VALUES]) -> Self {
        let mut values = logs;
        for (value, floor) in values.iter_mut().zip(FLOORS) {
            *value = (libm::exp(*value) - floor).max(0.0);
        }
        let [
            upper,
            lower,
            flux_w_m2,
            asperity_power_w,
            film_power_w,
            side_flow_m3_s,
            least_film_m,
        ] = values;
        Self {
            dose_pa_m: [upper, lower],
            flux_w_m2,
            asperity_power_w,
            film_power_w,
            side_flow_m3_s,
            least_film_m,
        }
    }
}

/// Why there is no solution at an operating point.
#[derive(Debug, Clone, PartialEq)]
pub enum NoSolution {
    /// The cycle of the cylinder has none.
    Engine(EngineError),
    /// The orbit does not come back to where it was.
    Open {
        /// Viscosity \[Pa·s\].
        viscosity_pa_s: f64,
        /// Change of ln(1 − ε) over the last cycle.
        closure: f64,
    },
}

impl From<EngineError> for NoSolution {
    fn from(wrong: EngineError) -> Self {
        Self::Engine(wrong)
    }
}

impl Display for NoSolution {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Engine(wrong) => wrong.fmt(out),
            Self::Open {
                viscosity_pa_s,
                closure,
            } => write!(
                out,
                "the journal's orbit at {viscosity_pa_s} Pa.s does not close: ln(1 - eccentricity) changes by {closure:.1e} a cycle"
            ),
        }
    }
}

/// A bearing ready to be solved.
#[derive(Debug, Clone)]
pub struct Bearing {
    spec: Spec,
    maps: Vec<MobilityMap>,
    asperities: Asperities,
}

impl Bearing {
    /// Solves the films. `roughness` multiplies the composite roughness.
    pub fn new(spec: &Spec, grid: &MobilityGrid, roughness: f64) -> Self {
        let ratio = spec.film_width_m / spec.journal_diameter_m;
        Self {
            spec: *spec,
            maps: MobilityMap::family(ratio, &LAYERS[1..], grid),
            asperities: Asperities::new(spec.contact(roughness), spec.clearance_m()),
        }
    }

    /// The same films under surfaces of another roughness.
    #[must_use]
    pub fn with_roughness(&self, roughness: f64) -> Self {
        let contact = self.spec.contact(roughness);
        Self {
            asperities: Asperities::new(contact, self.spec.clearance_m()),
            ..self.clone()
        }
    }

    /// Solves a load cycle at a viscosity \[Pa·s\] and filling `layer` (index into [`LAYERS`]).
    ///
    /// # Errors
    /// An orbit that does not close.
    pub fn solve(
        &self,
        cycle: &LoadCycle,
        viscosity_pa_s: f64,
        layer: usize,
    ) -> Result<Solution, NoSolution> {
        let bearing = JournalBearing {
            radius_m: self.spec.radius_m(),
            width_m: self.spec.film_width_m,
            clearance_m: self.spec.clearance_m(),
            film: &self.maps[layer],
            asperities: &self.asperities,
        };
        let settings = OrbitSettings::default();
        let orbit = bearing.orbit(viscosity_pa_s, cycle, &settings);
        // NaN is no closed orbit either.
        let closed = orbit.closure <= settings.closure;
        if !closed {
            return Err(NoSolution::Open {
                viscosity_pa_s,
                closure: orbit.closure,
            });
        }
        let rubbed = rubbing(
            &bearing,
            viscosity_pa_s,
            LAYERS[layer],
            cycle,
            &orbit,
            ANGLES,
        );
        // Angle 0 is the middle of the upper shell, which reaches a quarter turn either way.
        let worst = |upper: bool| {
            let doses = rubbed.dose_pa_m.iter().enumerate();
            let quarter = ANGLES / 4;
            let inside = |angle: usize| (angle <= quarter || angle >= ANGLES - quarter) == upper;
            doses
                .filter(|(angle, _)| inside(*angle))
                .map(|(_, dose)| *dose)
                .fold(0.0, f64::max)
        };
        Ok(Solution {
            dose_pa_m: [worst(true), worst(false)],
            flux_w_m2: rubbed.peak_flux_w_m2,
            asperity_power_w: rubbed.asperity_power_w,
            film_power_w: rubbed.film_power_w,
            side_flow_m3_s: rubbed.side_flow_m3_s,
            least_film_m: rubbed.least_film_m,
        })
    }
}

use crate::contact::{GreenwoodTable, GreenwoodTripp};
use crate::interpolate::Weights;

/// Asperity contact of a journal with its shell: the pressure of Greenwood and Tripp over the gap around the journal.
#[derive(Debug, Clone)]
pub struct Asperities {
    contact: GreenwoodTripp,
    table: GreenwoodTable,
    clearance_m: f64,
    /// ln of the load over radius times width \[Pa\], at even separations of the narrowest gap.
    logs: Vec<f64>,
}

/// Widest separation of mean planes that touches, in units of σ.
const REACH: f64 = 6.0;
const STEPS: usize = 60;

impl Asperities {
    /// For a radial clearance \[m\].
    pub fn new(contact: GreenwoodTripp, clearance_m: f64) -> Self {
        let mut asperities = Self {
            contact,
            table: GreenwoodTable::new(),
            clearance_m,
            logs: Vec::with_capacity(STEPS + 1),
        };
        for step in 0..=STEPS {
            let narrowest_m = contact.sigma_m * REACH * step as f64 / STEPS as f64;
            let integral = asperities.integrate(narrowest_m);
            asperities.logs.push(libm::log(integral));
        }
        asperities
    }

    /// Pressure at a gap \[Pa\].
    pub fn pressure_pa(&self, gap_m: f64) -> f64 {
        self.contact.pressure_pa(&self.table, gap_m)
    }

    /// Widest gap that still touches \[m\].
    pub fn reach_m(&self) -> f64 {
        REACH * self.contact.sigma_m
    }

    /// Load carried towards the narrowest gap \[N\] over radius times width \[m²\], at a narrowest gap \[m\], 0 or more.
    pub fn load_pa(&self, narrowest_m: f64) -> f64 {
        let place = narrowest_m / self.contact.sigma_m / REACH * STEPS as f64;
        if place >= STEPS as f64 {
            return 0.0;
        }
        let weights = Weights::new(place.max(0.0), self.logs.len());
        let nodes = &self.logs[weights.first..weights.first + 4];
        let log: f64 = weights.nodes.iter().zip(nodes).map(|(w, l)| w * l).sum();
        libm::exp(log)
    }

    /// `∫ p cos θ dθ` by the trapezoidal rule, out to where the gap no longer touches.
    fn integrate(&self, narrowest_m: f64) -> f64 {
        const HALF: usize = 64;
        let eccentricity_m = self.clearance_m - narrowest_m;
        let beyond = self.contact.sigma_m * (REACH + 2.0);
        let reach = ((beyond - narrowest_m) / eccentricity_m).clamp(0.0, 2.0);
        let widest = libm::acos(1.0 - reach);
        let width = widest / HALF as f64;
        let at = |k: usize| {
            let theta = width * k as f64;
            let gap_m = narrowest_m + eccentricity_m * (1.0 - libm::cos(theta));
            self.pressure_pa(gap_m) * libm::cos(theta)
        };
        let inner: f64 = (1..HALF).map(at).sum();
        2.0 * width * (0.5 * (at(0) + at(HALF)) + inner)
    }
}

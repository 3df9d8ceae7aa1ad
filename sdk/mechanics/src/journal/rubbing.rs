use std::f64::consts::PI;

use super::orbit::{JournalBearing, LoadCycle, Orbit};

/// What asperities do to a shell over one cycle, and the losses of the film.
#[derive(Debug, Clone, PartialEq)]
pub struct Rubbing {
    /// Asperity pressure times sliding distance over a cycle \[Pa·m\], at even angles from the shell's first axis on.
    pub dose_pa_m: Vec<f64>,
    /// Highest asperity pressure times sliding speed at any angle and instant \[W/m²\]: times the friction coefficient it is the
    /// boundary heat.
    pub peak_flux_w_m2: f64,
    /// Mean of asperity load times sliding speed \[W\]: times the friction coefficient it is the boundary loss.
    pub asperity_power_w: f64,
    /// Mean loss of the film \[W\]: shear of the full gap and work of the pressure.
    pub film_power_w: f64,
    /// Mean flow out of both sides \[m³/s\].
    pub side_flow_m3_s: f64,
    /// Narrowest gap over the cycle \[m\].
    pub least_film_m: f64,
}

/// Follows an orbit around the shell, at so many angles, at least 1. `layer` is the oil of the map, in clearances: 2 when flooded.
pub fn rubbing(
    bearing: &JournalBearing<'_>,
    viscosity_pa_s: f64,
    layer: f64,
    cycle: &LoadCycle,
    orbit: &Orbit,
    angles: usize,
) -> Rubbing {
    let mut total = Rubbing {
        dose_pa_m: vec![0.0; angles],
        peak_flux_w_m2: 0.0,
        asperity_power_w: 0.0,
        film_power_w: 0.0,
        side_flow_m3_s: 0.0,
        least_film_m: f64::INFINITY,
    };
    let turns = (0..angles).map(|angle| 2.0 * PI * angle as f64 / angles as f64);
    let circle: Vec<(f64, f64)> = turns.map(libm::sincos).collect();
    let reach_m = bearing.asperities.reach_m();
    let area_m2 = bearing.radius_m * bearing.width_m * 2.0 * PI / angles as f64;
    let share = 1.0 / orbit.points.len() as f64;
    let shear = viscosity_pa_s * bearing.width_m * bearing.radius_m.powi(3) / bearing.clearance_m;
    for (point, spin) in orbit.points.iter().zip(&cycle.spin_rad_s) {
        let slide_m_s = bearing.radius_m * spin.abs();
        let [x, y] = point.eccentricity;
        let eccentricity = x.hypot(y);
        total.film_power_w += share
            * (shear * spin * spin * couette_integral(eccentricity, layer) + point.squeeze_power_w);
        total.side_flow_m3_s += share * point.side_flow_m3_s;
        total.least_film_m = total.least_film_m.min(point.film_m);
        if point.film_m > reach_m {
            continue;
        }
        for (dose, (sin, cos)) in total.dose_pa_m.iter_mut().zip(&circle) {
            let gap_m = bearing.clearance_m * (1.0 - x * cos - y * sin);
            if gap_m > reach_m {
                continue;
            }
            let flux_w_m2 = bearing.asperities.pressure_pa(gap_m) * slide_m_s;
            *dose += flux_w_m2 * cycle.step_s;
            total.peak_flux_w_m2 = total.peak_flux_w_m2.max(flux_w_m2);
            total.asperity_power_w += share * flux_w_m2 * area_m2;
        }
    }
    total
}

const STEPS: u32 = 64;

/// `∫ min(1, layer/H)/H dθ` around the journal: the shear of a gap that is full where it is at most `layer` clearances wide and
/// elsewhere carries a streamer of that thickness. `2π/√(1 − ε²)` for a full gap (layer of 2 or more).
pub fn couette_integral(eccentricity: f64, layer: f64) -> f64 {
    let whole = 2.0 * PI / (1.0 - eccentricity * eccentricity).sqrt();
    if layer >= 1.0 + eccentricity {
        return whole;
    }
    // In Sommerfeld's variable dθ/H = dγ/√(1 − ε²), and 1/H = (1 + ε cos γ)/(1 − ε²).
    let left = 1.0 - eccentricity * eccentricity;
    let full = |k: u32| {
        let gamma = 2.0 * PI * f64::from(k) / f64::from(STEPS);
        let inverse = (1.0 + eccentricity * libm::cos(gamma)) / left;
        (layer * inverse).min(1.0)
    };
    whole * (0..STEPS).map(full).sum::<f64>() / f64::from(STEPS)
}

//! Heat of a burst of slip in the plates: half a steel, a lining and half its core, with oil in the grooves of the face between.

use ringland_mechanics::clutch::heat::{Body, Boundary, Layer};
use ringland_plugin::{Finding, error};

use crate::constants as c;
use crate::spec::Spec;

/// Cells through a layer, steps over a burst.
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
    steps: 100,
};

/// Rise of the rubbing face above oil for 1 W/m² over a burst, from plates as warm as the oil \[K·m²/W\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rise {
    /// Mean over the burst.
    pub mean: f64,
    /// At its end.
    pub peak: f64,
}

/// Solves the response.
pub fn prepare(spec: &Spec) -> Vec<f64> {
    prepare_on(spec, GRID)
}

/// Solves the response on a grid.
pub fn prepare_on(spec: &Spec, grid: Grid) -> Vec<f64> {
    let rise = burst(spec, grid);
    vec![spec.faces, rise.mean, rise.peak]
}

/// Response to 1 W/m² over a corner.
pub fn burst(spec: &Spec, grid: Grid) -> Rise {
    let steel = |thickness_m| Layer {
        thickness_m,
        conductivity_w_m_k: c::STEEL_W_M_K,
        density_kg_m3: c::STEEL_KG_M3,
        heat_capacity_j_kg_k: c::STEEL_J_KG_K,
    };
    let lining = Layer {
        thickness_m: spec.lining_m,
        conductivity_w_m_k: c::LINING_W_M_K,
        density_kg_m3: c::LINING_KG_M3,
        heat_capacity_j_kg_k: c::LINING_J_KG_K,
    };
    let face = Boundary {
        heated: 1.0,
        transfer_w_m2_k: spec.cooling_w_m2_k,
        surroundings_k: 0.0,
    };
    let boundaries = [Boundary::PLAIN, face, Boundary::PLAIN, Boundary::PLAIN];
    let layers = [steel(0.5 * spec.steel_m), lining, steel(0.5 * spec.core_m)];
    let body = Body::new(&layers, &boundaries, grid.cells);
    let history = body.heat(&body.uniform(&[0.0; 3]), spec.corner_s, grid.steps, |_| 1.0);
    let face_k = history.boundaries_k.get(1).map_or(&[][..], Vec::as_slice);
    let pairs = face_k.windows(2).map(|pair| pair.iter().sum::<f64>());
    Rise {
        mean: 0.5 * pairs.sum::<f64>() / grid.steps as f64,
        peak: face_k.last().copied().unwrap_or(0.0),
    }
}

/// Reads what [`prepare`] made for a spec.
///
/// # Errors
/// A map of another spec or version.
pub fn read(prepared: &[f64], spec: &Spec) -> Result<Rise, Vec<Finding>> {
    match prepared {
        &[faces, mean, peak]
            if faces.to_bits() == spec.faces.to_bits()
                && mean.is_finite()
                && peak.is_finite()
                && mean >= 0.0
                && peak >= mean =>
        {
            Ok(Rise { mean, peak })
        }
        _ => Err(vec![error(
            "prepared",
            prepared.len() as f64,
            &format!("3 finite values, made for {} faces", spec.faces),
            "prepare the specimen again",
        )]),
    }
}

//! Share of the load that asperities carry, by film over roughness: the prepared table.

use ringland_mechanics::contact::greenwood_integral;
use ringland_plugin::{Finding, error};

/// Nodes of the table, and the film over composite roughness at the last.
const NODES: usize = 61;
const LAST: f64 = 6.0;

/// The prepared table: ln of `F_5/2(λ)/F_5/2(0)` at even λ.
pub fn prepare() -> Vec<f64> {
    let none = greenwood_integral(2.5, 0.0);
    let at = |k: usize| {
        let separation = LAST * k as f64 / (NODES - 1) as f64;
        libm::log(greenwood_integral(2.5, separation) / none)
    };
    (0..NODES).map(at).collect()
}

/// Share of the load on asperities.
#[derive(Debug, Clone, Copy)]
pub struct Asperities<'a> {
    rows: &'a [f64],
}

impl<'a> Asperities<'a> {
    /// Reads the prepared table.
    ///
    /// # Errors
    /// A list of another length or with a value that is no logarithm of a share.
    pub fn read(prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let sound = prepared
            .iter()
            .all(|value| value.is_finite() && *value <= 0.0);
        if prepared.len() == NODES && sound {
            return Ok(Self { rows: prepared });
        }
        Err(vec![error(
            "prepared",
            prepared.len() as f64,
            &format!("{NODES} logarithms of shares"),
            "prepare this specimen with this version of the model",
        )])
    }

    /// Share at a film over composite roughness, 0 or more: 1 without a film, 0 beyond 6.
    pub fn share(&self, film_ratio: f64) -> f64 {
        if film_ratio >= LAST {
            return 0.0;
        }
        let position = film_ratio.max(0.0) / LAST * (NODES - 1) as f64;
        let from = (position as usize).min(NODES - 2);
        let (Some(low), Some(high)) = (self.rows.get(from), self.rows.get(from + 1)) else {
            return 0.0;
        };
        libm::exp(low + (high - low) * (position - from as f64))
    }
}

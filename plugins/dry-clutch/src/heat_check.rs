//! Damage of a hot band that the cooler plate around it holds, by strain cycling.

use crate::constants as c;
use crate::spec::Spec;

/// Coolest band of the table \[K above its plate\], and how much hotter each next one is.
const FIRST_K: f64 = 10.0;
const RATIO: f64 = 1.125;
/// How many: to 2500 K.
pub const NODES: usize = 48;

/// Damage by one cycle of a band that is so much hotter than the plate that holds it all round \[K\].
pub fn heat_check(spec: &Spec, above_k: f64) -> f64 {
    let plate = &spec.materials.plate;
    let range = plate.expansion_per_k * above_k / (1.0 - plate.poisson);
    if range <= 0.0 {
        return 0.0;
    }
    let cycles = 0.5 * plate.strain_life.reversals(0.5 * range, 0.0);
    1.0 / (c::HOT_LIFE * cycles)
}

/// Logarithms of the damage at the nodes of the table.
pub fn table(spec: &Spec) -> impl Iterator<Item = f64> + '_ {
    let above_k = |node: usize| FIRST_K * libm::pow(RATIO, node as f64);
    (0..NODES).map(move |node| libm::log(heat_check(spec, above_k(node))))
}

/// The damage by a table, straight between the logarithms; that of the nearest node off the table.
pub fn look_up(table: &[f64], above_k: f64) -> f64 {
    if above_k <= 0.0 {
        return 0.0;
    }
    let last = table.len().saturating_sub(1);
    let at = libm::log(above_k / FIRST_K) / libm::log(RATIO);
    let at = at.clamp(0.0, last as f64);
    let node = (at as usize).min(last.saturating_sub(1));
    let pair = table.get(node).zip(table.get(node + 1));
    pair.map_or(0.0, |(low, high)| {
        libm::exp(low + (at - node as f64) * (high - low))
    })
}

//! What one engine cycle does at a site.

use ringland_mechanics::counting::{Cycle, FourPoint, NotFinite, closed_residue};
use ringland_mechanics::fatigue::damage::{StressBlock, equivalent_amplitude_pa};
use ringland_mechanics::fatigue::mean_stress::smith_watson_topper;

use crate::constants::DEEPEST_M;
use crate::spec::Site;

/// Stress cycles of one engine cycle, which repeats.
///
/// # Errors
/// A stress that is not finite.
pub fn cycles(trace_pa: &[f64]) -> Result<Vec<Cycle>, NotFinite> {
    let mut cycles = Vec::new();
    let mut counting = FourPoint::new();
    for &stress_pa in trace_pa {
        counting.push(stress_pa, &mut |cycle| cycles.push(cycle))?;
    }
    let residue = counting.finish(&mut |cycle| cycles.push(cycle));
    cycles.extend(closed_residue(&residue));
    Ok(cycles)
}

/// Equivalent fully reversed amplitude of a stress cycle \[Pa\].
pub fn equivalent_pa(cycle: &Cycle) -> f64 {
    smith_watson_topper(0.5 * cycle.range, cycle.mean)
}

/// The stress cycles of one engine cycle, fully reversed.
///
/// # Errors
/// A stress that is not finite.
pub fn stress_blocks(trace_pa: &[f64]) -> Result<Vec<StressBlock>, NotFinite> {
    let block = |cycle: Cycle| StressBlock {
        amplitude_pa: equivalent_pa(&cycle),
        cycles: cycle.count,
    };
    Ok(cycles(trace_pa)?.into_iter().map(block).collect())
}

/// The one amplitude \[Pa\] that does once what the blocks do together.
pub fn single_amplitude_pa(blocks: &[StressBlock], slope: f64) -> f64 {
    let cycles: f64 = blocks.iter().map(|block| block.cycles).sum();
    equivalent_amplitude_pa(blocks, slope) * libm::pow(cycles, 1.0 / slope)
}

/// Zones of a site: its surface layer, and what lies below.
pub const ZONES: usize = 2;

/// Utilisation of both zones by one engine cycle when a share of the residual stress is retained: that of one stress cycle that does the
/// damage of all, on a line of a slope.
pub fn utilisation(site: &Site, blocks: &[StressBlock], retained: f64, slope: f64) -> [f64; ZONES] {
    let layer = site.near_surface(retained);
    let layer_m = site.layer_m();
    [(0.0, layer_m), (layer_m, DEEPEST_M)].map(|(from_m, to_m)| {
        let share = |block: &StressBlock| {
            let worst = layer.worst(block.amplitude_pa, 0.0, from_m, to_m);
            StressBlock {
                amplitude_pa: worst.share.min(LARGEST),
                cycles: block.cycles,
            }
        };
        single_amplitude_pa(&blocks.iter().map(share).collect::<Vec<_>>(), slope)
    })
}

/// Utilisation beyond which a cycle is past all fatigue: the part breaks at once.
const LARGEST: f64 = 20.0;

/// Depth at which a crack would start under an amplitude \[Pa\] \[m\].
pub fn start_depth_m(site: &Site, amplitude_pa: f64, retained: f64) -> f64 {
    let layer = site.near_surface(retained);
    layer.worst(amplitude_pa, 0.0, 0.0, DEEPEST_M).depth_m
}

//! The keeper groove over one turn of the cam.

use ringland_engine::valvetrain::TrainCycle;
use ringland_mechanics::counting::{Cycle, FourPoint, NotFinite, closed_residue};
use ringland_mechanics::fatigue::damage::{StressBlock, equivalent_amplitude_pa};

use crate::constants::{DEEPEST_M, LARGEST};
use crate::spec::{Groove, Spec};

/// Force in the groove over a turn \[N\], tension positive, and its peak.
///
/// While the valve is open the groove pulls and pushes what hangs below it: mass times acceleration. Closed, the spring pulls the tip against the
/// seat. Each landing adds the first swing of the stem to it, so many newtons for each m/s \[N·s/m\]; a trough below 0 would lift the head off its seat, which the motion has as a bounce.
pub fn forces_n(spec: &Spec, impact_n_s_m: f64, cycle: &TrainCycle) -> Vec<f64> {
    let mut forces: Vec<f64> = cycle
        .instants
        .iter()
        .map(|instant| {
            if instant.point.seat_n > 0.0 {
                instant.point.coil_n.last().copied().unwrap_or(0.0)
            } else {
                -spec.valve_mass_kg * instant.point.acceleration_m_s2
            }
        })
        .collect();
    for velocity_m_s in &cycle.motion.impacts_m_s {
        let swing_n = impact_n_s_m * velocity_m_s;
        forces.push(cycle.seat_load_n + swing_n);
        forces.push((cycle.seat_load_n - swing_n).max(0.0));
    }
    forces
}

/// Cycles of a history that repeats.
///
/// # Errors
/// A value that is not finite.
pub fn cycles(history: &[f64]) -> Result<Vec<Cycle>, NotFinite> {
    let mut cycles = Vec::new();
    let mut counting = FourPoint::new();
    for &value in history {
        counting.push(value, &mut |cycle| cycles.push(cycle))?;
    }
    let residue = counting.finish(&mut |cycle| cycles.push(cycle));
    cycles.extend(closed_residue(&residue));
    Ok(cycles)
}

impl Groove {
    /// Amplitude over strength at the worst depth, for a local amplitude about a local mean \[Pa\]: Goodman's line with residual stress as part of
    /// the mean.
    pub fn utilisation(&self, amplitude_pa: f64, mean_pa: f64) -> f64 {
        let layer = self.near_surface();
        let worst = layer.worst(amplitude_pa, mean_pa, 0.0, DEEPEST_M);
        worst.share.min(LARGEST)
    }

    /// Local stress for a force \[N\]: `K_f F/A` \[Pa\].
    pub fn stress_pa(&self, force_n: f64) -> f64 {
        self.fatigue_factor * force_n / self.area_m2
    }

    /// The one utilisation that does once what the cycles of a history of forces \[N\] do together, on a line of a slope.
    ///
    /// # Errors
    /// A force that is not finite.
    pub fn turn_utilisation(&self, forces_n: &[f64], slope: f64) -> Result<f64, NotFinite> {
        let block = |cycle: &Cycle| StressBlock {
            amplitude_pa: self.utilisation(
                self.stress_pa(0.5 * cycle.range),
                self.stress_pa(cycle.mean),
            ),
            cycles: cycle.count,
        };
        let blocks: Vec<StressBlock> = cycles(forces_n)?.iter().map(block).collect();
        let count: f64 = blocks.iter().map(|block| block.cycles).sum();
        Ok(equivalent_amplitude_pa(&blocks, slope) * libm::pow(count, 1.0 / slope))
    }
}

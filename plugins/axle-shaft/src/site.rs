//! A place where torsional stress concentrates, and what a cycle does there.

use ringland_mechanics::fatigue::marin::roughness_factor;
use ringland_mechanics::fatigue::mean_stress::{linear, sensitivity_of_steel};
use ringland_mechanics::fatigue::notch::{
    fatigue_notch_factor, peterson_length_m, peterson_sensitivity,
};
use ringland_mechanics::fatigue::{NearSurface, ResidualProfile};
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{
    TORSION_FATIGUE_RATIO_VON_MISES as TORSION, notch_mean_pa, notch_set_pa, polar_moment_m4,
};

use crate::constants::{
    DEEPEST_M, LARGEST_UTILISATION, LEAST_RETAINED, RELAXED_PER_YIELD, ROUGH_DEPTH_M, RZ_PER_RA,
    TORSION_LENGTH_SHARE,
};

/// Zones of a site: its rough layer, and what lies below.
pub const ZONES: usize = 2;

/// A notch of the shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Shear stress of the bare section there for each unit of the shaft's torque \[Pa/(N·m)\].
    pub nominal_pa_per_n_m: f64,
    /// Stress concentration.
    pub concentration: f64,
    /// Stress concentration that counts in fatigue.
    pub fatigue_factor: f64,
    /// Relative stress gradient below the notch \[1/m\].
    pub gradient_per_m: f64,
    /// How its surface was left.
    pub finish: Finish,
    /// Strength over depth, fully reversed, without residual stress: at the surface, below the rough layer \[Pa\].
    pub strength: [(f64, f64); 2],
    shear_yield_pa: f64,
    sensitivity: f64,
    slope: f64,
}

/// How a surface was left.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// Roughness Ra \[m\].
    pub ra_m: f64,
    /// Spread of ln(Ra).
    pub ra_ln_sd: f64,
    /// Residual stress as made, alike in all directions along the surface.
    pub residual: ResidualProfile,
}

/// Form of a notch.
pub(crate) struct Notch {
    pub nominal_pa_per_n_m: f64,
    pub concentration: f64,
    pub radius_m: f64,
    pub diameter_m: f64,
}

/// Steel of the shaft.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Steel {
    pub ultimate_pa: f64,
    pub shear_yield_pa: f64,
    pub strength_pa: f64,
    pub slope: f64,
}

/// Shear stress of a ring section for each unit of torque, `16 d/(π (d⁴ − b⁴))` \[Pa/(N·m)\].
pub fn shear_pa_per_n_m(diameter_m: f64, bore_m: f64) -> f64 {
    0.5 * diameter_m / polar_moment_m4(diameter_m, bore_m)
}

/// A cycle of the shaft's torque \[N·m\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// Half the range.
    pub amplitude_n_m: f64,
    /// Mean, positive in drive.
    pub mean_n_m: f64,
    /// How often.
    pub count: f64,
}

impl Site {
    /// # Errors
    /// A roughness or an ultimate strength out of range.
    pub(crate) fn new(notch: &Notch, steel: &Steel, finish: &Finish) -> Result<Self, OutOfRange> {
        let length_m = TORSION_LENGTH_SHARE * peterson_length_m(steel.ultimate_pa);
        let sensitivity = peterson_sensitivity(length_m, notch.radius_m);
        let rough =
            1.0 - TORSION * (1.0 - roughness_factor(RZ_PER_RA * finish.ra_m, steel.ultimate_pa)?);
        Ok(Self {
            nominal_pa_per_n_m: notch.nominal_pa_per_n_m,
            concentration: notch.concentration,
            fatigue_factor: fatigue_notch_factor(notch.concentration, sensitivity),
            gradient_per_m: 1.0 / notch.radius_m + 2.0 / notch.diameter_m,
            finish: finish.clone(),
            strength: [
                (0.0, rough * steel.strength_pa),
                (ROUGH_DEPTH_M, steel.strength_pa),
            ],
            shear_yield_pa: steel.shear_yield_pa,
            sensitivity: TORSION * sensitivity_of_steel(steel.ultimate_pa),
            slope: steel.slope,
        })
    }

    /// Elastic shear stress at the root \[Pa\] under a torque of the shaft \[N·m\].
    pub fn elastic_pa(&self, torque_n_m: f64) -> f64 {
        self.fatigue_factor * self.nominal_pa_per_n_m * torque_n_m
    }

    /// Shear stress set at the root \[Pa\] by torques between two of the shaft \[N·m\].
    pub fn set_pa(&self, set_pa: f64, torques_n_m: [f64; 2]) -> f64 {
        let loads_pa = torques_n_m.map(|torque| self.elastic_pa(torque));
        notch_set_pa(set_pa, loads_pa, self.shear_yield_pa)
    }

    /// Share of the made-in residual stress that is left after a highest torque of the shaft, either way \[N·m\].
    pub fn retained(&self, highest_n_m: f64) -> f64 {
        let yields = self.elastic_pa(highest_n_m) / self.shear_yield_pa;
        (1.0 - RELAXED_PER_YIELD * yields).max(LEAST_RETAINED)
    }

    /// Fully reversed amplitude \[Pa\] that lasts as long as a cycle about a set. In torsion the normal stress on one of the planes at 45° has the sign
    /// of the shear, on the other the opposite: a mean counts by its size.
    pub fn equivalent_pa(&self, cycle: &Cycle, set_pa: f64) -> f64 {
        let amplitude_pa = self.elastic_pa(cycle.amplitude_n_m);
        let mean_pa = self.elastic_pa(cycle.mean_n_m);
        let mean_pa = notch_mean_pa(mean_pa, amplitude_pa, set_pa, self.shear_yield_pa);
        linear(amplitude_pa, mean_pa.abs(), self.sensitivity)
    }

    /// Damage of cycles in both zones, about a set and with a share of the residual stress retained, on a line of the knee's cycles.
    pub fn damage<'a>(
        &self,
        cycles: impl IntoIterator<Item = &'a Cycle>,
        (set_pa, retained): (f64, f64),
        knee_cycles: f64,
    ) -> [f64; ZONES] {
        let layer = self.near_surface(retained);
        let mut damage = [0.0; ZONES];
        for cycle in cycles {
            let amplitude_pa = self.equivalent_pa(cycle, set_pa);
            let zones = [(0.0, ROUGH_DEPTH_M), (ROUGH_DEPTH_M, DEEPEST_M)];
            for (sum, (from_m, to_m)) in damage.iter_mut().zip(zones) {
                let worst = layer.worst(amplitude_pa, 0.0, from_m, to_m).share;
                let share = worst.min(LARGEST_UTILISATION);
                *sum += cycle.count * libm::pow(share, self.slope) / knee_cycles;
            }
        }
        damage
    }

    /// The layer below the notch when a share of the residual stress is retained.
    pub fn near_surface(&self, retained: f64) -> NearSurface<'_> {
        NearSurface {
            gradient_per_m: self.gradient_per_m,
            least_share: 1.0 / self.fatigue_factor,
            strength: &self.strength,
            residual: &self.finish.residual,
            retained,
            sensitivity: self.sensitivity,
        }
    }
}

//! Strength of flanks and roots after ISO 6336-2 and -3 and ISO 10300-2, from memory.

use ringland_mechanics::fatigue::NearSurface;

use crate::constants::{
    LEAST_SHARE, OIL_KG_M3, ONE_PERCENT, RETAINED, ROOT_DEPTH_M, RZ_PER_RA, SENSITIVITY,
    STRENGTH_LN_SD,
};
use crate::gears::{Flank, Gears};
use crate::life;
use crate::spec::Spec;

/// What both flanks and both roots bear, without what depends on speed and load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// Contact stress that half of such pairs bear for 5e7 passes, without the factor of speed \[Pa\]: drive, coast.
    pub contact_pa: [f64; 2],
    /// Root stress of a peened root over its strength, for each pascal, at the surface or below: pinion, ring gear.
    pub root_per_pa: [f64; 2],
}

impl Strength {
    /// Of a spec; roughness of the flanks multiplied.
    pub fn new(spec: &Spec, gears: &Gears, roughness: f64) -> Self {
        let of = |flank: &Flank| {
            spec.contact_limit_pa
                * median_over_limit()
                * oil_factor(spec)
                * roughness_factor(spec, flank, roughness)
                * flank.hypoid
        };
        Self {
            contact_pa: [of(&gears.flanks[0]), of(&gears.flanks[1])],
            root_per_pa: std::array::from_fn(|gear| root_per_pa(spec, gears, gear)),
        }
    }

    /// Miner sum of so many passes of a flank at a contact stress \[Pa\] and a pitch-line speed \[m/s\].
    pub fn pitting(&self, flank: usize, stress_pa: f64, speed_m_s: f64, passes: f64) -> f64 {
        let ratio = stress_pa / (self.contact_pa[flank] * speed_factor(speed_m_s));
        passes / life::pitting_passes(ratio)
    }

    /// Miner sum of so many bendings of a gear's teeth at a root stress \[Pa\].
    pub fn bending(&self, gear: usize, stress_pa: f64, passes: f64) -> f64 {
        passes / life::bending_passes(stress_pa * self.root_per_pa[gear])
    }
}

/// Median over the strength of 1 % failures.
pub fn median_over_limit() -> f64 {
    libm::exp(ONE_PERCENT * STRENGTH_LN_SD)
}

/// Z_L of a mineral or gear oil on hardened steel: `0.91 + 4 (1 − 0.91)/(1.2 + 134/ν40)²`, ν40 in mm²/s.
pub fn oil_factor(spec: &Spec) -> f64 {
    let kinematic = 1.0e6 * spec.oil.viscosity_pa_s(313.15) / OIL_KG_M3;
    let below = 1.2 + 134.0 / kinematic;
    0.91 + 0.36 / (below * below)
}

/// Z_v: `0.93 + 2 (1 − 0.93)/√(0.8 + 32/v)`, v in m/s.
pub fn speed_factor(speed_m_s: f64) -> f64 {
    0.93 + 0.14 / (0.8 + 32.0 / speed_m_s.max(0.05)).sqrt()
}

/// Z_R: `(3/Rz10)^0.08`, with the mean Rz of both flanks brought to a contact radius of 10 mm; held below 1 µm and above 20, where the chart ends.
pub fn roughness_factor(spec: &Spec, flank: &Flank, roughness: f64) -> f64 {
    let mean_ra_m = 0.5 * roughness * (spec.pinion.ra_m + spec.ring.ra_m);
    let rz10 = 1.0e6 * RZ_PER_RA * mean_ra_m * libm::cbrt(0.01 / flank.contact.radius_m);
    libm::pow(3.0 / rz10.clamp(1.0, 20.0), 0.08)
}

/// Y_RrelT of hardened steel: `1.674 − 0.529 (Rz + 1)^0.1`, Rz in µm from 1; below it 1.120.
pub fn root_roughness_factor(ra_m: f64) -> f64 {
    let rz = 1.0e6 * RZ_PER_RA * ra_m;
    if rz < 1.0 {
        SMOOTH_ROOT
    } else {
        1.674 - 0.529 * libm::pow(rz + 1.0, 0.1)
    }
}

/// Y_RrelT of a smooth root, and of what lies below the roughness.
const SMOOTH_ROOT: f64 = 1.12;

/// Utilisation of a root for each pascal of pulsating stress: 1 at the strength that half of such roots bear for 3e6 passes.
///
/// A pulsation from 0 to σ is an amplitude σ/2 about σ/2; with a mean-stress sensitivity M it harms as a reversed amplitude (1 + M) σ/2. Residual
/// stress shifts the strength by M times what is retained of it. The worst depth counts: a peened root can start below its layer.
fn root_per_pa(spec: &Spec, gears: &Gears, gear: usize) -> f64 {
    let section = gears.flanks[0].roots[gear].section;
    let fillet_m = section.fillet * gears.pair.module_m;
    let reversed = 0.5 * (1.0 + SENSITIVITY);
    let strength_pa = spec.root_limit_pa * median_over_limit() * reversed;
    let rough = root_roughness_factor(spec.root_ra_m);
    let layer_m = RZ_PER_RA * spec.root_ra_m;
    let strength = [
        (0.0, strength_pa * rough),
        (layer_m, strength_pa * SMOOTH_ROOT),
    ];
    let layer = NearSurface {
        // 2.3 over the radius, bending of the tooth with it (FKM guideline, from memory).
        gradient_per_m: 2.3 / fillet_m,
        least_share: LEAST_SHARE,
        strength: &strength,
        residual: &spec.residual,
        retained: RETAINED,
        sensitivity: SENSITIVITY,
    };
    // At the strength itself: the share is straight in the stress as long as compression stays within the amplitude.
    let amplitude_pa = strength_pa;
    layer
        .worst(amplitude_pa, 0.0, 0.0, ROOT_DEPTH_M)
        .share
        .min(LARGEST)
        / amplitude_pa
        * reversed
}

/// Utilisation at the strength beyond which tension has left nothing of it.
const LARGEST: f64 = 20.0;

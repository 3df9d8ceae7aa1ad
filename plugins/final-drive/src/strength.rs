//! Strength of flanks and roots after ISO 6336-2 and -3 and ISO 10300-2, from memory.

use ringland_mechanics::fatigue::NearSurface;
use ringland_mechanics::gear::life::{Flank as Curve, LifeCurve, LongLife, Root};

use crate::constants::{
    LEAST_SHARE, OIL_KG_M3, ONE_PERCENT, RETAINED, ROOT_DEPTH_M, RZ_PER_RA, SENSITIVITY,
    STRENGTH_LN_SD,
};
use crate::gears::{Flank, Gears};
use crate::spec::Spec;

/// What both flanks and both roots bear: half of such pairs for the standards' passes.
///
/// Oil, speed, finish, sliding and residual stress change what is borne at and beyond the endurance knee; the static strength stays, and the
/// curve tilts between (ISO 6336-2 and -3, method B). Below the knee the factors fall on (to 0.85 at 1e10 passes).
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    pitting: LifeCurve,
    roots: [LifeCurve; 2],
    /// Contact and root stress that half of such pairs bear, before influences \[Pa\].
    allowable_pa: [f64; 2],
    /// Influences on the endurance of drive and coast flank, but for that of speed.
    contact_influence: [f64; 2],
    /// Influences on the endurance of the roots of pinion and ring gear.
    pub root_influence: [f64; 2],
}

impl Strength {
    /// Of a spec.
    pub fn new(spec: &Spec, gears: &Gears) -> Self {
        let of =
            |flank: &Flank| oil_factor(spec) * roughness_factor(spec, flank, 1.0) * flank.hypoid;
        let bending = LifeCurve::bending(Root::CaseHardened, LongLife::Falling);
        let root_influence = std::array::from_fn(|gear| root_influence(spec, gears, gear));
        Self {
            pitting: LifeCurve::pitting(Curve::Hardened, LongLife::Falling),
            roots: root_influence.map(|influence| influenced(&bending, influence)),
            allowable_pa: [spec.contact_limit_pa, spec.root_limit_pa]
                .map(|limit_pa| limit_pa * median_over_limit()),
            contact_influence: [of(&gears.flanks[0]), of(&gears.flanks[1])],
            root_influence,
        }
    }

    /// Of a pair weaker by one in a hundred: the one at the standards' own numbers.
    #[must_use]
    pub fn of_one_in_a_hundred(&self) -> Self {
        let mut weaker = self.clone();
        weaker.allowable_pa = self.allowable_pa.map(|pa| pa / median_over_limit());
        weaker
    }

    /// Miner sum of so many passes of a flank at a contact stress \[Pa\] and a pitch-line speed \[m/s\].
    pub fn pitting(&self, flank: usize, stress_pa: f64, speed_m_s: f64, passes: f64) -> f64 {
        let influence = self.contact_influence[flank] * speed_factor(speed_m_s);
        let curve = influenced(&self.pitting, influence);
        curve.damage(stress_pa / self.allowable_pa[0], passes)
    }

    /// Miner sum of so many bendings of a gear's teeth at a root stress \[Pa\].
    pub fn bending(&self, gear: usize, stress_pa: f64, passes: f64) -> f64 {
        self.roots[gear].damage(stress_pa / self.allowable_pa[1], passes)
    }
}

/// A curve with influences on its endurance, which leave it below the static strength.
fn influenced(curve: &LifeCurve, influence: f64) -> LifeCurve {
    let most = 0.95 * curve.static_factor();
    let tilted = curve.influenced(1.0, influence.min(most));
    tilted.unwrap_or_else(|| curve.clone())
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

/// Z_R: `(3/Rz10)^0.08`, with the mean Rz of both flanks, multiplied, brought to a contact radius of 10 mm; held below 1 µm and above 20, where the chart ends.
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

/// Endurance of a root over that of the standards' test gears (Rz 10 µm, a case as carburised).
///
/// A pulsation from 0 to σ is an amplitude σ/2 about σ/2; with a mean-stress sensitivity M it harms as a reversed amplitude (1 + M) σ/2. Residual
/// stress shifts the strength by M times what is retained of it. The worst depth counts: a peened root can start below its layer.
fn root_influence(spec: &Spec, gears: &Gears, gear: usize) -> f64 {
    let section = gears.flanks[0].roots[gear].section;
    let fillet_m = section.fillet * gears.pair.module_m;
    let strength_pa = spec.root_limit_pa * median_over_limit() * 0.5 * (1.0 + SENSITIVITY);
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
    // At the endurance itself; the share is straight in the stress as long as compression stays within the amplitude.
    let worst = layer.worst(strength_pa, 0.0, 0.0, ROOT_DEPTH_M);
    1.0 / worst.share.min(LARGEST)
}

/// Utilisation at the strength beyond which tension has left nothing of it.
const LARGEST: f64 = 20.0;

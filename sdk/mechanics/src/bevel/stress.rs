//! Contact and root stress, after ISO 10300-2 and -3 (method B1, from memory).

use std::f64::consts::PI;

use super::{Cylinders, RootSection, Surfaces};
use crate::range::OutOfRange;

/// How a bevel tooth bears better than the cylinders that stand for it: `Z_K` of ISO 10300-2 (2014).
const BEVEL_FACTOR: f64 = 0.85;

/// What makes a contact stress of a normal force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ContactFactors {
    /// Mid-zone factor Z_M-B: the radius where one pair bears.
    pub mid_zone: f64,
    /// Load-sharing factor Z_LS.
    pub load_sharing: f64,
    /// Middle line of contact \[m\].
    pub length_m: f64,
    /// Radius of the equivalent contact at the pitch point \[m\].
    pub radius_m: f64,
}

impl ContactFactors {
    /// Of cylinders.
    pub fn new(cylinders: &Cylinders) -> Self {
        Self {
            mid_zone: mid_zone(cylinders),
            load_sharing: load_sharing(cylinders),
            length_m: cylinders.contact_length_m(),
            radius_m: cylinders.radius_m(0.0),
        }
    }

    /// Nominal contact stress \[Pa\] under a normal force \[N\]; the effective modulus E* \[Pa\] stands for Z_E² π.
    pub fn stress_pa(&self, normal_n: f64, modulus_pa: f64) -> f64 {
        let hertz = normal_n * modulus_pa / (PI * self.length_m * self.radius_m);
        self.mid_zone * self.load_sharing * BEVEL_FACTOR * hertz.max(0.0).sqrt()
    }

    /// Load for each length of the line in the middle of the zone of action \[N/m\], as much of it as the bevel factor leaves.
    pub fn middle_load_n_m(&self, normal_n: f64) -> f64 {
        let left = self.load_sharing * BEVEL_FACTOR;
        left * left * normal_n / self.length_m
    }
}

fn mid_zone(cylinders: &Cylinders) -> f64 {
    let (profile, overlap) = (cylinders.profile_ratio, cylinders.overlap_ratio.min(1.0));
    let shift = (2.0 - profile) * overlap;
    let factors = [2.0 - shift, 2.0 * (profile - 1.0) + shift];
    let part = |k: usize| {
        let tip = cylinders.tip_m[k] / cylinders.base_m[k];
        let reach = (tip * tip - 1.0).max(0.0).sqrt();
        // A tip whose single contact would lie below the base circle has no such radius.
        (reach - factors[k] * PI / cylinders.virtual_teeth[k]).max(0.05)
    };
    libm::tan(cylinders.transverse_rad) / (part(0) * part(1)).sqrt()
}

fn load_sharing(cylinders: &Cylinders) -> f64 {
    let total = cylinders.total_ratio();
    if total <= 2.0 || cylinders.overlap_ratio <= 1.0 {
        return 1.0;
    }
    let shared = 1.0 - libm::pow(2.0 / total, 1.5);
    1.0 / (1.0 + 2.0 * shared * (1.0 - 4.0 / (total * total)).sqrt()).sqrt()
}

/// How much of the contact strength of rolling flanks is left to flanks that slide along the line of contact: `Z_Hyp` of ISO 10300-2
/// (2014), `1 − 0.3 (v_g,par / v_Σ,vert − 0.15)`, from 0.6 to 1. Of the speeds at the pitch point.
pub fn hypoid_factor(surfaces: &Surfaces) -> f64 {
    let sum = 2.0 * surfaces.entrainment_m_s();
    if sum <= 0.0 {
        return 1.0;
    }
    (1.0 - 0.3 * (surfaces.along_slide_m_s().abs() / sum - 0.15)).clamp(0.6, 1.0)
}

/// What makes a root stress of a normal force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RootFactors {
    /// The weakest section.
    pub section: RootSection,
    /// Contact ratio factor Y_ε.
    pub contact_ratio: f64,
    /// Bevel factor Y_K, for lines of contact that cross the face (edition of 2001).
    pub bevel: f64,
    /// Load-sharing factor Y_LS.
    pub load_sharing: f64,
    /// Tangential over normal force, over width and module \[1/m²\].
    per_area: f64,
}

impl RootFactors {
    /// Of the pinion (0) or ring gear (1) of cylinders.
    ///
    /// # Errors
    /// Teeth without a root section.
    pub fn new(cylinders: &Cylinders, gear: usize) -> Result<Self, OutOfRange> {
        let (profile, overlap) = (cylinders.profile_ratio, cylinders.overlap_ratio.min(1.0));
        let spread = 0.75 / profile.max(0.75);
        let contact_ratio = 0.25 + spread - overlap * (spread - 0.375);
        let width_m = cylinders.bearing_share * cylinders.width_m;
        let across = cylinders.contact_length_m() * libm::cos(cylinders.base_helix_rad) / width_m;
        let sharing = load_sharing(cylinders);
        let tangential =
            libm::cos(cylinders.teeth.pressure_angle_rad) * libm::cos(cylinders.helix_rad);
        Ok(Self {
            section: RootSection::new(cylinders, gear)?,
            contact_ratio: contact_ratio.max(0.625),
            bevel: 0.25 * (1.0 + across) * (1.0 + across) / across,
            load_sharing: sharing * sharing,
            per_area: tangential / (cylinders.width_m * cylinders.module_m),
        })
    }

    /// Nominal local stress at the root \[Pa\] under a normal force \[N\].
    pub fn stress_pa(&self, normal_n: f64) -> f64 {
        let section = &self.section;
        normal_n
            * self.per_area
            * section.form_factor()
            * section.stress_correction()
            * self.contact_ratio
            * self.bevel
            * self.load_sharing
    }
}

#[cfg(test)]
mod tests {
    use super::super::{BevelPair, Blank, Path, Teeth};
    use super::*;

    fn pair(teeth: (f64, f64), offset_m: f64, spiral: f64) -> (BevelPair, Cylinders) {
        let pair = BevelPair::new(Blank {
            pinion_teeth: teeth.0,
            ring_teeth: teeth.1,
            offset_m,
            ring_outer_diameter_m: 0.127 * teeth.1 / 25.0,
            face_width_m: 0.02794,
            pinion_spiral_rad: spiral,
        })
        .unwrap();
        let teeth = Teeth {
            pressure_angle_rad: 20.0_f64.to_radians(),
            addendum: 1.0,
            dedendum: 1.25,
            profile_shift: 0.0,
            thickness_shift: 0.0,
            edge_radius: 0.3,
        };
        let cylinders = Cylinders::new(&pair, teeth, 0.85).unwrap();
        (pair, cylinders)
    }

    /// Tredgold: without spiral and offset the cylinders have `z / cos δ` teeth and the radii of the back cones.
    #[test]
    fn straight_teeth_are_tredgolds() {
        let (pair, cylinders) = pair((20.0, 50.0), 0.0, 0.0);
        for (k, (count, angle_rad, radius_m)) in [
            (20.0, pair.pinion_angle_rad, pair.pinion_radius_m),
            (50.0, pair.ring_angle_rad, pair.ring_radius_m),
        ]
        .into_iter()
        .enumerate()
        {
            assert!((cylinders.virtual_teeth[k] * angle_rad.cos() / count - 1.0).abs() < 1e-9);
            assert!((cylinders.radii_m[k] * angle_rad.cos() / radius_m - 1.0).abs() < 1e-9);
            assert!((cylinders.normal_teeth()[k] / cylinders.virtual_teeth[k] - 1.0).abs() < 1e-9);
        }
        assert!(cylinders.overlap_ratio.abs() < 1e-12);
    }

    /// Straight miter gears of 25 teeth, 5 teeth an inch, face 1.10 in (J. E. Shigley, Mechanical Engineering Design, example 15-1: its chart gives
    /// a contact geometry factor I of 0.065, from memory). The stress of the AGMA form `C_p √(W/(F d I))`, with W and d at the outer end, is
    /// that of the geometry here without the bevel factor, which is ISO's alone.
    #[test]
    fn miter_gears_bear_what_the_handbook_says() {
        let (pair, cylinders) = pair((25.0, 25.0), 0.0, 0.0);
        let torque_n_m = 100.0;
        let normal_n = torque_n_m / (pair.ring_radius_m * 20.0_f64.to_radians().cos());
        let modulus_pa = 2.06e11 / (2.0 * 0.91);
        let found_pa =
            ContactFactors::new(&cylinders).stress_pa(normal_n, modulus_pa) / BEVEL_FACTOR;
        let outer_n = torque_n_m / 0.0635;
        let handbook_pa = (modulus_pa / PI * outer_n / (0.02794 * 0.127 * 0.065)).sqrt();
        let (found, handbook) = (1e-6 * found_pa, 1e-6 * handbook_pa);
        println!("{found:.1} of {handbook:.1} MPa");
        assert!((found / handbook - 1.0).abs() < 0.05);
    }

    /// More spiral shares the load among more teeth; sliding along the line takes strength.
    #[test]
    fn spiral_shares_and_sliding_costs() {
        let stress = |spiral: f64| {
            let (pair, cylinders) = pair((10.0, 41.0), 0.0, spiral);
            let normal_n = 1.0e3 / pair.ring_radius_m / spiral.cos() / 0.94;
            ContactFactors::new(&cylinders).stress_pa(normal_n, 1.13e11)
        };
        assert!(stress(0.61) < stress(0.2));
        let factor = |offset_m: f64| {
            let (pair, cylinders) = pair((10.0, 41.0), offset_m, 0.8);
            hypoid_factor(&Path::new(&pair, &cylinders).surfaces(0.0, 10.0))
        };
        assert!((factor(0.0) - 1.0).abs() < 1e-12);
        assert!(factor(0.02) < 0.97 && factor(0.035) < factor(0.02));
    }
}

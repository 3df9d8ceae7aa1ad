//! The cylindrical gears that stand for a bevel pair.

use std::f64::consts::PI;

use super::BevelPair;
use crate::range::{OutOfRange, within};

/// Proportions of the teeth, in mean normal modules, and the pressure angle of one flank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Teeth {
    /// Effective normal pressure angle of the flank \[rad\], 0.24 to 0.5.
    pub pressure_angle_rad: f64,
    /// Addendum of a pair without shift, usually 1.
    pub addendum: f64,
    /// Dedendum of a pair without shift, usually 1.25.
    pub dedendum: f64,
    /// Profile shift: longer addendum of the pinion, shorter of the ring gear.
    pub profile_shift: f64,
    /// Thickness shift: a pinion tooth thicker by twice this, at the expense of the ring gear's.
    pub thickness_shift: f64,
    /// Radius of the tool's edge, at the root.
    pub edge_radius: f64,
}

/// Helical cylindrical gears with the curvature of the pitch cones across the tooth trace: the idea of ISO 10300-1, annex A.
///
/// A pitch cone's curvature across the trace is `cos δ cos²β / r`. Cylinders of a common helix angle, the mean of the spiral angles, have it at
/// the radius `r cos²β_v / (cos δ cos²β)`: without offset the back cone `r / cos δ` (Tredgold), with it each gear's own. Their
/// width is that of the ring gear along the trace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cylinders {
    /// Proportions.
    pub teeth: Teeth,
    /// Normal module \[m\].
    pub module_m: f64,
    /// Helix angle \[rad\].
    pub helix_rad: f64,
    /// Transverse pressure angle \[rad\].
    pub transverse_rad: f64,
    /// Helix angle on the base cylinder \[rad\].
    pub base_helix_rad: f64,
    /// Reference radii of pinion and ring gear \[m\].
    pub radii_m: [f64; 2],
    /// Base radii \[m\].
    pub base_m: [f64; 2],
    /// Tip radii \[m\].
    pub tip_m: [f64; 2],
    /// Width \[m\].
    pub width_m: f64,
    /// Virtual teeth in the transverse plane: `z / cos δ` without offset.
    pub virtual_teeth: [f64; 2],
    /// Profile contact ratio.
    pub profile_ratio: f64,
    /// Overlap ratio, of the width that bears.
    pub overlap_ratio: f64,
    /// Share of the width that bears.
    pub bearing_share: f64,
}

impl Cylinders {
    /// The cylinders of a pair for one flank; `bearing_share` of the face width bears (0.85 at full load in ISO 10300-1).
    ///
    /// # Errors
    /// Proportions out of range, or teeth that do not stay in contact.
    pub fn new(pair: &BevelPair, teeth: Teeth, bearing_share: f64) -> Result<Self, OutOfRange> {
        check(&teeth)?;
        within("bearing_share", bearing_share, (0.3, 1.0), "0.3 to 1")?;
        let spirals = [pair.blank.pinion_spiral_rad, pair.ring_spiral_rad];
        let helix_rad = 0.5 * (spirals[0] + spirals[1]);
        let cones = [
            (pair.pinion_radius_m, pair.pinion_angle_rad),
            (pair.ring_radius_m, pair.ring_angle_rad),
        ];
        let module_m = pair.module_m;
        let ratio = |spiral: f64| libm::cos(helix_rad) / libm::cos(spiral);
        let radii_m: [f64; 2] = std::array::from_fn(|k| {
            let (radius_m, angle_rad) = cones[k];
            radius_m * ratio(spirals[k]).powi(2) / libm::cos(angle_rad)
        });
        let (sine, cosine) = libm::sincos(helix_rad);
        let transverse_rad = libm::atan(libm::tan(teeth.pressure_angle_rad) / cosine);
        let base_m = radii_m.map(|radius_m| radius_m * libm::cos(transverse_rad));
        let addenda = [
            teeth.addendum + teeth.profile_shift,
            teeth.addendum - teeth.profile_shift,
        ];
        let tip_m: [f64; 2] = std::array::from_fn(|k| radii_m[k] + module_m * addenda[k]);
        let width_m = pair.blank.face_width_m * ratio(spirals[1]);
        let mut cylinders = Self {
            teeth,
            module_m,
            helix_rad,
            transverse_rad,
            base_helix_rad: libm::asin(sine * libm::cos(teeth.pressure_angle_rad)),
            radii_m,
            base_m,
            tip_m,
            width_m,
            virtual_teeth: radii_m.map(|radius_m| 2.0 * radius_m * cosine / module_m),
            profile_ratio: 0.0,
            overlap_ratio: bearing_share * width_m * sine / (PI * module_m),
            bearing_share,
        };
        let (approach_m, recess_m) = cylinders.path_m();
        cylinders.profile_ratio = (approach_m + recess_m) / cylinders.base_pitch_m();
        if !(cylinders.profile_ratio >= LEAST_PROFILE && cylinders.total_ratio() >= 1.0) {
            return Err(OutOfRange {
                field: "face_width_m",
                value: pair.blank.face_width_m,
                expected: "face, spiral and tooth depth for a total contact ratio of 1 or more",
            });
        }
        Ok(cylinders)
    }

    /// Transverse base pitch \[m\].
    pub fn base_pitch_m(&self) -> f64 {
        PI * self.module_m * libm::cos(self.transverse_rad) / libm::cos(self.helix_rad)
    }

    /// Length of the path of contact on either side of the pitch point \[m\]: to the tip of the ring gear, and to that of the pinion.
    pub fn path_m(&self) -> (f64, f64) {
        let beyond = |k: usize| {
            let tip = (self.tip_m[k] * self.tip_m[k] - self.base_m[k] * self.base_m[k]).max(0.0);
            let reach_m = tip.sqrt() - self.radii_m[k] * libm::sin(self.transverse_rad);
            // No contact inside the mate's base circle.
            reach_m.clamp(0.0, self.radii_m[1 - k] * libm::sin(self.transverse_rad))
        };
        (beyond(1), beyond(0))
    }

    /// Total contact ratio of a crowned pair, `√(ε_α² + ε_β²)` (ISO 10300-1).
    pub fn total_ratio(&self) -> f64 {
        self.profile_ratio.hypot(self.overlap_ratio)
    }

    /// Length of the middle line of contact \[m\] (ISO 10300-1, of the zone of action of a crowned pair).
    pub fn contact_length_m(&self) -> f64 {
        let (profile, overlap) = (self.profile_ratio, self.overlap_ratio);
        let total = self.total_ratio();
        let width_m = self.bearing_share * self.width_m;
        let whole_m = width_m * profile / (total * libm::cos(self.base_helix_rad));
        if overlap >= 1.0 {
            return whole_m;
        }
        let short = (2.0 - profile) * (1.0 - overlap);
        let left = (total * total - short * short).max(0.0).sqrt() / total;
        whole_m * left
    }

    /// Teeth of the spur gears in the section square to the trace: `z_v / (cos²β_b cos β)`.
    pub fn normal_teeth(&self) -> [f64; 2] {
        let base = libm::cos(self.base_helix_rad);
        let cosine = libm::cos(self.helix_rad);
        self.virtual_teeth
            .map(|teeth| teeth / (base * base * cosine))
    }

    /// Radius of the equivalent contact square to the line of contact \[m\] at a place on the path, counted from the pitch point towards
    /// the tip of the pinion \[m\].
    pub fn radius_m(&self, place_m: f64) -> f64 {
        let [pinion_m, ring_m] = self.profile_radii_m(place_m);
        pinion_m * ring_m / ((pinion_m + ring_m) * libm::cos(self.base_helix_rad))
    }

    /// Transverse radii of curvature of both flanks there \[m\], 0 or more.
    pub fn profile_radii_m(&self, place_m: f64) -> [f64; 2] {
        let sine = libm::sin(self.transverse_rad);
        [
            (self.radii_m[0] * sine + place_m).max(0.0),
            (self.radii_m[1] * sine - place_m).max(0.0),
        ]
    }
}

/// Least profile contact ratio of teeth that are taken to mesh.
const LEAST_PROFILE: f64 = 0.3;

fn check(teeth: &Teeth) -> Result<(), OutOfRange> {
    let angle = (0.24, 0.5);
    within(
        "pressure_angle_rad",
        teeth.pressure_angle_rad,
        angle,
        "0.24 to 0.5 rad",
    )?;
    within("addendum", teeth.addendum, (0.5, 1.5), "0.5 to 1.5")?;
    within("dedendum", teeth.dedendum, (0.6, 2.0), "0.6 to 2")?;
    within(
        "profile_shift",
        teeth.profile_shift,
        (-0.8, 0.8),
        "-0.8 to 0.8",
    )?;
    within(
        "thickness_shift",
        teeth.thickness_shift,
        (-0.3, 0.3),
        "-0.3 to 0.3",
    )?;
    within("edge_radius", teeth.edge_radius, (0.02, 0.6), "0.02 to 0.6")?;
    Ok(())
}

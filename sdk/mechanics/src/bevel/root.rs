//! The tooth root at its weakest section.

use std::f64::consts::{FRAC_PI_3, FRAC_PI_6, PI};

use super::{Cylinders, Teeth};
use crate::range::OutOfRange;

/// The section of a generated tooth where tangents at 30 degrees touch the root fillets, loaded at its tip, in normal modules (ISO 6336-3 and
/// 10300-3, from memory). Lengths are of the spur gear in the section square to the trace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RootSection {
    /// Chord of the section.
    pub chord: f64,
    /// Arm of the force at the tip.
    pub arm: f64,
    /// Radius of the fillet there.
    pub fillet: f64,
    /// Pressure angle of the force at the tip \[rad\].
    pub load_angle_rad: f64,
    /// Normal pressure angle \[rad\].
    pub pressure_angle_rad: f64,
}

impl RootSection {
    /// Of the pinion (0) or ring gear (1) of cylinders.
    ///
    /// # Errors
    /// Proportions for which there is no such section.
    pub fn new(cylinders: &Cylinders, gear: usize) -> Result<Self, OutOfRange> {
        let sign = if gear == 0 { 1.0 } else { -1.0 };
        let teeth = cylinders.teeth;
        let shifts = (sign * teeth.profile_shift, sign * teeth.thickness_shift);
        Self::of_spur(cylinders.normal_teeth()[gear], &teeth, shifts)
    }

    /// Of a spur gear of so many teeth, with its own profile and thickness shift.
    ///
    /// # Errors
    /// Proportions for which there is no such section.
    pub fn of_spur(
        count: f64,
        teeth: &Teeth,
        (profile_shift, thickness_shift): (f64, f64),
    ) -> Result<Self, OutOfRange> {
        let angle = teeth.pressure_angle_rad;
        let (sine, cosine) = libm::sincos(angle);
        let edge = teeth.edge_radius;
        let half_space = 0.25 * PI
            - thickness_shift
            - teeth.dedendum * sine / cosine
            - edge * (1.0 - sine) / cosine;
        let depth = edge - teeth.dedendum + profile_shift;
        let turned = 2.0 / count * (0.5 * PI - half_space) - FRAC_PI_3;
        let mut tangent = FRAC_PI_6;
        for _ in 0..60 {
            tangent = 2.0 * depth / count * libm::tan(tangent) - turned;
        }
        let (tangent_sine, tangent_cosine) = libm::sincos(FRAC_PI_3 - tangent);
        let side = depth / libm::cos(tangent) - edge;
        let chord = count * tangent_sine + 3.0_f64.sqrt() * side;
        let across = libm::cos(tangent);
        let fillet =
            edge + 2.0 * depth * depth / (across * (count * across * across - 2.0 * depth));
        let tip = count + 2.0 * (teeth.addendum + profile_shift);
        let tip_angle = libm::acos((count * cosine / tip).clamp(-1.0, 1.0));
        let involute = |angle: f64| libm::tan(angle) - angle;
        let half_tip = (0.5 * PI + 2.0 * (profile_shift * sine / cosine + thickness_shift)) / count
            + involute(angle)
            - involute(tip_angle);
        let load_angle_rad = tip_angle - half_tip;
        let lever = (libm::cos(half_tip) - libm::sin(half_tip) * libm::tan(load_angle_rad)) * tip;
        let arm = 0.5 * (lever - count * tangent_cosine - side);
        let root = tangent.is_finite() && chord > 0.3 && arm > 0.3 && fillet > 0.0;
        let sound = root && half_tip > 0.0;
        if !sound {
            return Err(OutOfRange {
                field: "profile_shift",
                value: profile_shift,
                expected: "teeth with a root to bend: not so far undercut or pointed",
            });
        }
        Ok(Self {
            chord,
            arm,
            fillet,
            load_angle_rad,
            pressure_angle_rad: angle,
        })
    }

    /// Form factor Y_Fa: bending of the section by a force at the tip.
    pub fn form_factor(&self) -> f64 {
        6.0 * self.arm * libm::cos(self.load_angle_rad)
            / (self.chord * self.chord * libm::cos(self.pressure_angle_rad))
    }

    /// Stress correction factor Y_Sa: what fillet, compression and shear make of it.
    pub fn stress_correction(&self) -> f64 {
        let slender = self.chord / self.arm;
        let notch = 0.5 * self.chord / self.fillet;
        (1.2 + 0.13 * slender) * libm::pow(notch, 1.0 / (1.21 + 2.3 / slender))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Form and stress correction factors of spur gears without shift as engineering textbooks print them beside GB/T 3480 (the Chinese edition
    /// of ISO 6336; rack of 20 degrees, addendum 1, clearance 0.25, edge radius 0.38): from memory.
    #[test]
    fn factors_are_those_of_the_handbook() {
        let teeth = Teeth {
            pressure_angle_rad: 20.0_f64.to_radians(),
            addendum: 1.0,
            dedendum: 1.25,
            profile_shift: 0.0,
            thickness_shift: 0.0,
            edge_radius: 0.38,
        };
        for (count, form, correction) in [
            (18.0, 2.91, 1.53),
            (20.0, 2.80, 1.55),
            (25.0, 2.62, 1.59),
            (30.0, 2.52, 1.625),
            (40.0, 2.40, 1.67),
            (50.0, 2.32, 1.70),
            (100.0, 2.18, 1.79),
        ] {
            let section = RootSection::of_spur(count, &teeth, (0.0, 0.0)).unwrap();
            let (y_f, y_s) = (section.form_factor(), section.stress_correction());
            println!("{count}: {y_f:.3} of {form}, {y_s:.3} of {correction}");
            assert!((y_f / form - 1.0).abs() < 0.01, "{count}: {y_f}");
            assert!((y_s / correction - 1.0).abs() < 0.01, "{count}: {y_s}");
        }
    }
}

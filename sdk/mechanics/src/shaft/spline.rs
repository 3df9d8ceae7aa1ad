//! Involute splines: root stress under torque, flank pressure, and what slides.
//!
//! Side-fit splines of a pressure angle of 30° with a fillet root, proportions of ISO 4156 (from memory): external major diameter `m (z + 1)`, minor
//! `m (z − 1.8)`, working depth m. The torque is spread evenly along the engaged length over the share of the teeth that bears.

use std::f64::consts::PI;

use super::grooved::grooved_torsion;
use super::section::polar_moment_m4;

/// Pressure angle \[rad\].
pub const SPLINE_PRESSURE_ANGLE_RAD: f64 = PI / 6.0;
/// Stiffness of a pair of teeth for each metre of length \[N/m²\]: 14 N/(mm·µm), the mean of spur gears (ISO 6336-1, from memory).
pub const TOOTH_STIFFNESS_N_M2: f64 = 1.4e10;
/// Minor diameter below the pitch diameter, and radius at which the tooth is borne, in modules.
const ROOT_DEPTH_MODULES: f64 = 0.9;
/// Elements on bottom, flank and tip each, twice as many on the fillet.
const ELEMENTS: u32 = 24;

/// An external spline and its fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spline {
    /// Module \[m\], above 0.
    pub module_m: f64,
    /// Teeth, 6 or more.
    pub teeth: f64,
    /// Radius of the root fillet \[m\], above 0.
    pub root_radius_m: f64,
    /// Engaged length \[m\], above 0.
    pub length_m: f64,
    /// Share of the teeth that bears, above 0 to 1.
    pub bearing_share: f64,
}

impl Spline {
    /// Pitch diameter \[m\].
    pub fn pitch_diameter_m(&self) -> f64 {
        self.module_m * self.teeth
    }

    /// Major diameter \[m\].
    pub fn major_diameter_m(&self) -> f64 {
        self.module_m * (self.teeth + 1.0)
    }

    /// Minor diameter \[m\]: the shaft below the teeth.
    pub fn minor_diameter_m(&self) -> f64 {
        self.module_m * (self.teeth - 2.0 * ROOT_DEPTH_MODULES)
    }

    /// Tangential load of a tooth that bears, for each metre of length \[N/m\], under a torque \[N·m\].
    pub fn tooth_load_n_m(&self, torque_n_m: f64) -> f64 {
        let bearing_m = self.teeth * self.bearing_share * self.length_m;
        2.0 * torque_n_m / (self.pitch_diameter_m() * bearing_m)
    }

    /// Shear concentration at the root, on the stress of a solid shaft of the minor diameter: torsion of the whole section with its teeth, solved. `None` where
    /// radius and module do not make a tooth space.
    pub fn shear_concentration(&self) -> Option<f64> {
        self.shear_concentration_with(ELEMENTS)
    }

    /// [`Self::shear_concentration`] with so many elements on the fillet.
    pub fn shear_concentration_with(&self, elements: u32) -> Option<f64> {
        let found = grooved_torsion(&self.outline(elements)?, self.teeth)?;
        let largest_m = found.stress_m.iter().copied().fold(0.0, f64::max);
        let root_m = self.minor_diameter_m();
        let plain = 0.5 * root_m / polar_moment_m4(root_m, 0.0);
        Some(largest_m / found.polar_m4 / plain)
    }

    /// Whether radius, module and teeth make a tooth space and a tooth.
    pub fn has_teeth(&self) -> bool {
        self.outline(2).is_some()
    }

    /// Outline of half a tooth space and half a tooth (radius \[m\], angle \[rad\]): the bottom, the fillet, a straight flank at the pressure angle through the pitch
    /// circle, the tip. A fillet too large for a bottom of its own is one arc from flank to flank.
    fn outline(&self, elements: u32) -> Option<Vec<(f64, f64)>> {
        let (fillet_m, minor_m) = (self.root_radius_m, 0.5 * self.minor_diameter_m());
        let (pitch_m, major_m) = (0.5 * self.pitch_diameter_m(), 0.5 * self.major_diameter_m());
        let angle = SPLINE_PRESSURE_ANGLE_RAD;
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let half_space = 0.5 * PI / self.teeth;
        let on_pitch = [
            pitch_m * libm::cos(half_space),
            pitch_m * libm::sin(half_space),
        ];
        // Distance of the flank's line from the axis, towards the tooth; its normal is (−sin, cos).
        let line_m = cos * on_pitch[1] - sin * on_pitch[0];
        let ratio = (line_m - fillet_m) / (minor_m + fillet_m);
        let bottom = angle + libm::asin(ratio);
        let (centre, centre_m, bottom) = if bottom > 0.0 {
            (bottom, minor_m + fillet_m, bottom)
        } else {
            (0.0, (fillet_m - line_m) / sin, 0.0)
        };
        let centre_at = [centre_m * libm::cos(centre), centre_m * libm::sin(centre)];
        let polar = |x: f64, y: f64| (x.hypot(y), libm::atan2(y, x));
        let steps = |count: u32| (1..=count).map(move |k| f64::from(k) / f64::from(count));
        let mut outline = vec![(centre_m - fillet_m, 0.0)];
        if bottom > 0.0 {
            outline.extend(steps(elements).map(|part| (minor_m, bottom * part)));
        }
        // From straight inwards to along the flank's normal.
        let (from, to) = (PI + centre, 0.5 * PI + angle);
        outline.extend(steps(2 * elements).map(|part| {
            let at = from + (to - from) * part;
            let (x, y) = (fillet_m * libm::cos(at), fillet_m * libm::sin(at));
            polar(centre_at[0] + x, centre_at[1] + y)
        }));
        let foot = [centre_at[0] - fillet_m * sin, centre_at[1] + fillet_m * cos];
        let along_m = foot[0] * cos + foot[1] * sin;
        let tip_m = (major_m * major_m - line_m * line_m).sqrt() - along_m;
        outline.extend(steps(elements).map(|part| {
            let way_m = tip_m * part;
            polar(foot[0] + way_m * cos, foot[1] + way_m * sin)
        }));
        let (_, tip) = *outline.last()?;
        let land = PI / self.teeth - tip;
        let sound = tip_m > 0.0 && land > 0.0 && bottom < half_space;
        outline.extend(steps(elements).map(|part| (major_m, tip + land * part)));
        sound.then_some(outline)
    }

    /// Tension at the foot of a loaded tooth \[Pa\] under a torque \[N·m\]: bending by a load at the pitch circle, less the push of its radial part, and the pull of
    /// friction, times the concentration of T. J. Dolan and E. L. Broghamer (1942; factors of 20° gears, from memory).
    pub fn tooth_tension_pa(&self, torque_n_m: f64, friction: f64) -> f64 {
        let (sin, cos) = (
            libm::sin(SPLINE_PRESSURE_ANGLE_RAD),
            libm::cos(SPLINE_PRESSURE_ANGLE_RAD),
        );
        let arm_m = ROOT_DEPTH_MODULES * self.module_m;
        let foot_m = 0.5 * PI * self.module_m + 2.0 * arm_m * sin / cos;
        let load_n_m = self.tooth_load_n_m(torque_n_m);
        let bending_pa = 6.0 * load_n_m * arm_m / (foot_m * foot_m);
        let along_pa = load_n_m / foot_m * (friction - sin / cos);
        let slender = libm::pow(foot_m / arm_m, 0.45);
        let concentration = 0.18 + libm::pow(foot_m / self.root_radius_m, 0.15) * slender;
        concentration * (bending_pa + along_pa).max(0.0)
    }

    /// Largest principal stress at the root over the shear stress of the shaft below the teeth, which is `below_pa` \[Pa\] under a torque
    /// \[N·m\], both above 0: shear by its concentration, with the tension of the tooth on it. Their places are a little apart, so it is on the safe side.
    pub fn root_concentration(
        &self,
        shear_concentration: f64,
        (torque_n_m, below_pa): (f64, f64),
        friction: f64,
    ) -> f64 {
        let half = 0.5 * self.tooth_tension_pa(torque_n_m, friction) / below_pa;
        half + half.hypot(shear_concentration)
    }

    /// Mean pressure on a bearing flank \[Pa\] under a torque \[N·m\], 0 or more.
    pub fn flank_pressure_pa(&self, torque_n_m: f64) -> f64 {
        self.tooth_load_n_m(torque_n_m) / (self.module_m * libm::cos(SPLINE_PRESSURE_ANGLE_RAD))
    }

    /// What a flank slides \[m\], once, as the torque changes by \[N·m\]: the teeth give, and of the turn against each other the part along the flank
    /// slides.
    pub fn flank_slip_m(&self, change_n_m: f64) -> f64 {
        let given_m = self.tooth_load_n_m(change_n_m) / TOOTH_STIFFNESS_N_M2;
        given_m * libm::sin(SPLINE_PRESSURE_ANGLE_RAD)
    }

    /// Tilt of the shaft in the spline \[rad\] under a couple across it \[N·m\]: each tooth resists along its tangent, on the average half of
    /// the movement.
    pub fn tilt_rad(&self, couple_n_m: f64) -> f64 {
        let stiffness_n_m2 = 0.5 * TOOTH_STIFFNESS_N_M2 * self.teeth * self.bearing_share;
        couple_n_m * 12.0 / (stiffness_n_m2 * self.length_m.powi(3))
    }

    /// What a flank slides along the shaft in one turn \[m\] while the shaft is tilted \[rad\] in a plane that does not turn: to and fro by the tilt's rise over
    /// the pitch diameter.
    pub fn tilt_slip_m(&self, tilt_rad: f64) -> f64 {
        2.0 * self.pitch_diameter_m() * tilt_rad
    }

    /// Change of the measurement over two pins \[m\] by a wear depth \[m\] of the flanks of one side: a pin in a space of half angle α sinks by `w/(2 sin α)`.
    pub fn pins_loss_m(&self, wear_m: f64) -> f64 {
        wear_m / libm::sin(SPLINE_PRESSURE_ANGLE_RAD)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spline() -> Spline {
        Spline {
            module_m: 1.0e-3,
            teeth: 30.0,
            root_radius_m: 0.4e-3,
            length_m: 0.035,
            bearing_share: 0.5,
        }
    }

    /// By hand: 3000 N·m on a pitch radius of 15 mm is 200 kN, on 15 teeth of 35 mm 381 N/mm; over 1 mm of height at 30° 440 MPa.
    #[test]
    fn load_and_pressure_by_hand() {
        let spline = spline();
        let load = spline.tooth_load_n_m(3000.0);
        assert!((load / (200.0e3 / 15.0 / 0.035) - 1.0).abs() < 1e-12);
        let pressure = spline.flank_pressure_pa(3000.0);
        assert!((pressure / 439.9e6 - 1.0).abs() < 1e-3, "{pressure}");
        assert!((spline.minor_diameter_m() - 28.2e-3).abs() < 1e-12);
        // All teeth on twice the length: a quarter.
        let long = Spline {
            length_m: 0.07,
            bearing_share: 1.0,
            ..spline
        };
        assert!((long.flank_pressure_pa(3000.0) / pressure - 0.25).abs() < 1e-12);
    }

    /// Tilt by a virtual experiment: reactions of teeth round and along the spline to a small tilt, summed.
    #[test]
    fn tilt_is_that_of_the_teeth_summed() {
        let spline = spline();
        let (tilt, mut couple) = (1.0e-4, 0.0);
        let slices = 400;
        for slice in 0..slices {
            let along = spline.length_m * ((f64::from(slice) + 0.5) / f64::from(slices) - 0.5);
            for tooth in 0..30 {
                let share = libm::sin(2.0 * PI * f64::from(tooth) / 30.0);
                let give_m = tilt * along * share;
                let force = TOOTH_STIFFNESS_N_M2 * spline.bearing_share * give_m * share;
                couple += force * along * spline.length_m / f64::from(slices);
            }
        }
        assert!((spline.tilt_rad(couple) / tilt - 1.0).abs() < 1e-4);
    }

    /// A pin in a space whose one flank is worn: plane geometry of a circle that touches two lines.
    #[test]
    fn pins_sink_into_a_worn_space() {
        let (half, radius, wear) = (SPLINE_PRESSURE_ANGLE_RAD, 0.9e-3, 2.0e-5);
        // Lines through the apex at angles ±α to the radius; the worn one is moved out by w along its normal. The centre has distance
        // r from each: its height solves a 2×2 system.
        let (sin, cos) = (half.sin(), half.cos());
        // n1·c = r, n2·c = r − w with n = (±cos α, sin α): height = (r + r − w)/(2 sin α).
        let height = |worn: f64| (radius + radius - worn) / (2.0 * sin);
        assert!(cos > 0.0);
        let loss = 2.0 * (height(0.0) - height(wear));
        assert!((spline().pins_loss_m(wear) / loss - 1.0).abs() < 1e-9);
    }

    /// Solved with more elements the concentration stays where it is, to 1 %; a sharper fillet concentrates more.
    #[test]
    fn the_root_is_solved_finely_enough() {
        for root_radius_m in [0.2e-3, 0.3e-3, 0.4e-3, 0.5e-3] {
            let spline = Spline {
                root_radius_m,
                ..spline()
            };
            let (coarse, fine) = (
                spline.shear_concentration().unwrap(),
                spline.shear_concentration_with(72).unwrap(),
            );
            assert!((coarse / fine - 1.0).abs() < 0.01, "{coarse} {fine}");
        }
        let sharper = Spline {
            root_radius_m: 0.25e-3,
            ..spline()
        };
        assert!(sharper.shear_concentration() > spline().shear_concentration());
        let none = Spline {
            root_radius_m: 2.0e-3,
            ..spline()
        };
        assert!(spline().has_teeth() && !none.has_teeth() && none.shear_concentration().is_none());
    }

    #[test]
    fn more_load_on_the_tooth_and_more_friction_concentrate_more() {
        let spline = spline();
        let at =
            |spline: &Spline, friction| spline.root_concentration(1.9, (3000.0, 681.0e6), friction);
        assert!(at(&spline, 0.15) > at(&spline, 0.05));
        assert!(at(&spline, 0.05) > 1.9);
        let short = Spline {
            length_m: 0.025,
            ..spline
        };
        assert!(at(&short, 0.15) > at(&spline, 0.15));
    }
}

//! Involute splines: root stress under torque, flank pressure, and what slides.
//!
//! Side-fit splines of a pressure angle of 30° with a fillet root, proportions of ISO 4156 (from memory): external major diameter `m (z + 1)`, minor
//! `m (z − 1.8)`, working depth m. The torque is spread evenly along the engaged length over the share of the teeth that bears.

use std::f64::consts::PI;

use super::groove::longitudinal_groove_concentration;

/// Pressure angle \[rad\].
pub const SPLINE_PRESSURE_ANGLE_RAD: f64 = PI / 6.0;
/// Stiffness of a pair of teeth for each metre of length \[N/m²\]: 14 N/(mm·µm), the mean of spur gears (ISO 6336-1, from memory).
pub const TOOTH_STIFFNESS_N_M2: f64 = 1.4e10;
/// Minor diameter below the pitch diameter, and radius at which the tooth is borne, in modules.
const ROOT_DEPTH_MODULES: f64 = 0.9;

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

    /// Shear concentration at the root, on the stress of the shaft below the teeth: the spaces as grooves along it.
    pub fn shear_concentration(&self) -> f64 {
        let depth_m = 0.5 * (self.major_diameter_m() - self.minor_diameter_m());
        let spacing_m = PI * self.minor_diameter_m() / self.teeth;
        longitudinal_groove_concentration(depth_m, self.root_radius_m, spacing_m)
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

    /// Largest principal stress at the root over the shear stress of the shaft below the teeth, by the shear stress there `below_pa` \[Pa\] under a torque
    /// \[N·m\], both above 0: concentrated shear with the tension of the tooth on it. Their places are a little apart, so it is on the safe side.
    pub fn root_concentration(&self, torque_n_m: f64, below_pa: f64, friction: f64) -> f64 {
        let half = 0.5 * self.tooth_tension_pa(torque_n_m, friction) / below_pa;
        half + half.hypot(self.shear_concentration())
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

    #[test]
    fn more_load_on_the_tooth_and_more_friction_concentrate_more() {
        let spline = spline();
        let below_pa = 681.0e6;
        let at = |spline: &Spline, friction| spline.root_concentration(3000.0, below_pa, friction);
        assert!(at(&spline, 0.15) > at(&spline, 0.05));
        assert!(at(&spline, 0.05) > spline.shear_concentration());
        let short = Spline {
            length_m: 0.025,
            ..spline
        };
        assert!(at(&short, 0.15) > at(&spline, 0.15));
    }
}

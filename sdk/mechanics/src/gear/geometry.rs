//! Geometry of an external involute pair (ISO 21771, from memory): base and tip circles at a centre
//! distance, profile shifts, tooth thickness, and the points of the line of action.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::range::{OutOfRange, within};

/// Involute function `tan α − α` of a pressure angle \[rad\].
pub fn involute(angle_rad: f64) -> f64 {
    libm::tan(angle_rad) - angle_rad
}

/// Pressure angle \[rad\] of an involute function from 0 to 1, by Newton's method.
pub fn pressure_angle_rad(involute_value: f64) -> f64 {
    let mut angle_rad = libm::cbrt(3.0 * involute_value.max(0.0)).min(1.2);
    for _ in 0..30 {
        let tangent = libm::tan(angle_rad);
        if tangent <= 0.0 {
            break;
        }
        angle_rad -= (tangent - angle_rad - involute_value) / (tangent * tangent);
    }
    angle_rad
}

/// Basic rack of both gears (ISO 53 is 20 degrees, 1, 1.25, 0.38).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rack {
    /// Normal module \[m\].
    pub module_m: f64,
    /// Normal pressure angle \[rad\].
    pub pressure_angle_rad: f64,
    /// Helix angle at the reference cylinder \[rad\], 0 for spur gears.
    pub helix_angle_rad: f64,
    /// Addendum over module.
    pub addendum: f64,
    /// Dedendum over module.
    pub dedendum: f64,
    /// Radius of the cutter's tip over module.
    pub root_radius: f64,
}

/// Teeth, shifts and width of a pair at its centre distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Basic rack.
    pub rack: Rack,
    /// Teeth of pinion and wheel.
    pub teeth: [f64; 2],
    /// Profile shift over module of the pinion.
    pub pinion_shift: f64,
    /// Centre distance \[m\].
    pub centre_distance_m: f64,
    /// Common face width \[m\].
    pub face_width_m: f64,
}

/// One gear of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gear {
    /// Teeth.
    pub teeth: f64,
    /// Profile shift over module.
    pub shift: f64,
    /// Reference radius \[m\].
    pub reference_m: f64,
    /// Base radius \[m\].
    pub base_m: f64,
    /// Tip radius \[m\].
    pub tip_m: f64,
    /// Root radius \[m\].
    pub root_m: f64,
    /// Tooth thickness at the tip in the transverse section, without backlash \[m\].
    pub tip_thickness_m: f64,
}

/// The mesh of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mesh {
    /// What it was made of.
    pub pair: Pair,
    /// Pinion, then wheel.
    pub gears: [Gear; 2],
    /// Transverse pressure angle at the reference cylinder \[rad\].
    pub transverse_angle_rad: f64,
    /// Working transverse pressure angle \[rad\].
    pub working_angle_rad: f64,
    /// Helix angle at the base cylinder \[rad\].
    pub base_helix_rad: f64,
    /// Transverse base pitch \[m\].
    pub base_pitch_m: f64,
    /// Transverse contact ratio ε_α.
    pub contact_ratio: f64,
    /// Overlap ratio ε_β.
    pub overlap_ratio: f64,
    /// Radii of curvature of the pinion's flank in the transverse section at A (where a driving
    /// pinion's mesh begins), B, C (pitch point), D and E \[m\].
    pub pinion_radii_m: [f64; 5],
    /// Length of the line of action between the base circles \[m\].
    pub line_m: f64,
}

impl Pair {
    /// Sum of profile shifts that closes the pair without backlash at its centre distance.
    pub fn shift_sum(&self) -> f64 {
        let (transverse, working) = self.angles();
        let teeth = self.teeth[0] + self.teeth[1];
        (involute(working) - involute(transverse)) * teeth
            / (2.0 * libm::tan(self.rack.pressure_angle_rad))
    }

    /// Transverse reference and working pressure angles \[rad\].
    fn angles(&self) -> (f64, f64) {
        let rack = &self.rack;
        let transverse =
            libm::atan(libm::tan(rack.pressure_angle_rad) / libm::cos(rack.helix_angle_rad));
        let unshifted_m = 0.5 * (self.teeth[0] + self.teeth[1]) * self.transverse_module_m();
        let cosine = unshifted_m * libm::cos(transverse) / self.centre_distance_m;
        (transverse, libm::acos(cosine.clamp(-1.0, 1.0)))
    }

    fn transverse_module_m(&self) -> f64 {
        self.rack.module_m / libm::cos(self.rack.helix_angle_rad)
    }

    /// The mesh.
    ///
    /// # Errors
    /// A pair that does not mesh: pinion with undercut or teeth pointed at the tip (below 0.2
    /// module), contact beyond the base circles, contact ratio below 1 or above 2 (where three
    /// pairs share the load), sum of shifts outside −1 to 2.
    pub fn mesh(&self) -> Result<Mesh, OutOfRange> {
        let (transverse, working) = self.angles();
        let rack = &self.rack;
        let sum = within(
            "profile_shift_sum",
            self.shift_sum(),
            (-1.0, 2.0),
            "-1 to 2: check the centre distance",
        )?;
        let module_m = self.transverse_module_m();
        let shifts = [self.pinion_shift, sum - self.pinion_shift];
        // Tips are shortened by what the centre distance falls short of the sum of shifts.
        let unshifted_m = 0.5 * (self.teeth[0] + self.teeth[1]) * module_m;
        let shortening_m = (sum * rack.module_m - (self.centre_distance_m - unshifted_m)).max(0.0);
        let gear = |index: usize| {
            let (teeth, shift) = (self.teeth[index], shifts[index]);
            let reference_m = 0.5 * teeth * module_m;
            let tip_m = reference_m + rack.module_m * (rack.addendum + shift) - shortening_m;
            let base_m = reference_m * libm::cos(transverse);
            let tip_angle = libm::acos((base_m / tip_m).min(1.0));
            let half = (FRAC_PI_2 + 2.0 * shift * libm::tan(rack.pressure_angle_rad)) / teeth
                + involute(transverse)
                - involute(tip_angle);
            Gear {
                teeth,
                shift,
                reference_m,
                base_m,
                tip_m,
                root_m: reference_m - rack.module_m * (rack.dedendum - shift),
                tip_thickness_m: 2.0 * tip_m * half,
            }
        };
        let gears = [gear(0), gear(1)];
        for gear in &gears {
            no_undercut(rack, gear, transverse)?;
            let pointed = gear.tip_thickness_m / rack.module_m;
            within(
                "tip_thickness",
                pointed,
                (0.2, 2.0),
                "a tooth at least 0.2 module thick at its tip: less profile shift",
            )?;
        }
        let line_m = self.centre_distance_m * libm::sin(working);
        let reach = |gear: &Gear| {
            libm::sqrt((gear.tip_m * gear.tip_m - gear.base_m * gear.base_m).max(0.0))
        };
        let [pinion, wheel] = &gears;
        let (a, e) = (line_m - reach(wheel), reach(pinion));
        within(
            "contact_start",
            a / rack.module_m,
            (0.0, 1e3),
            "contact that begins above the pinion's base circle: more profile shift on the pinion",
        )?;
        within(
            "contact_end",
            (line_m - e) / rack.module_m,
            (0.0, 1e3),
            "contact that ends above the wheel's base circle: less profile shift on the pinion",
        )?;
        let base_pitch_m = PI * module_m * libm::cos(transverse);
        let contact_ratio = within(
            "contact_ratio",
            (e - a) / base_pitch_m,
            (1.0, 2.0),
            "1 to 2",
        )?;
        let pitch = pinion.base_m * libm::tan(working);
        Ok(Mesh {
            pair: *self,
            gears,
            transverse_angle_rad: transverse,
            working_angle_rad: working,
            base_helix_rad: libm::asin(
                libm::sin(rack.helix_angle_rad) * libm::cos(rack.pressure_angle_rad),
            ),
            base_pitch_m,
            contact_ratio,
            overlap_ratio: self.face_width_m * libm::sin(rack.helix_angle_rad)
                / (PI * rack.module_m),
            pinion_radii_m: [a, e - base_pitch_m, pitch, a + base_pitch_m, e],
            line_m,
        })
    }
}

/// The cutter's straight flank must end above the point where it would cut into the involute.
fn no_undercut(rack: &Rack, gear: &Gear, transverse: f64) -> Result<f64, OutOfRange> {
    let straight =
        rack.dedendum - gear.shift - rack.root_radius * (1.0 - libm::sin(rack.pressure_angle_rad));
    let sine = libm::sin(transverse);
    let most = 0.5 * gear.teeth / libm::cos(rack.helix_angle_rad) * sine * sine;
    within(
        "profile_shift",
        most - straight,
        (-0.02, 1e3),
        "no undercut: more profile shift or more teeth",
    )
}

impl Mesh {
    /// Gear ratio u, wheel over pinion.
    pub fn ratio(&self) -> f64 {
        self.pair.teeth[1] / self.pair.teeth[0]
    }

    /// Equivalent radius of curvature in the normal section \[m\] where the pinion's is `pinion_m` in
    /// the transverse section.
    pub fn relative_radius_m(&self, pinion_m: f64) -> f64 {
        pinion_m * (self.line_m - pinion_m) / (self.line_m * libm::cos(self.base_helix_rad))
    }

    /// Mean whole length of contact lines over the face width: `1/Z_ε²` (ISO 6336-2).
    pub fn contact_lines(&self) -> f64 {
        let (alpha, beta) = (self.contact_ratio, self.overlap_ratio);
        if beta >= 1.0 {
            return alpha;
        }
        1.0 / ((4.0 - alpha) / 3.0 * (1.0 - beta) + beta / alpha)
    }

    /// Speed of rolling of pinion and wheel at a point of the line of action \[m/s\], pinion turning at
    /// `speed_rad_s`.
    pub fn speeds_m_s(&self, pinion_m: f64, speed_rad_s: f64) -> (f64, f64) {
        let wheel_rad_s = speed_rad_s / self.ratio();
        (
            speed_rad_s * pinion_m,
            wheel_rad_s * (self.line_m - pinion_m),
        )
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub fn spur(teeth: [f64; 2], pinion_shift: f64, centre_distance_m: f64) -> Pair {
        let rack = Rack {
            module_m: 3.25e-3,
            pressure_angle_rad: 20_f64.to_radians(),
            helix_angle_rad: 0.0,
            addendum: 1.0,
            dedendum: 1.25,
            root_radius: 0.38,
        };
        Pair {
            rack,
            teeth,
            pinion_shift,
            centre_distance_m,
            face_width_m: 0.02,
        }
    }

    #[test]
    fn the_involute_function_is_undone() {
        for degrees in [1.0, 14.5, 20.0, 31.0, 45.0_f64] {
            let angle = degrees.to_radians();
            assert!((pressure_angle_rad(involute(angle)) / angle - 1.0).abs() < 1e-12);
        }
        // Tables of the involute function: inv 20 degrees = 0.014 904.
        assert!((involute(20_f64.to_radians()) - 0.014_904_4).abs() < 1e-7);
    }

    /// Contact ratio of 20-degree full-depth gears in closed form for no shift:
    /// `[√(z1 + 2)² − (z1 cos α)² + … − (z1 + z2) sin α]/(2 π cos α)`.
    #[test]
    fn an_unshifted_pair_has_the_textbook_contact_ratio() {
        let pair = spur([22.0, 30.0], 0.0, 84.5e-3);
        let mesh = pair.mesh().expect("a pair that meshes");
        let cosine = 20_f64.to_radians().cos();
        let part = |z: f64| ((z + 2.0).powi(2) - (z * cosine).powi(2)).sqrt();
        let expected =
            (part(22.0) + part(30.0) - 52.0 * 20_f64.to_radians().sin()) / (2.0 * PI * cosine);
        assert!((mesh.contact_ratio - expected).abs() < 1e-12);
        assert!(pair.shift_sum().abs() < 1e-12);
    }

    /// Both teeth and no backlash fill the pitch at the working circle.
    #[test]
    fn thicknesses_fill_the_working_pitch() {
        let mesh = spur([17.0, 35.0], 0.3, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let thickness = |gear: &Gear| {
            let radius_m = gear.base_m / libm::cos(mesh.working_angle_rad);
            let half = (FRAC_PI_2
                + 2.0 * gear.shift * libm::tan(mesh.pair.rack.pressure_angle_rad))
                / gear.teeth
                + involute(mesh.transverse_angle_rad)
                - involute(mesh.working_angle_rad);
            2.0 * radius_m * half
        };
        let pitch_m = 2.0 * PI * mesh.gears[0].base_m / libm::cos(mesh.working_angle_rad) / 17.0;
        let filled = thickness(&mesh.gears[0]) + thickness(&mesh.gears[1]);
        assert!((filled / pitch_m - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_points_stand_in_order_and_slide_as_they_should() {
        let mesh = spur([17.0, 35.0], 0.3, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        assert!(mesh.pinion_radii_m.windows(2).all(|pair| pair[0] < pair[1]));
        let (pinion, wheel) = mesh.speeds_m_s(mesh.pinion_radii_m[2], 700.0);
        assert!(
            (pinion / wheel - 1.0).abs() < 1e-12,
            "rolling at the pitch point"
        );
    }

    #[test]
    fn pairs_that_do_not_mesh_are_refused() {
        let field = |pair: Pair| pair.mesh().expect_err("refused").field;
        assert_eq!(field(spur([17.0, 35.0], 0.3, 95e-3)), "profile_shift_sum");
        assert_eq!(field(spur([12.0, 40.0], 0.0, 84.5e-3)), "profile_shift");
        assert_eq!(field(spur([14.0, 38.0], 1.2, 86.2e-3)), "tip_thickness");
    }
}

use crate::contact::{EllipticContact, effective_modulus_pa, elliptic_contact};
use crate::range::{OutOfRange, within};

/// Steel: modulus \[Pa\] and Poisson's ratio.
const STEEL: (f64, f64) = (2.06e11, 0.3);

/// A fixed ball joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BallJoint {
    /// Balls, one to a track.
    pub balls: f64,
    /// Diameter of a ball \[m\].
    pub ball_m: f64,
    /// Distance of the balls from the joint's centre, joint straight \[m\].
    pub pitch_radius_m: f64,
    /// Distance of the tracks' centres from the joint's centre, along the axes \[m\].
    pub offset_m: f64,
    /// Angle of the contact off the meridional plane, in a section across the track \[rad\].
    pub pressure_angle_rad: f64,
    /// Radius of the track's section over that of the ball, above 1.
    pub conformity: f64,
}

/// A ball at an instant, on the outer member. Components are in the bisecting plane: x towards the bend, y across it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Angle along the track's arc from the plane through the arc's centre \[rad\].
    pub track_rad: f64,
    /// Its rate over the joint's turn \[rad/rad\].
    pub track_rate: f64,
    /// Position of the ball's centre in the bisecting plane \[m\].
    pub at_m: [f64; 2],
    /// Distance of the ball's centre from the axis of either member \[m\].
    pub radius_m: f64,
    /// Torque about the axis for each newton of contact force \[m\].
    pub arm_m: f64,
    /// Share of the contact force that is normal to the bisecting plane: outer and inner contact together push the ball against the cage by
    /// twice this.
    pub lean: f64,
    /// Speed of the track's turn about the contact's normal, over the joint's speed.
    pub pivot: f64,
}

impl BallJoint {
    /// Refuses balls outside 3 to 12 or not whole, a ball outside 5 to 60 mm, a pitch radius outside 10 to 120 mm, an offset outside 0.02 to 0.3 of it, a
    /// pressure angle outside 0.35 to 0.96 rad, a conformity outside 1.005 to 1.2, or a ball that does not leave the inner track an arc.
    ///
    /// # Errors
    /// The field out of range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        within("balls", self.balls, (3.0, 12.0), "3 to 12")?;
        if self.balls.fract() != 0.0 {
            return Err(OutOfRange {
                field: "balls",
                value: self.balls,
                expected: "a whole number",
            });
        }
        within("ball_m", self.ball_m, (0.005, 0.06), "0.005 to 0.06 m")?;
        let pitch_m = self.pitch_radius_m;
        within("pitch_radius_m", pitch_m, (0.01, 0.12), "0.01 to 0.12 m")?;
        let offset = (0.02 * pitch_m, 0.3 * pitch_m);
        let expected = "0.02 to 0.3 of the pitch radius";
        within("offset_m", self.offset_m, offset, expected)?;
        let angle_rad = self.pressure_angle_rad;
        within(
            "pressure_angle_rad",
            angle_rad,
            (0.35, 0.96),
            "0.35 to 0.96 rad",
        )?;
        within("conformity", self.conformity, (1.005, 1.2), "1.005 to 1.2")?;
        // Balls side by side on the pitch circle need a wall between their windows; they also must be smaller than the arc of the inner track.
        let pitch_chord_m = 2.0 * pitch_m * libm::sin(std::f64::consts::PI / self.balls);
        let most_m = (0.95 * pitch_chord_m).min(1.5 * pitch_m);
        let expected = "less than 0.95 of the distance between balls, and 1.5 of the pitch radius";
        within("ball_m", self.ball_m, (0.0, most_m), expected)?;
        Ok(())
    }

    /// Radius of the ball centres' arc on a track \[m\].
    pub fn arc_m(&self) -> f64 {
        self.pitch_radius_m.hypot(self.offset_m)
    }

    /// Joint angle \[rad\] from which on a ball is pushed to either side of the cage in a turn: where the tilt of its contacts, `sin α sin δ`, is that of the
    /// funnel of its tracks, `cos α c/R_t`. Beyond it few balls hold the cage, and carry most of the torque.
    pub fn steep_rad(&self) -> f64 {
        let funnel = self.offset_m / (self.arc_m() * libm::tan(self.pressure_angle_rad));
        2.0 * libm::asin(funnel.min(1.0))
    }

    /// The ball whose track on the outer member is at a phase of the turn (0 towards the bend), at a joint angle of 0 to 0.9 rad.
    ///
    /// The ball's arc meets the bisecting plane where `(c + R_t sin θ) cos δ = R_t cos θ sin δ cos φ`, δ half the joint angle: closed form.
    pub fn place(&self, joint_rad: f64, phase_rad: f64) -> Place {
        let (sin_half, cos_half) = libm::sincos(0.5 * joint_rad);
        let (sin_phase, cos_phase) = libm::sincos(phase_rad);
        let arc_m = self.arc_m();
        let swing = (sin_half * cos_phase).hypot(cos_half);
        let track_rad = libm::atan2(sin_half * cos_phase, cos_half)
            - libm::asin(self.offset_m * cos_half / (arc_m * swing));
        let (sin_track, cos_track) = libm::sincos(track_rad);
        let track_rate = -cos_track * sin_half * sin_phase
            / (cos_track * cos_half + sin_track * sin_half * cos_phase);
        let radius_m = arc_m * cos_track;
        let along_m = self.offset_m + arc_m * sin_track;
        let (sin_pressure, cos_pressure) = libm::sincos(self.pressure_angle_rad);
        // Normals of the contact on the outer member, in its own axes: towards the bend, across it, along the axis.
        let outward = cos_pressure * cos_track;
        let normal = [
            outward * cos_phase - sin_pressure * sin_phase,
            outward * sin_phase + sin_pressure * cos_phase,
            cos_pressure * sin_track,
        ];
        let lean = normal[2] * cos_half - normal[0] * sin_half;
        Place {
            track_rad,
            track_rate,
            at_m: [
                radius_m * cos_phase * cos_half + along_m * sin_half,
                radius_m * sin_phase,
            ],
            radius_m,
            arm_m: radius_m * sin_pressure,
            lean,
            pivot: normal[2] - lean,
        }
    }

    /// Contacts of a ball with the outer and with the inner track under one newton. Sizes go with the cube root of the load, pressure as well.
    ///
    /// Across the track the two radii nearly fit; along it the outer track is hollow, the inner one round.
    pub fn unit_contacts(&self) -> [EllipticContact; 2] {
        self.contacts(1.0)
    }

    /// Contacts of a ball with the outer and with the inner track under a load \[N\] (Hertz).
    pub fn contacts(&self, load_n: f64) -> [EllipticContact; 2] {
        let across_m = 0.5 * self.ball_m * self.conformity / (self.conformity - 1.0);
        let modulus_pa = effective_modulus_pa(STEEL, STEEL);
        self.rolling_radii_m()
            .map(|along_m| elliptic_contact(load_n, (along_m, across_m), modulus_pa))
    }

    /// Radii of the equivalent bodies along the outer and along the inner track \[m\].
    pub fn rolling_radii_m(&self) -> [f64; 2] {
        let ball_m = 0.5 * self.ball_m;
        let cos_pressure = libm::cos(self.pressure_angle_rad);
        let reach_m = ball_m * cos_pressure;
        let along = |track_per_m: f64| 1.0 / (1.0 / ball_m + track_per_m);
        [
            along(-cos_pressure / (self.arc_m() + reach_m)),
            along(cos_pressure / (self.arc_m() - reach_m)),
        ]
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, TAU};

    pub fn joint() -> BallJoint {
        BallJoint {
            balls: 6.0,
            ball_m: 0.019,
            pitch_radius_m: 0.032,
            offset_m: 0.0035,
            pressure_angle_rad: 0.698,
            conformity: 1.02,
        }
    }

    /// Straight: all balls on the pitch circle, at rest on their tracks; torque arm and funnel by hand.
    #[test]
    fn a_straight_joint_has_its_balls_on_the_pitch_circle() {
        let joint = joint();
        joint.check().unwrap();
        for k in 0..6 {
            let place = joint.place(0.0, TAU * f64::from(k) / 6.0);
            assert!((place.radius_m - 0.032).abs() < 1e-12);
            assert!((place.at_m[0].hypot(place.at_m[1]) - 0.032).abs() < 1e-12);
            assert!(place.track_rate == 0.0 && place.pivot.abs() < 1e-12);
            let funnel = -libm::cos(0.698) * 0.0035 / joint.arc_m();
            assert!((place.lean - funnel).abs() < 1e-12);
        }
    }

    /// The law of constant velocity: the ball lies on the arc of the outer track and on its mirror image, that of the inner track, whose axis is at the joint angle.
    /// Worked out in space, apart from the closed form.
    #[test]
    fn a_ball_lies_on_both_tracks() {
        let joint = joint();
        let (angle_rad, phase_rad) = (0.3, 1.1);
        let place = joint.place(angle_rad, phase_rad);
        let at = [place.at_m[0], place.at_m[1], 0.0];
        let half = 0.5 * angle_rad;
        for side in [1.0, -1.0] {
            let axis = [half.sin(), 0.0, side * half.cos()];
            let centre = axis.map(|part| part * joint.offset_m);
            let apart: f64 = (0..3).map(|k| (at[k] - centre[k]).powi(2)).sum();
            assert!((apart.sqrt() - joint.arc_m()).abs() < 1e-12);
            // In the meridional plane of the same phase.
            let along: f64 = (0..3).map(|k| at[k] * axis[k]).sum();
            let across = [0, 1, 2].map(|k| at[k] - along * axis[k]);
            let bend = [half.cos(), 0.0, -side * half.sin()];
            let towards: f64 = (0..3).map(|k| across[k] * bend[k]).sum();
            assert!((libm::atan2(across[1], towards) - phase_rad).abs() < 1e-12);
        }
    }

    #[test]
    fn the_rate_is_the_slope_of_the_track_angle() {
        let step = 1e-5;
        for phase in [0.4, 2.0, 4.4] {
            let at = |phase| joint().place(0.2, phase).track_rad;
            let slope = (at(phase + step) - at(phase - step)) / (2.0 * step);
            assert!((joint().place(0.2, phase).track_rate - slope).abs() < 1e-8);
        }
        // Towards the bend and away from it the ball is at the ends of its travel, half the joint angle to either side.
        let travel =
            joint().place(0.2, 0.0).track_rad - joint().place(0.2, 2.0 * FRAC_PI_2).track_rad;
        assert!((travel - 0.2).abs() < 1e-12);
    }

    /// No ball leans the other way below the steep angle; some does above it.
    #[test]
    fn balls_lean_one_way_up_to_the_steep_angle() {
        let joint = joint();
        let most = |angle_rad| {
            let phases = (0..360).map(|k| TAU * f64::from(k) / 360.0);
            phases.fold(-1.0, |most: f64, phase| {
                most.max(joint.place(angle_rad, phase).lean)
            })
        };
        assert!(most(0.97 * joint.steep_rad()) < 0.0 && most(1.03 * joint.steep_rad()) > 0.0);
    }

    /// The round inner track bears harder than the hollow outer one; pressure goes with the cube root of load (Hertz).
    #[test]
    fn contacts_are_those_of_hertz() {
        let joint = joint();
        let [outer, inner] = joint.contacts(8000.0);
        assert!(inner.peak_pressure_pa > outer.peak_pressure_pa);
        let [unit, _] = joint.unit_contacts();
        assert!((outer.peak_pressure_pa / unit.peak_pressure_pa / 20.0 - 1.0).abs() < 1e-9);
    }

    #[test]
    fn impossible_joints_are_refused() {
        let field = |change: fn(&mut BallJoint)| {
            let mut wrong = joint();
            change(&mut wrong);
            wrong.check().unwrap_err().field
        };
        assert_eq!(field(|j| j.balls = 6.5), "balls");
        assert_eq!(field(|j| j.ball_m = 0.031), "ball_m");
        assert_eq!(field(|j| j.offset_m = 0.0), "offset_m");
        assert_eq!(field(|j| j.conformity = 1.0), "conformity");
        assert_eq!(
            field(|j| j.pressure_angle_rad = f64::NAN),
            "pressure_angle_rad"
        );
    }
}

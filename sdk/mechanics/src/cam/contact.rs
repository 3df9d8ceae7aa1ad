use super::Lift;

/// The face of a follower that rests on the cam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Follower {
    /// A flat face across the line of motion: a bucket or a flat lifter.
    Flat,
    /// A round face: a pad that does not turn, or a roller (then see [`CamContact::rolling`]).
    Radiused {
        /// Radius of the face \[m\].
        radius_m: f64,
    },
}

/// Geometry and speeds of the contact of cam and follower at one cam angle.
///
/// Speeds are those of the two surfaces past the contact, positive as the cam's surface passes on the base
/// circle: half their sum entrains oil, their difference slides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CamContact {
    /// Radius of curvature of the cam \[m\], negative where the flank is hollow.
    pub cam_radius_m: f64,
    /// Radius R of the equivalent contact on a plane \[m\], `1/R = 1/R_cam + 1/R_follower`. 0 or less: the lift
    /// asks for a cam that cannot be cut with this follower (an undercut).
    pub equivalent_radius_m: f64,
    /// Angle of the contact's normal to the follower's line of motion \[rad\], the sign that of the slope.
    pub pressure_angle_rad: f64,
    /// Speed of the cam's surface past the contact \[m/s\].
    pub cam_surface_m_s: f64,
    /// Speed of the follower's surface past the contact \[m/s\], for a face that does not turn.
    pub follower_surface_m_s: f64,
}

impl CamContact {
    /// Mean speed that draws oil in \[m/s\].
    pub fn entrainment_m_s(&self) -> f64 {
        0.5 * (self.cam_surface_m_s + self.follower_surface_m_s)
    }

    /// Speed of one surface over the other \[m/s\], positive where the cam is the faster.
    pub fn sliding_m_s(&self) -> f64 {
        self.cam_surface_m_s - self.follower_surface_m_s
    }

    /// The same contact with a roller that slips by a share of the cam's surface speed, 0 for pure rolling.
    #[must_use]
    pub fn rolling(self, slip: f64) -> Self {
        Self {
            follower_surface_m_s: (1.0 - slip) * self.cam_surface_m_s,
            ..self
        }
    }
}

/// The contact at a lift, its derivatives taken at the cam, for a cam that turns at a speed \[rad/s\]. The base
/// circle and a follower's radius are above 0.
///
/// Flat face (textbook kinematics, e.g. R. L. Norton, Cam Design and Manufacturing Handbook, from memory):
/// `R_cam = R_b + s + s''`, entrainment `ω/2 (R_b + s + 2 s'')`, sliding `ω (R_b + s)`. Round face: the centre runs
/// on the pitch curve at `r = R_b + R_f + s`, of curvature `κ = (r² + 2 s'² − r s'') / (r² + s'²)^(3/2)`; with the
/// normal at `tan φ = s'/r` the contact travels `R_cam (ω − φ̇)` along the cam and `R_f φ̇` along the follower.
pub fn contact(
    follower: Follower,
    base_radius_m: f64,
    lift: &Lift,
    cam_speed_rad_s: f64,
) -> CamContact {
    match follower {
        Follower::Flat => flat(base_radius_m, lift, cam_speed_rad_s),
        Follower::Radiused { radius_m } => round(radius_m, base_radius_m, lift, cam_speed_rad_s),
    }
}

fn flat(base_radius_m: f64, lift: &Lift, cam_speed_rad_s: f64) -> CamContact {
    let radius_m = base_radius_m + lift.lift_m + lift.curvature_m;
    CamContact {
        cam_radius_m: radius_m,
        equivalent_radius_m: radius_m,
        pressure_angle_rad: 0.0,
        cam_surface_m_s: radius_m * cam_speed_rad_s,
        follower_surface_m_s: lift.curvature_m * cam_speed_rad_s,
    }
}

fn round(radius_m: f64, base_radius_m: f64, lift: &Lift, cam_speed_rad_s: f64) -> CamContact {
    let r = base_radius_m + radius_m + lift.lift_m;
    let arc = libm::hypot(r, lift.slope_m);
    let square = arc * arc;
    // dφ/dθ; the pitch curve turns by 1 − dφ/dθ for each radian of cam.
    let swing = (lift.curvature_m * r - lift.slope_m * lift.slope_m) / square;
    let pitch_curvature = (1.0 - swing) / arc;
    CamContact {
        cam_radius_m: 1.0 / pitch_curvature - radius_m,
        // In this form nothing is lost where the pitch curve is straight.
        equivalent_radius_m: radius_m - pitch_curvature * radius_m * radius_m,
        pressure_angle_rad: libm::atan2(lift.slope_m, r),
        cam_surface_m_s: (arc - radius_m * (1.0 - swing)) * cam_speed_rad_s,
        follower_surface_m_s: radius_m * swing * cam_speed_rad_s,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BASE_M: f64 = 0.017;
    const SPEED: f64 = 400.0;

    /// Eccentric circle of radius a with its centre e from the axis under a round follower: the equivalent contact
    /// is the same all round (plane geometry).
    #[test]
    fn an_eccentric_circle_has_its_own_radius_everywhere() {
        let (a, e, roller) = (0.018, 0.004, 0.0095);
        let base = a - e;
        let reach = a + roller;
        for k in 0..64 {
            let angle = std::f64::consts::TAU * f64::from(k) / 64.0;
            // Centre of the follower at r = e cos θ + √(reach² − e² sin² θ).
            let (sine, cosine) = (angle.sin(), angle.cos());
            let root = (reach * reach - e * e * sine * sine).sqrt();
            let root_slope = -e * e * sine * cosine / root;
            let root_curvature =
                (-e * e * (cosine * cosine - sine * sine) - root_slope * root_slope) / root;
            let lift = Lift {
                lift_m: e * cosine + root - base - roller,
                slope_m: -e * sine + root_slope,
                curvature_m: -e * cosine + root_curvature,
            };
            let found = contact(Follower::Radiused { radius_m: roller }, base, &lift, SPEED);
            assert!((found.cam_radius_m / a - 1.0).abs() < 1e-9, "{angle}");
            let equivalent = a * roller / (a + roller);
            assert!((found.equivalent_radius_m / equivalent - 1.0).abs() < 1e-9);
            // Along a circle about its own centre the contact travels a (ω − φ̇).
            let normal = (-e * sine).atan2(root);
            assert!((found.pressure_angle_rad - normal).abs() < 1e-9, "{angle}");
        }
    }

    #[test]
    fn a_very_large_round_face_is_a_flat_one() {
        let lift = Lift {
            lift_m: 4e-3,
            slope_m: 3e-3,
            curvature_m: -8e-3,
        };
        let flat = contact(Follower::Flat, BASE_M, &lift, SPEED);
        let round = contact(Follower::Radiused { radius_m: 1e4 }, BASE_M, &lift, SPEED);
        assert!((round.equivalent_radius_m / flat.equivalent_radius_m - 1.0).abs() < 1e-3);
        assert!((round.cam_surface_m_s / flat.cam_surface_m_s - 1.0).abs() < 1e-3);
        assert!((round.follower_surface_m_s / flat.follower_surface_m_s - 1.0).abs() < 1e-3);
        let entrained = 0.5 * SPEED * (BASE_M + lift.lift_m + 2.0 * lift.curvature_m);
        assert!((flat.entrainment_m_s() / entrained - 1.0).abs() < 1e-12);
    }

    #[test]
    fn on_the_base_circle_the_cam_slides_and_does_not_climb() {
        for follower in [Follower::Flat, Follower::Radiused { radius_m: 0.0095 }] {
            let found = contact(follower, BASE_M, &Lift::default(), SPEED);
            assert!((found.cam_radius_m / BASE_M - 1.0).abs() < 1e-12);
            assert!((found.sliding_m_s() / (BASE_M * SPEED) - 1.0).abs() < 1e-12);
            assert!(found.pressure_angle_rad.abs() < 1e-15);
            assert!(found.rolling(0.0).sliding_m_s().abs() < 1e-15);
        }
    }

    #[test]
    fn an_undercut_shows_as_no_radius() {
        let sharp = Lift {
            lift_m: 8e-3,
            slope_m: 0.0,
            curvature_m: -0.2,
        };
        for follower in [Follower::Flat, Follower::Radiused { radius_m: 0.0095 }] {
            assert!(contact(follower, BASE_M, &sharp, SPEED).equivalent_radius_m < 0.0);
        }
    }
}

//! One turn of the cam at a speed: motion of the valve, and forces on every part.

use ringland_mechanics::cam::{self, CamContact, Lift};
use ringland_mechanics::valve_train::{Motion, MotionError, Point};

use super::fields::{FLAT, ValveTrain};

/// Sliding speed over which friction turns round \[m/s\].
const SLIDING_STEP_M_S: f64 = 0.01;

/// Gap between valve and cam from which on the valve counts as floating \[m\]: beyond about this much, landings and the blow of the cam meeting the valve again
/// grow with speed. Less is the train's own vibration. Assumed.
pub const FLOAT_LOFT_M: f64 = 0.1e-3;

/// A train ready to be run at speeds.
#[derive(Debug, Clone)]
pub struct TrainSolver<'a> {
    train: &'a ValveTrain,
}

/// One turn of the cam.
#[derive(Debug, Clone, PartialEq)]
pub struct TrainCycle {
    /// Crank speed \[rad/s\]; the cam turns at half of it.
    pub crank_speed_rad_s: f64,
    /// Spring force on the closed valve \[N\].
    pub seat_load_n: f64,
    /// The motion: impacts on the seat, loft, points.
    pub motion: Motion,
    /// Forces and contact at each point of the motion.
    pub instants: Vec<Instant>,
}

/// What the parts feel at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// Motion of the valve, force of train, spring and seat, force in the coil.
    pub point: Point,
    /// Force between cam and follower \[N\].
    pub cam_n: f64,
    /// Curvature and surface speeds at that contact.
    pub contact: CamContact,
    /// Side force on the stem at its tip \[N\]: friction of a rocker that slides over it and the spring's lean. Its sign is that of the rocker's pull.
    pub side_n: f64,
    /// Distance of the rocker's force from the stem's axis \[m\], 0 for a bucket.
    pub tip_offset_m: f64,
}

impl TrainCycle {
    /// Largest gap between valve and cam while the cam holds the valve open \[m\]; from [`FLOAT_LOFT_M`] on the valve floats.
    pub fn loft_m(&self) -> f64 {
        self.motion.loft_m
    }

    /// Time between two instants \[s\].
    pub fn instant_s(&self) -> f64 {
        std::f64::consts::TAU / self.motion.cam_speed_rad_s / self.instants.len() as f64
    }
}

impl<'a> TrainSolver<'a> {
    /// Prepares a train.
    pub fn new(train: &'a ValveTrain) -> Self {
        Self { train }
    }

    /// Runs it at a crank speed \[rad/s\], 20 to 3000, with a spring of a seat load \[N\].
    ///
    /// # Errors
    /// A speed out of range, or a motion that is not finite.
    pub fn cycle(
        &self,
        crank_speed_rad_s: f64,
        seat_load_n: f64,
    ) -> Result<TrainCycle, MotionError> {
        let motion = self
            .train
            .train(seat_load_n)
            .turn(0.5 * crank_speed_rad_s)?;
        let instants = motion
            .points
            .iter()
            .map(|point| self.train.instant(point, motion.cam_speed_rad_s))
            .collect();
        Ok(TrainCycle {
            crank_speed_rad_s,
            seat_load_n,
            motion,
            instants,
        })
    }
}

impl ValveTrain {
    /// Curvature and surface speeds where cam and follower touch, for a lift at the valve.
    pub fn contact(&self, lift: &Lift, cam_speed_rad_s: f64) -> CamContact {
        let at_cam = lift.scaled(1.0 / self.rocker_ratio);
        cam::contact(
            self.follower(),
            self.base_radius_m,
            &at_cam,
            cam_speed_rad_s,
        )
    }

    fn instant(&self, point: &Point, cam_speed_rad_s: f64) -> Instant {
        let (slide, tip_offset_m) = self.tip(point);
        Instant {
            point: *point,
            cam_n: point.train_n * self.rocker_ratio,
            contact: self.contact(&point.asked, cam_speed_rad_s),
            side_n: self.tip_friction * point.train_n * slide
                + self.spring_side_share * point.retainer_n,
            tip_offset_m,
        }
    }

    /// Direction in which the rocker slides over the tip, and where it touches: the end of an arm that stands square to the stem at mid lift
    /// moves along an arc.
    fn tip(&self, point: &Point) -> (f64, f64) {
        if self.follower_option == FLAT {
            return (0.0, 0.0);
        }
        let half_m = 0.5 * self.lift.largest_m();
        let rise = ((point.lift_m - half_m) / self.arm_length_m).clamp(-1.0, 1.0);
        let most = (half_m / self.arm_length_m).clamp(0.0, 1.0);
        let reach = |sine: f64| self.arm_length_m * (1.0 - sine * sine).max(0.0).sqrt();
        // Set so that the sweep lies evenly about the offset at half of it.
        let tip_offset_m = self.tip_offset_m + reach(rise) - 0.5 * (reach(0.0) + reach(most));
        // Friction turns with the sliding, through a smooth step.
        let outward_m_s = -rise * point.velocity_m_s;
        (libm::tanh(outward_m_s / SLIDING_STEP_M_S), tip_offset_m)
    }
}

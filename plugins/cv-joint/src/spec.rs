//! The spec, typed.

use ringland_mechanics::cv_joint::BallJoint;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::rolling_bearing::Walther;
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::constants as c;

/// Numbers of the spec.
pub const NUMBERS: usize = 18;

/// What the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub torque_share: f64,
    pub joint: BallJoint,
    pub capacity_n_m: f64,
    pub heat_transfer_w_k: f64,
    pub oil: Walther,
    pub grease_life_s: f64,
    pub grease_limit_k: f64,
    pub window_contact_m2: f64,
    pub build_play_m: f64,
    pub limit_play_m: f64,
    pub limit_window_m: f64,
    pub limit_surface_k: f64,
    pub track_ra_m: f64,
    pub track_hardness_pa: f64,
    pub track_friction: f64,
    pub track_wear_m2_n: f64,
    pub ball_ra_m: f64,
    pub ball_hardness_pa: f64,
    pub ball_wear_m2_n: f64,
    pub window_friction: f64,
    pub window_wear_m2_n: f64,
    /// Spreads of ln(wear coefficient) of tracks, balls and windows.
    pub wear_ln_sd: [f64; 3],
    /// Spread of ln(hardness), the larger of tracks and balls.
    pub hardness_ln_sd: f64,
    /// Spread of ln(roughness of the tracks).
    pub ra_ln_sd: f64,
}

impl Spec {
    /// Reads a specimen.
    ///
    /// # Errors
    /// Lists of the wrong length, or a joint or an oil that the physics is not defined for.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let numbers = <&[f64; NUMBERS]>::try_from(specimen.numbers.as_slice()).ok();
        let (Some(n), [track, ball, window]) = (numbers, specimen.surfaces.as_slice()) else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} numbers and 3 surfaces, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        let [track_ra, track_hardness, track_friction, track_wear] =
            properties::<4>("track", track)?;
        let [ball_ra, ball_hardness, ball_wear] = properties::<3>("ball", ball)?;
        let [window_friction, window_wear] = properties::<2>("window", window)?;
        let joint = BallJoint {
            balls: n[1],
            ball_m: n[2],
            pitch_radius_m: n[3],
            offset_m: n[4],
            pressure_angle_rad: n[5],
            conformity: n[6],
        };
        joint
            .check()
            .map_err(|wrong| refused(wrong.field, &wrong))?;
        let oil = Walther::new(n[9], n[10]).map_err(|wrong| {
            let cold = wrong.field == "at_40c_m2_s";
            let field = if cold {
                "oil_40c_m2_s"
            } else {
                "oil_100c_m2_s"
            };
            refused(field, &wrong)
        })?;
        Ok(Self {
            torque_share: n[0],
            joint,
            capacity_n_m: n[7],
            heat_transfer_w_k: n[8],
            oil,
            grease_life_s: n[11],
            grease_limit_k: n[12],
            window_contact_m2: n[13],
            build_play_m: n[14],
            limit_play_m: n[15],
            limit_window_m: n[16],
            limit_surface_k: n[17],
            track_ra_m: track_ra.0,
            track_hardness_pa: track_hardness.0,
            track_friction: track_friction.0,
            track_wear_m2_n: track_wear.0,
            ball_ra_m: ball_ra.0,
            ball_hardness_pa: ball_hardness.0,
            ball_wear_m2_n: ball_wear.0,
            window_friction: window_friction.0,
            window_wear_m2_n: window_wear.0,
            wear_ln_sd: [track_wear.1, ball_wear.1, window_wear.1],
            hardness_ln_sd: track_hardness.1.max(ball_hardness.1),
            ra_ln_sd: track_ra.1,
        })
    }

    /// Composite root-mean-square roughness of ball and track \[m\].
    pub fn roughness_m(&self) -> f64 {
        c::RQ_PER_RA * self.track_ra_m.hypot(self.ball_ra_m)
    }

    /// Pressure that leaves a set of 1e-4 of the ball's diameter \[Pa\]: that of the softer of track and ball.
    pub fn set_pressure_pa(&self) -> f64 {
        let softer_pa = self.track_hardness_pa.min(self.ball_hardness_pa);
        c::SET_PA * libm::pow(softer_pa / c::SET_HARDNESS_PA, c::SET_HARDNESS_POWER)
    }

    /// Radial play \[m\] with wear of driving and coasting flanks and of the balls \[m\]: the joint moves sideways until both flanks of its balls are met.
    pub fn play_m(&self, drive_m: f64, coast_m: f64, ball_m: f64) -> f64 {
        let gap_m = drive_m + coast_m + ball_m;
        self.build_play_m + 0.5 * gap_m / libm::cos(self.joint.pressure_angle_rad)
    }
}

/// Values of a surface with their spreads.
fn properties<const COUNT: usize>(
    name: &str,
    surface: &Surface,
) -> Result<[(f64, f64); COUNT], Vec<Finding>> {
    let pairs = surface.values.iter().copied();
    let pairs: Vec<(f64, f64)> = pairs.zip(surface.ln_sd.iter().copied()).collect();
    <[(f64, f64); COUNT]>::try_from(pairs).map_err(|pairs| {
        let expected = format!("{COUNT} properties, each with its spread");
        let remedy = "give one value for each property of the card";
        vec![error(name, pairs.len() as f64, &expected, remedy)]
    })
}

fn refused(field: &str, wrong: &OutOfRange) -> Vec<Finding> {
    let remedy = "measure again, or ask the maker; beyond the range this model has no physics";
    vec![error(field, wrong.value, wrong.expected, remedy)]
}

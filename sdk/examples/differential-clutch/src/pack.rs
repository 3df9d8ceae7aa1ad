//! One pack: its locking torque, and what slip does to it.

use ringland_plugin::{Duty, Specimen};

/// Stack loss at which the preload springs are slack [m].
pub const SPRING_TRAVEL_M: f64 = 0.9e-3;
/// Rise of oil temperature that makes wear e times as fast [K].
pub const WEAR_TEMP_SCALE_K: f64 = 50.0;
/// Oil temperature at which the wear coefficient holds [K].
pub const REFERENCE_OIL_TEMP_K: f64 = 383.15;
/// Friction energy in a volume of oil that leaves 1/e of its modifier [J/m3].
pub const MODIFIER_LIFE_J_M3: f64 = 12e9;
/// Friction without modifier over friction with it, less 1.
pub const FRICTION_GAIN_WITHOUT_MODIFIER: f64 = 1.0 / 0.85 - 1.0;

// Channels in the order of the card.
const SLIP_SPEED: usize = 0;
const AXLE_TORQUE: usize = 1;
const OIL_TEMP: usize = 2;

/// Steps of the integration over one record.
const STEPS: u32 = 4;

/// A pack as specified. Numbers stand in the order of the card.
pub struct Pack {
    pub faces: f64,
    pub mean_radius_m: f64,
    pub face_area_m2: f64,
    ramp_radius_m: f64,
    drive_ramp_angle_rad: f64,
    coast_ramp_angle_rad: f64,
    pub preload_n_m: f64,
    pub stack_loss_limit_m: f64,
    pub preload_limit_n_m: f64,
    oil_volume_m3: f64,
    pub modifier_limit: f64,
    friction: f64,
    wear_coefficient_m2_n: f64,
    pub wear_ln_sd: f64,
}

/// What has accumulated, at a rate multiplier of 1. The slots of the card.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Condition {
    pub stack_loss_m: f64,
    pub shimmed_m: f64,
    pub energy_in_oil_j: f64,
    pub energy_j: f64,
}

impl Condition {
    pub fn from_row(row: &[f64]) -> Self {
        Self {
            stack_loss_m: row[0],
            shimmed_m: row[1],
            energy_in_oil_j: row[2],
            energy_j: row[3],
        }
    }

    pub fn row(&self) -> Vec<f64> {
        vec![
            self.stack_loss_m,
            self.shimmed_m,
            self.energy_in_oil_j,
            self.energy_j,
        ]
    }

    fn after(mut self, rate: Rate, time: f64) -> Self {
        self.stack_loss_m += rate.loss_m * time;
        self.energy_in_oil_j += rate.energy_j * time;
        self.energy_j += rate.energy_j * time;
        self
    }
}

/// Stack loss and friction energy of one record at one condition.
#[derive(Clone, Copy, Default)]
struct Rate {
    loss_m: f64,
    energy_j: f64,
}

impl Rate {
    fn plus(self, other: Self) -> Self {
        Self {
            loss_m: self.loss_m + other.loss_m,
            energy_j: self.energy_j + other.energy_j,
        }
    }

    fn times(self, factor: f64) -> Self {
        Self {
            loss_m: factor * self.loss_m,
            energy_j: factor * self.energy_j,
        }
    }
}

impl Pack {
    /// From a spec that has passed its checks.
    pub fn new(specimen: &Specimen) -> Self {
        let number = |index: usize| specimen.numbers[index];
        let plates = &specimen.surfaces[0];
        Self {
            faces: number(0),
            mean_radius_m: number(1),
            face_area_m2: number(2),
            ramp_radius_m: number(3),
            drive_ramp_angle_rad: number(4),
            coast_ramp_angle_rad: number(5),
            preload_n_m: number(6),
            stack_loss_limit_m: number(7),
            preload_limit_n_m: number(8),
            oil_volume_m3: number(9),
            modifier_limit: number(10),
            friction: plates.values[0],
            wear_coefficient_m2_n: plates.values[1],
            wear_ln_sd: plates.ln_sd[1],
        }
    }

    /// Share of the friction modifier left after friction energy in the oil.
    pub fn modifier(&self, energy_in_oil_j: f64) -> f64 {
        (-energy_in_oil_j / (MODIFIER_LIFE_J_M3 * self.oil_volume_m3)).exp()
    }

    /// Preload [N.m] after a loss of stack height that no shim has made up, in fresh oil.
    pub fn preload(&self, loss_m: f64) -> f64 {
        self.preload_n_m * (1.0 - loss_m / SPRING_TRAVEL_M).max(0.0)
    }

    fn friction(&self, condition: &Condition) -> f64 {
        let used_up = 1.0 - self.modifier(condition.energy_in_oil_j);
        self.friction * (1.0 + FRICTION_GAIN_WITHOUT_MODIFIER * used_up)
    }

    /// Force that presses each face [N] at an axle torque [N.m]: the springs' and the ramps'.
    /// The ramps turn torque into axial force like a wedge, T / (r tan(angle)), half to each side
    /// of the differential.
    fn plate_force(&self, condition: &Condition, axle_torque_n_m: f64) -> f64 {
        let lever_m = self.faces * self.mean_radius_m;
        let springs =
            self.preload(condition.stack_loss_m - condition.shimmed_m) / (self.friction * lever_m);
        let angle = if axle_torque_n_m >= 0.0 {
            self.drive_ramp_angle_rad
        } else {
            self.coast_ramp_angle_rad
        };
        springs + axle_torque_n_m.abs() / (2.0 * self.ramp_radius_m * angle.tan())
    }

    /// Torque [N.m] by which the pack resists a difference of wheel speeds: mu z F r_m.
    pub fn locking_torque(&self, condition: &Condition, axle_torque_n_m: f64) -> f64 {
        self.friction(condition)
            * self.faces
            * self.mean_radius_m
            * self.plate_force(condition, axle_torque_n_m)
    }

    /// Stack loss [m] at each operating point of a record, were the condition to stay.
    pub fn losses_m(&self, condition: &Condition, duty: &Duty) -> Vec<f64> {
        self.rates(condition, duty)
            .map(|rate| rate.loss_m)
            .collect()
    }

    fn rates<'a>(
        &'a self,
        condition: &'a Condition,
        duty: &'a Duty,
    ) -> impl Iterator<Item = Rate> + 'a {
        let columns = duty
            .channel(SLIP_SPEED)
            .iter()
            .zip(duty.channel(AXLE_TORQUE));
        let columns = columns.zip(duty.channel(OIL_TEMP)).zip(&duty.time_s);
        columns.map(|(((slip_rad_s, torque_n_m), oil_temp_k), time_s)| {
            // Each wheel turns against the case at half of their difference.
            let slip_rad = slip_rad_s.abs() / 2.0 * time_s;
            let torque = self.locking_torque(condition, *torque_n_m);
            let hot = ((oil_temp_k - REFERENCE_OIL_TEMP_K) / WEAR_TEMP_SCALE_K).exp();
            // Archard: volume = k F s, over all faces; the depth of each adds to the stack.
            let energy_j = torque * slip_rad;
            let load_distance = energy_j / self.friction(condition);
            let depth_m = self.wear_coefficient_m2_n * hot * load_distance / self.face_area_m2;
            Rate {
                loss_m: self.faces * depth_m,
                energy_j,
            }
        })
    }

    fn rate(&self, condition: &Condition, duty: &Duty) -> Rate {
        self.rates(condition, duty)
            .fold(Rate::default(), Rate::plus)
    }

    /// The condition after a record. Wear unloads the springs and so slows itself: integrated by
    /// the classical fourth-order Runge-Kutta rule over equal parts of the record.
    pub fn after(&self, condition: &Condition, duty: &Duty) -> Condition {
        let part = 1.0 / f64::from(STEPS);
        (0..STEPS).fold(*condition, |now, _| {
            let start = self.rate(&now, duty);
            let middle = self.rate(&now.after(start, part / 2.0), duty);
            let again = self.rate(&now.after(middle, part / 2.0), duty);
            let end = self.rate(&now.after(again, part), duty);
            let mean = start
                .plus(middle.times(2.0))
                .plus(again.times(2.0))
                .plus(end);
            now.after(mean, part / 6.0)
        })
    }
}

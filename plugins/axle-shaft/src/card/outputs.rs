//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{AXLE_TORQUE_CYCLES, launch, optional, required};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    channel_or, mechanism as entry, operation, reading as field, slot as row,
};

use crate::constants::WHEEL_SPEED_RAD_S;

/// Largest damage a slot holds.
const MOST_DAMAGE: f64 = 1.0e9;
/// Largest torque a slot holds \[N·m\].
const MOST_TORQUE_N_M: f64 = 1.0e6;

/// Indices of the slots after the six damages.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const HIGHEST: usize = 6;
    pub const REVERSE: usize = 7;
    pub const SET: usize = 8;
    pub const WEAR: usize = 11;
    pub const LAUNCHES: usize = 12;
    pub const COUNT: usize = 13;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const TWIST: usize = 0;
    pub const PINS: usize = 1;
    pub const RUNOUT: usize = 2;
    pub const HIGHEST: usize = 3;
    pub const YIELD_SHARE: usize = 4;
    pub const SPLINE_SET: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the mechanisms; the first three are the fatigue of the sites.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const SPLINE: usize = 0;
    pub const GROOVE: usize = 1;
    pub const SHOULDER: usize = 2;
    pub const TWIST: usize = 3;
    pub const WEAR: usize = 4;
    pub const COUNT: usize = 5;
}

/// Slots of the condition, in order: for each site the damage at its surface and below it; what the hardest torques have left; wear.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let damage = |name, label| row(name, label, "1", Trend::Rising, (0.0, MOST_DAMAGE));
    // What the largest torque a slot holds could set, far beyond any steel.
    let set = |name, label| row(name, label, "Pa", Trend::Free, (-1.0e13, 1.0e13));
    vec![
        damage("spline_surface_damage", "damage of the spline root at its surface"),
        damage("spline_core_damage", "damage of the spline root below its surface"),
        damage("groove_surface_damage", "damage of the snap-ring groove at its surface"),
        damage("groove_core_damage", "damage of the snap-ring groove below its surface"),
        damage("shoulder_surface_damage", "damage of the shoulder fillet at its surface"),
        damage("shoulder_core_damage", "damage of the shoulder fillet below its surface"),
        // Both change places when a shaft changes sides.
        row("highest_torque_n_m", "highest torque of the shaft so far, in drive", "N.m", Trend::Rising, (0.0, MOST_TORQUE_N_M)),
        row("highest_reverse_torque_n_m", "highest torque of the shaft so far, against drive", "N.m", Trend::Rising, (0.0, MOST_TORQUE_N_M)),
        set("spline_set_pa", "shear stress left at the spline root by the hardest torques, positive in drive"),
        set("groove_set_pa", "shear stress left at the snap-ring groove, the same"),
        set("shoulder_set_pa", "shear stress left at the shoulder fillet, the same"),
        row("flank_wear_m", "wear of the spline's flanks", "m", Trend::Rising, (0.0, 0.1)),
        row("launches", "launches", "1", Trend::Rising, (0.0, 1.0e9)),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the shaft maker's limit comes first";
    let above = (LimitSide::Above, common);
    let none = (LimitSide::Unlimited, "");
    let line = Instrument { name: "line scribed or painted along the shaft", sd: 3.5e-3, sd_relative: 0.0 };
    let pins = Instrument { name: "micrometer over pins", sd: 5.0e-6, sd_relative: 0.0 };
    let dial = Instrument { name: "dial indicator, shaft between centres", sd: 1.0e-5, sd_relative: 0.0 };
    let sensor = Instrument { name: "torque sensor, or log of engine torque and ratios", sd: 0.0, sd_relative: 0.06 };
    let x_ray = Instrument { name: "X-ray diffraction in three directions", sd: 3.0e7, sd_relative: 0.0 };
    vec![
        field("twist_rad", "twist that has stayed since the line was drawn", "rad", above, line, Some("twist")),
        field("pins_loss_m", "loss of the measure over pins", "m", above, pins, Some("spline_wear")),
        field("runout_m", "runout of the body", "m", above, dial, None),
        field("highest_torque_n_m", "highest torque of the shaft so far, either way", "N.m", none, sensor, None),
        field("yield_share", "the same over the torque at which the body begins to twist for good", "1", none, sensor, None),
        field("spline_set_pa", "shear stress left at the spline root, positive in drive", "Pa", none, x_ray, None),
    ]
}

/// Prior standard deviation of ln(rate) of fatigue: a torque known to 6 % at slope 7. A torque estimated to 15 % makes it 1.
const FATIGUE_LN_SD: f64 = 0.45;
/// Of the torque that twists the shaft.
const TWIST_LN_SD: f64 = 0.10;
/// Of wear.
const WEAR_LN_SD: f64 = 0.5;

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    let fatigue = |name, label, ends| entry(name, label, Consequence::Hazard, ends, None, FATIGUE_LN_SD);
    vec![
        fatigue("spline_fatigue", "torsional fatigue at the spline root", "the Miner sum of the spline root is 1: half of shafts have cracked there; a break whips and takes the drive"),
        fatigue("groove_fatigue", "torsional fatigue at the snap-ring groove", "the Miner sum of the groove is 1: half of shafts have cracked there"),
        fatigue("shoulder_fatigue", "torsional fatigue at the shoulder fillet", "the Miner sum of the fillet is 1: half of shafts have cracked there"),
        entry("twist", "twist by too high a torque", Consequence::PowerLoss, "the line on the shaft is off by the limit", Some("twist_rad"), TWIST_LN_SD),
        entry("spline_wear", "fretting wear of the spline", Consequence::PowerLoss, "the measure over pins has lost the limit", Some("pins_loss_m"), WEAR_LN_SD),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&["axle_torque_n_m"]);
    for name in ["wheel_speed_left_rad_s", "wheel_speed_right_rad_s"] {
        let note = "Turns of the shaft, for the wear of its spline. 100 rad/s stand in (assumed).";
        channels.push(channel_or(name, WHEEL_SPEED_RAD_S, note));
    }
    channels.extend(optional(&["joint_angle_rad"]));
    DutyNeed {
        channels,
        cycles: vec![AXLE_TORQUE_CYCLES.into()],
        shocks: vec![launch()],
        mates: Vec::new(),
    }
}

/// Index of the operation `swapped_sides`.
pub const SWAPPED_SIDES: u32 = 0;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("swapped_sides", "fitted on the other side of the car", "Do not do this: what drive has set in the notches turns against it. Enter it where it has happened. Damage and wear stay.")]
}

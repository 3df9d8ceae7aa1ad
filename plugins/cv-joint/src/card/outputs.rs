//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{AXLE_TORQUE_CYCLES, impact, optional, required};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation as done, reading as field, slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const DRIVE_PITTING: usize = 0;
    pub const COAST_PITTING: usize = 1;
    pub const BALL_PITTING: usize = 2;
    pub const DRIVE_WEAR: usize = 3;
    pub const COAST_WEAR: usize = 4;
    pub const BALL_WEAR: usize = 5;
    pub const WINDOW_WEAR: usize = 6;
    pub const GREASE: usize = 7;
    pub const PRESSURE: usize = 8;
    pub const BOOT: usize = 9;
    pub const TURNS: usize = 10;
    pub const COUNT: usize = 11;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const PLAY: usize = 0;
    pub const WINDOW: usize = 1;
    pub const GREASE: usize = 2;
    pub const SURFACE: usize = 3;
    pub const PRESSURE: usize = 4;
    pub const BOOT_TEAR: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const PITTING: usize = 0;
    pub const WEAR: usize = 1;
    pub const WINDOW: usize = 2;
    pub const GREASE: usize = 3;
    pub const INDENTATION: usize = 4;
    pub const BOOT: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the operations.
#[allow(missing_docs, reason = "named on the card")]
pub mod operation {
    pub const REINDEXED: u32 = 0;
    pub const OTHER_FLANKS: u32 = 1;
    pub const REGREASED: u32 = 2;
}

/// Slots of the condition, in order. Damage is that of the rating formula: 1 where one joint in ten has pitted.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let damage = |name, label| row(name, label, "1", Trend::Rising, (0.0, 1.0e9));
    let wear = |name, label| row(name, label, "m", Trend::Rising, (0.0, 0.1));
    vec![
        damage("drive_pitting", "pitting damage of the flanks that drive"),
        damage("coast_pitting", "pitting damage of the flanks that coast"),
        damage("ball_pitting", "pitting damage of the balls' running bands"),
        wear("drive_wear_m", "wear of the driving flanks, outer and inner track together"),
        wear("coast_wear_m", "wear of the coasting flanks, outer and inner track together"),
        wear("ball_wear_m", "wear of the balls' running bands, on both sides together"),
        wear("window_wear_m", "wear of the cage's windows"),
        damage("grease_dose", "share of the grease's life that is spent"),
        row("highest_pressure_pa", "highest contact pressure so far", "Pa", Trend::Rising, (0.0, 1.0e12)),
        damage("boot_hazard", "integral of the rate at which boots tear"),
        row("turns", "turns", "1", Trend::Rising, (0.0, 1.0e15)),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the joint maker's limit comes first";
    let above = (LimitSide::Above, common);
    let dial = Instrument { name: "dial indicator", sd: 1.0e-5, sd_relative: 0.0 };
    let bore = Instrument { name: "gauge blocks in the window", sd: 5.0e-6, sd_relative: 0.0 };
    let lab = Instrument { name: "laboratory: infrared spectrum of the grease", sd: 0.05, sd_relative: 0.2 };
    let gun = Instrument { name: "infrared thermometer", sd: 3.0, sd_relative: 0.0 };
    let eye = Instrument { name: "eye and finger, the boot turned and its folds spread", sd: 5.0e-4, sd_relative: 0.0 };
    let log = Instrument { name: "axle torque of the log, by Hertz", sd: 0.0, sd_relative: 0.05 };
    vec![
        field("radial_play_m", "radial play", "m", above, dial, Some("track_wear")),
        field("window_wear_m", "wear of the cage's windows", "m", above, bore, Some("window_wear")),
        field("grease_dose", "share of the grease's life that is spent", "1", above, lab, Some("grease_life")),
        field("surface_temp_k", "mean surface temperature over the event", "K", above, gun, None),
        field("highest_pressure_pa", "highest contact pressure so far", "Pa", (LimitSide::Unlimited, ""), log, None),
        field("boot_tear_m", "tear of the boot", "m", above, eye, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("pitting", "pitting of tracks and balls", Consequence::PowerLoss, "half of joints have a spall on a track or ball: 3.2 times the rated life, at which one in ten has", None, 0.36),
        entry("track_wear", "wear of tracks and balls", Consequence::PowerLoss, "radial play is at its limit", Some("radial_play_m"), 0.5),
        entry("window_wear", "wear of the cage's windows", Consequence::UnitLoss, "the windows have worn by the limit: balls clatter, the cage may break", Some("window_wear_m"), 0.5),
        entry("grease_life", "life of the grease", Consequence::PowerLoss, "the grease is spent", Some("grease_dose"), 0.5),
        entry("indentation", "permanent set of tracks and balls", Consequence::Nuisance, "the highest torque has left a set of 1e-4 of the ball's diameter", None, 0.08),
        entry("boot", "torn boot", Consequence::Hazard, "the boot is torn: grease is thrown on hot parts, dirt gets in, the joint may seize. A rate, without memory", Some("boot_tear_m"), 0.7),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&[
        "axle_torque_n_m",
        "wheel_speed_left_rad_s",
        "wheel_speed_right_rad_s",
    ]);
    channels.extend(optional(&["joint_angle_rad", "ambient_temp_k"]));
    DutyNeed {
        channels,
        cycles: vec![AXLE_TORQUE_CYCLES.into()],
        shocks: vec![impact()],
        mates: Vec::new(),
    }
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        done("reindexed", "balls moved to other tracks and turned", "The balls run on fresh bands: their damage and wear begin anew (assumed that bands do not meet). That of the tracks stays. Clean, dry, look at each track at 10x; new grease is an operation of its own."),
        done("other_flanks", "joint moved to the other side of the car", "What drove now coasts: damage and wear of the two flanks change places. Not with a shaft that has run: shafts keep their side."),
        done("regreased", "washed out and greased anew", "The grease begins its life again."),
    ]
}

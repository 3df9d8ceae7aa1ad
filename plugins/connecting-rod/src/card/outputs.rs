//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_engine::{channels, over_rev};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation, reading as field, slot as row,
};

/// Largest damage a slot holds.
pub const MOST_DAMAGE: f64 = 1.0e9;
/// Most load cycles a slot holds.
pub const MOST_CYCLES: f64 = 1.0e13;

/// Largest compression a slot holds \[N\].
pub const MOST_COMPRESSION_N: f64 = 1.0e7;

/// Indices of the slots after the six damages.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const CYCLES: usize = 6;
    pub const SPEED: usize = 7;
    pub const COMPRESSION: usize = 8;
    pub const COUNT: usize = 9;
}

/// Error of the rod alignment fixture, one standard deviation.
pub const BEND_SD: f64 = 1.0e-4;
/// Error of the bore gauge, one standard deviation \[m\].
pub const OUT_OF_ROUND_SD_M: f64 = 2.5e-6;
/// Error of the length fixture, one standard deviation \[m\].
pub const LENGTH_SD_M: f64 = 1.0e-5;

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const BEND: usize = 0;
    pub const OUT_OF_ROUND: usize = 1;
    pub const LENGTH_CHANGE: usize = 2;
    pub const BUCKLING_MARGIN: usize = 3;
    pub const HIGHEST_SPEED: usize = 4;
    pub const TENSION: usize = 5;
    pub const EYE_STRESS: usize = 6;
    pub const EYE_DEPTH: usize = 9;
    pub const COUNT: usize = 12;
}

/// Slots of the condition, in order: for each site the damage at its surface and below it.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let damage = |name, label| row(name, label, "1", Trend::Rising, (0.0, MOST_DAMAGE));
    vec![
        damage("eye_surface_damage", "damage of the small-end fillet at its surface"),
        damage("eye_core_damage", "damage of the small-end fillet below its surface"),
        damage("shoulder_surface_damage", "damage of the big-end shoulder at its surface"),
        damage("shoulder_core_damage", "damage of the big-end shoulder below its surface"),
        damage("spot_face_surface_damage", "damage of the bolt spot face at its surface"),
        damage("spot_face_core_damage", "damage of the bolt spot face below its surface"),
        row("load_cycles", "engine cycles since the surfaces were made", "1", Trend::Rising, (0.0, MOST_CYCLES)),
        row("highest_speed_rad_s", "highest engine speed so far", "rad/s", Trend::Rising, (0.0, 2500.0)),
        row("highest_compression_n", "largest compression of the beam so far", "N", Trend::Rising, (0.0, MOST_COMPRESSION_N)),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the rod maker's limit comes first";
    let above = (LimitSide::Above, common);
    let none = (LimitSide::Unlimited, "");
    let fixture = Instrument { name: "rod alignment fixture", sd: BEND_SD, sd_relative: 0.0 };
    let gauge = Instrument { name: "dial bore gauge, bolts at their preload", sd: OUT_OF_ROUND_SD_M, sd_relative: 0.0 };
    let centres = Instrument { name: "rod length fixture", sd: LENGTH_SD_M, sd_relative: 0.0 };
    let pressure = Instrument { name: "cylinder pressure sensor, calculation", sd: 0.0, sd_relative: 0.08 };
    let log = Instrument { name: "log of engine speed", sd: 1.0, sd_relative: 0.0 };
    let strain = Instrument { name: "strain gauge, telemetry", sd: 0.0, sd_relative: 0.05 };
    let section = Instrument { name: "fracture surface under the microscope", sd: 1.0e-5, sd_relative: 0.0 };
    vec![
        field("bend_ratio", "bend or twist over length", "1", above, fixture, None),
        field("out_of_round_m", "big-end bore out of round", "m", above, gauge, None),
        field("length_change_m", "change in length between centres since the build, either way", "m", above, centres, None),
        field("buckling_margin", "buckling load over the largest compression", "1", (LimitSide::Below, "assumed; the rod maker's limit comes first"), pressure, None),
        field("highest_speed_rad_s", "highest engine speed so far", "rad/s", (LimitSide::Above, "the rod maker's limit"), log, None),
        field("tension_n", "largest tension of the beam at full load and rated speed", "N", none, strain, None),
        field("eye_stress_pa", "small end: equivalent local amplitude at full load and rated speed", "Pa", none, strain, None),
        field("shoulder_stress_pa", "big-end shoulder: the same", "Pa", none, strain, None),
        field("spot_face_stress_pa", "bolt spot face: the same", "Pa", none, strain, None),
        field("eye_start_depth_m", "small end: depth at which a crack would start", "m", none, section, None),
        field("shoulder_start_depth_m", "big-end shoulder: the same", "m", none, section, None),
        field("spot_face_start_depth_m", "bolt spot face: the same", "m", none, section, None),
    ]
}

/// Prior standard deviation of ln(rate): with the default scatter from rod to rod 7 % of strength at slope 9.
const RATE_LN_SD: f64 = 0.45;

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    let fatigue = |name, label, ends| entry(name, label, Consequence::Hazard, ends, None, RATE_LN_SD);
    vec![
        fatigue("eye_fatigue", "fatigue at the small end", "the Miner sum of the eye's fillet is 1: half of rods have cracked there"),
        fatigue("shoulder_fatigue", "fatigue at the big-end shoulder", "the Miner sum of the shoulder is 1: half of rods have cracked there"),
        fatigue("spot_face_fatigue", "fatigue at the bolt spot face", "the Miner sum of the spot face's corner is 1: half of rods have cracked there"),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: channels(&["knock_level"]),
        cycles: Vec::new(),
        shocks: vec![over_rev()],
        mates: Vec::new(),
    }
}

/// Index of the operation `peened`.
pub const PEENED: u32 = 0;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("peened", "surfaces peened anew", "Relaxation starts again; damage stays, for a crack is peened over and not closed: check for cracks first, and do not peen a rod that has used a third of its life. Enter the new roughness and residual stress as a revision of the surfaces.")]
}

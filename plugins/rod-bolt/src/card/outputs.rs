//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    operation as entry_of_shop,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

use crate::constants::KEPT_Z;

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    use crate::constants::KEPT_Z;

    pub const ASSEMBLY_PRELOAD: usize = 0;
    pub const EMBEDDING: usize = 1;
    pub const PEAK_LOAD: usize = 2;
    pub const OPENING_LOAD: usize = 3;
    pub const KEPT_STRETCH: usize = 4;
    pub const TIGHTENINGS: usize = 5;
    pub const RUNNING: usize = 6;
    pub const HIGHEST_SPEED: usize = 7;
    pub const FIRST_DAMAGE: usize = 8;
    pub const COUNT: usize = FIRST_DAMAGE + KEPT_Z.len();
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const LEAST_PRELOAD: usize = 0;
    pub const LEAST_STRETCH: usize = 1;
    pub const PERMANENT_STRETCH: usize = 2;
    pub const TIGHTENINGS: usize = 3;
    pub const HIGHEST_SPEED: usize = 4;
    pub const LOOSENING_TORQUE: usize = 5;
    pub const DAMAGING_PRELOAD: usize = 6;
    pub const OPENING_PRELOAD: usize = 7;
    pub const STRESS_USE: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const FATIGUE: usize = 0;
    pub const OPENING: usize = 1;
    pub const STRETCH: usize = 2;
    pub const REUSE: usize = 3;
    pub const COUNT: usize = 4;
}

/// Indices of the operations.
#[allow(missing_docs, reason = "named on the card")]
pub mod operation {
    pub const RETORQUE: u32 = 0;
    pub const FRESHEN: u32 = 1;
}

/// Names of the damage slots, in the order of [`KEPT_Z`].
const DAMAGE_NAMES: [&str; KEPT_Z.len()] = [
    "damage_5_sd_below",
    "damage_4_sd_below",
    "damage_3_sd_below",
    "damage_2_sd_below",
    "damage_1_sd_below",
    "damage_median",
    "damage_1_sd_above",
    "damage_2_sd_above",
];

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let mut slots = vec![
        row("assembly_preload_n", "preload of the median bolt at the last tightening", "N", Trend::Falling, (0.0, 1.0e6)),
        row("embedding_m", "embedding of the surfaces since the last tightening", "m", Trend::Rising, (0.0, 1.0e-4)),
        row("peak_load_n", "highest external load of a bolt since the last tightening", "N", Trend::Rising, (0.0, 1.0e7)),
        row("opening_load_n", "the same, with preload lost by heat booked as load", "N", Trend::Rising, (0.0, 1.0e7)),
        row("kept_stretch_m", "permanent stretch of a median bolt from earlier tightenings", "m", Trend::Rising, (0.0, 1.0e-2)),
        row("tightenings", "tightenings so far", "1", Trend::Rising, (0.0, 1.0e4)),
        row("running_s", "running time since the last build", "s", Trend::Rising, (0.0, 1.0e10)),
        row("highest_speed_rad_s", "highest crank speed so far", "rad/s", Trend::Rising, (0.0, 1.0e4)),
    ];
    slots.extend(DAMAGE_NAMES.iter().zip(KEPT_Z).map(|(name, z)| {
        let label = format!("damage of a bolt whose preload is {z:+.0} standard deviations from the median");
        row(name, &label, "1", Trend::Rising, (0.0, 1.0e9))
    }));
    slots
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the bolt maker's limit comes first";
    let opens = (LimitSide::Below, "computed: the joint opens at redline and full load; the bolt maker's stretch comes first");
    let none = (LimitSide::Unlimited, "");
    let gauge = |sd| Instrument { name: "bolt stretch gauge", sd, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer, free length against that noted when new", sd: 3.0e-6, sd_relative: 0.0 };
    let book = Instrument { name: "build sheet", sd: 0.0, sd_relative: 0.0 };
    let log = Instrument { name: "engine log at 100 Hz", sd: 3.0, sd_relative: 0.0 };
    let wrench = Instrument { name: "breakaway torque: weak evidence", sd: 0.0, sd_relative: 0.15 };
    let derived = Instrument { name: "computed only", sd: 0.0, sd_relative: 0.2 };
    vec![
        field("least_preload_n", "preload left in the loosest bolt of the set, cold", "N", opens, gauge(1.5e3), None),
        field("least_stretch_m", "elastic stretch left in the loosest bolt of the set, cold", "m", opens, gauge(5.0e-6), None),
        field("permanent_stretch_m", "permanent stretch of the longest bolt of the set", "m", (LimitSide::Above, common), micrometer, Some("stretch")),
        field("tightenings", "tightenings so far", "1", (LimitSide::Above, common), book, None),
        field("highest_speed_rad_s", "highest crank speed so far", "rad/s", (LimitSide::Above, "10 % above redline: common practice, no source"), log, None),
        field("loosening_torque_n_m", "torque to loosen a median bolt", "N.m", none, wrench, None),
        field("damaging_preload_n", "preload below which the coming event damages a median bolt", "N", none, derived, None),
        field("opening_preload_n", "preload below which the coming event opens the joint", "N", none, derived, None),
        field("stress_use", "alternating stress of the loosest bolt at full load and redline, over its endurance", "1", (LimitSide::Above, "computed: endurance after VDI 2230, from memory"), derived, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("fatigue", "fatigue of a bolt", Consequence::UnitLoss, "the first bolt of the set reaches the damage at which a tenth of bolts of its preload have broken", None, 0.3),
        entry("opening", "joint opens", Consequence::UnitLoss, "the highest load opens the joint of the loosest bolt of the set: preload was not got, or not kept", None, 0.1),
        entry("stretch", "permanent stretch", Consequence::UnitLoss, "the longest bolt of the set has stretched for good by its limit", Some("permanent_stretch_m"), 0.3),
        entry("reuse", "tightened too often", Consequence::Nuisance, "the next build would exceed the limit of tightenings: policy", None, 0.0),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: ringland_engine::channels(&["oil_temp_k"]),
        cycles: Vec::new(),
        shocks: vec![ringland_engine::over_rev()],
        mates: Vec::new(),
    }
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        entry_of_shop("retorque", "loosened and tightened again, rod not opened", "Preload is that of the spec again and embeds again; one tightening more. Damage and permanent stretch stay."),
        entry_of_shop("freshen", "rod opened, joint rebuilt with the same bolts", "As retorque, with all the tightenings of a build (bearing clearance, sizing, final); running time since the build starts again. New bolts are a new component."),
    ]
}

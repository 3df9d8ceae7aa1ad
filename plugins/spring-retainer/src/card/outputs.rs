//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, operation,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const SINK: usize = 0;
    pub const TAPER: usize = 1;
    pub const STEP: usize = 2;
    pub const FLANGE: usize = 3;
    pub const HUB: usize = 4;
    pub const FORCE: usize = 5;
    pub const DRIVEN: usize = 6;
    pub const GALLING: usize = 7;
    pub const COUNT: usize = 8;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const SINK: usize = 0;
    pub const STEP: usize = 1;
    pub const PULL_SHARE: usize = 2;
    pub const LOST_SEAT_LOAD: usize = 3;
    pub const SLID: usize = 4;
    pub const FORCE_SHARE: usize = 5;
    pub const PRESSURE: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const SINK: usize = 0;
    pub const STEP: usize = 1;
    pub const FLANGE: usize = 2;
    pub const HUB: usize = 3;
    pub const PULL_THROUGH: usize = 4;
    pub const GALLING: usize = 5;
    pub const COUNT: usize = 6;
}

/// Index of the operation `new_keepers`.
pub const NEW_KEEPERS: u32 = 0;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    vec![
        row("sink_m", "sink of the retainer on its keepers", "m", Trend::Rising, (0.0, 20.0e-3)),
        row("taper_wear_m", "depth worn off the retainer's taper", "m", Trend::Rising, (0.0, 5.0e-3)),
        row("step_m", "step worn into the flange by the spring", "m", Trend::Rising, (0.0, 20.0e-3)),
        row("flange_damage", "damage sum of the flange at median strength", "1", Trend::Rising, (0.0, 1.0e12)),
        row("hub_damage", "damage sum of the hub at median strength", "1", Trend::Rising, (0.0, 1.0e12)),
        row("highest_force_n", "highest force on the taper so far", "N", Trend::Rising, (0.0, 1.0e9)),
        row("driven_force_n", "force to which the retainer is driven on", "N", Trend::Rising, (0.0, 1.0e9)),
        row("galling_hazard", "cumulative hazard of galling", "1", Trend::Rising, (0.0, 1.0e9)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = |source| (LimitSide::Above, source);
    let none = (LimitSide::Unlimited, "");
    let height = Instrument { name: "installed-height micrometer, or stem-tip protrusion", sd: 0.02e-3, sd_relative: 0.0 };
    let depth = Instrument { name: "dial depth gauge, worn against unworn", sd: 0.01e-3, sd_relative: 0.0 };
    let tester = Instrument { name: "seat load on the head", sd: 0.0, sd_relative: 0.05 };
    let rig = Instrument { name: "computed; strain-gauged rig only", sd: 0.0, sd_relative: 0.2 };
    vec![
        field("sink_m", "sink of the retainer on its keepers", "m", above(COMMON), height, Some("sink")),
        field("step_m", "step worn by the spring", "m", above(COMMON), depth, Some("step")),
        field("pull_through_share", "highest force over that which pulls the keepers through", "1", above("by definition"), rig, None),
        field("lost_seat_load_n", "seat load lost by the sink", "N", none, tester, None),
        field("slid_m", "sliding to and fro on the taper at the limiter", "m", none, rig, None),
        field("force_share", "lowest over highest force on the taper at the limiter", "1", none, rig, None),
        field("taper_pressure_pa", "highest mean pressure on the taper at the limiter", "Pa", none, rig, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("sink", "fretting and driving on of the taper", Consequence::PowerLoss, "the sink reaches its limit", Some("sink_m"), 0.60),
        entry("step", "wear of the flange under the spring", Consequence::PowerLoss, "the step reaches its limit", Some("step_m"), 0.60),
        entry("flange_crack", "crack of the flange", Consequence::UnitLoss, "half of the flanges are cracked at damage 1: the valve drops", None, 0.30),
        entry("hub_crack", "crack of the hub", Consequence::UnitLoss, "half of the hubs are cracked at damage 1: the valve drops", None, 0.30),
        entry("pull_through", "keepers pulled through the retainer", Consequence::UnitLoss, "the highest force has passed what the hub holds on what is left of the taper: the valve drops", Some("pull_through_share"), 0.15),
        entry("galling", "galling of bare titanium on the keepers", Consequence::UnitLoss, "the taper tears and jams: a hazard, not wear", None, 0.70),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("new_keepers", "new keepers on the retainer that is there", "The keepers' share of the sink and what it was driven on are gone; what the retainer's taper has worn stays, with every damage of the retainer.")]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: ringland_engine::channels(&["contamination_factor"]),
        cycles: Vec::new(),
        shocks: vec![ringland_engine::over_rev()],
        mates: Vec::new(),
    }
}

//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{AXLE_TORQUE_CYCLES, optional, required};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation, reading as field, slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const STACK_WEAR: usize = 0;
    pub const OIL_DOSE: usize = 1;
    pub const GLAZE: usize = 2;
    pub const SCORING: usize = 3;
    pub const BAND_STRAIN: usize = 4;
    pub const TAB_WEAR: usize = 5;
    pub const ENERGY: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const STACK_WEAR: usize = 0;
    pub const BREAKAWAY: usize = 1;
    pub const FLATNESS: usize = 2;
    pub const CHATTER: usize = 3;
    pub const CHATTER_WITHOUT: usize = 4;
    pub const MODIFIER: usize = 5;
    pub const TAB_WEAR: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const STACK_WEAR: usize = 0;
    pub const PRELOAD: usize = 1;
    pub const CHATTER: usize = 2;
    pub const PLATES: usize = 3;
    pub const COUNT: usize = 4;
}

/// Index of the operation `change_oil`.
pub const CHANGE_OIL: u32 = 0;
/// Index of the operation `restack`.
pub const RESTACK: u32 = 1;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    vec![
        row("stack_wear_m", "height that the stack has lost, both sides together", "m", Trend::Rising, (0.0, 0.1)),
        row("oil_dose_j_m3", "heat of friction for each volume of the oil that is in", "J/m3", Trend::Rising, (0.0, 1.0e15)),
        row("glaze_dose", "dose of glazing of the faces", "1", Trend::Rising, (0.0, 1.0e9)),
        row("scoring_m", "depth of scoring of the steels", "m", Trend::Rising, (0.0, 0.1)),
        row("band_strain", "largest plastic strain of a hot band so far", "1", Trend::Rising, (0.0, 1.0)),
        row("tab_wear_m", "depth worn off the plates' tabs", "m", Trend::Rising, (0.0, 0.1)),
        row("slip_energy_j", "heat of friction so far", "J", Trend::Rising, (0.0, 1.0e15)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = |source| (LimitSide::Above, source);
    let instrument = |name, sd, sd_relative| Instrument { name, sd, sd_relative };
    let none = (LimitSide::Unlimited, "");
    vec![
        field("stack_wear_m", "height that the stack has lost, both sides together", "m", above("the builder's value comes first; common practice, no source"), instrument("plate micrometer, summed over the stack", 15.0e-6, 0.0), Some("stack_wear")),
        field("breakaway_n_m", "breakaway torque of one wheel: case held, other wheel free, fresh oil", "N.m", (LimitSide::Below, "the builder's value comes first; common practice, no source"), instrument("torque wrench at one wheel", 10.0, 0.0), Some("preload")),
        field("flatness_m", "the worst steel: out of flat and scored", "m", above(COMMON), instrument("surface plate and feeler", 10.0e-6, 0.0), Some("plates")),
        field("chatter_index", "slope of friction over that at which stick-slip starts", "1", above("by definition"), instrument("friction rig on the oil and a plate pair, or computed", 0.0, 0.3), Some("chatter")),
        field("chatter_index_no_modifier", "the same without friction modifier in the oil", "1", none, instrument("friction rig on the base oil and a plate pair, or computed", 0.0, 0.3), None),
        field("modifier_share", "friction modifier in the oil that still works", "1", none, instrument("oil analysis", 0.0, 0.10), None),
        field("tab_wear_m", "depth worn off the plates' tabs", "m", above(COMMON), instrument("backlash of a plate in the case", 20.0e-6, 0.0), None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("stack_wear", "wear of linings and steels", Consequence::PowerLoss, "the stack has lost the height of its limit", Some("stack_wear_m"), 0.50),
        entry("preload", "loss of preload as worn plates unload the springs", Consequence::PowerLoss, "the breakaway torque has fallen to its limit: open-differential behaviour when a wheel lifts", Some("breakaway_n_m"), 0.50),
        entry("chatter", "stick-slip as the friction modifier is used up", Consequence::Nuisance, "friction falls faster with speed than the half-shafts damp", Some("chatter_index"), 0.50),
        entry("plates", "scored or warped steels", Consequence::PowerLoss, "a steel is out of flat or scored by its limit", Some("flatness_m"), 0.60),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("change_oil", "new oil with friction modifier", "The modifier starts anew; plates, springs and glazing stay. Check the drained oil for metal."),
        operation("restack", "new plates, shimmed to the builder's preload, new oil", "Wear, glazing, scoring, warp and tabs start anew; the heat so far stays on record. Record ramps and preload."),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&["axle_torque_n_m", "differential_slip_speed_rad_s"]);
    channels.extend(optional(&["axle_oil_temp_k", "contamination_factor"]));
    DutyNeed {
        channels,
        cycles: vec![AXLE_TORQUE_CYCLES.into()],
        shocks: Vec::new(),
        mates: Vec::new(),
    }
}

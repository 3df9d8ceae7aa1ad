//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, operation,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const BUSH: usize = 0;
    pub const PIN: usize = 1;
    pub const SEVERITY: usize = 2;
    pub const COATING_HAZARD: usize = 3;
    pub const PIN_DAMAGE: usize = 4;
    pub const COUNT: usize = 5;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const BUSH_CLEARANCE: usize = 0;
    pub const PIN_WEAR: usize = 1;
    pub const COATING: usize = 2;
    pub const SEVERITY: usize = 3;
    pub const OVALISATION: usize = 4;
    pub const PEAK_PRESSURE: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const BUSH: usize = 0;
    pub const PIN_WEAR: usize = 1;
    pub const SCUFF: usize = 2;
    pub const COATING: usize = 3;
    pub const PIN_CRACK: usize = 4;
    pub const COUNT: usize = 5;
}

/// Index of the operation `new_bush`.
pub const NEW_BUSH: u32 = 0;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    vec![
        row("bush_wear_m", "wear of the bush, on diameter", "m", Trend::Rising, (0.0, 1.0e-3)),
        row("pin_wear_m", "wear step of the pin, on diameter", "m", Trend::Rising, (0.0, 1.0e-3)),
        row("worst_scuff_severity_w_m2", "highest friction power over area so far", "W/m2", Trend::Rising, (0.0, 1.0e12)),
        row("coating_hazard", "cumulative hazard of losing the coating", "1", Trend::Rising, (0.0, 1.0e9)),
        row("pin_damage", "damage sum of the pin at median strength", "1", Trend::Rising, (0.0, 1.0e12)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = (LimitSide::Above, COMMON);
    let none = (LimitSide::Unlimited, "");
    let gauge = Instrument { name: "bore gauge and micrometer", sd: 2.5e-6, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer or roundness tester, worn against unworn", sd: 1.0e-6, sd_relative: 0.0 };
    let section = Instrument { name: "ball crater or section of a sister pin", sd: 0.2e-6, sd_relative: 0.0 };
    let rig = Instrument { name: "computed; strain-gauged rig only", sd: 0.0, sd_relative: 0.2 };
    vec![
        field("bush_clearance_m", "clearance of pin and bush", "m", above, gauge, Some("bush")),
        field("pin_wear_m", "wear step of the pin, on diameter", "m", above, micrometer, Some("pin_wear")),
        field("coating_m", "coating left", "m", none, section, None),
        field("worst_scuff_severity_w_m2", "highest friction power over area so far", "W/m2", (LimitSide::Above, "assumed"), rig, None),
        field("ovalisation_m", "elastic ovalisation at full load", "m", none, rig, None),
        field("peak_pressure_pa", "highest pressure of pin on bush at full load", "Pa", none, rig, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("bush", "wear of the bush", Consequence::PowerLoss, "the clearance of pin and bush reaches its limit", Some("bush_clearance_m"), 0.50),
        entry("pin_wear", "wear of the pin or through its coating", Consequence::PowerLoss, "the wear step of the pin reaches its limit, or the coating is through", Some("pin_wear_m"), 0.60),
        entry("scuff", "scuffing of pin and bush", Consequence::UnitLoss, "friction power over area has passed what this pair bears", Some("worst_scuff_severity_w_m2"), 0.30),
        entry("coating", "loss of the coating", Consequence::UnitLoss, "the coating lets go somewhere: a hazard, not wear", None, 0.70),
        entry("pin_crack", "crack of the pin", Consequence::UnitLoss, "half of the pins are cracked at damage 1", None, 0.30),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("new_bush", "new bush pressed and honed, pin kept", "Bush wear starts again; the pin keeps its wear, its damage and what its coating has seen. Enter the new clearance as a revision of the spec.")]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: ringland_engine::channels(&[
            "oil_temp_k",
            "fuel_dilution_fraction",
            "contamination_factor",
            "knock_level",
        ]),
        cycles: Vec::new(),
        shocks: vec![ringland_engine::over_rev()],
        mates: Vec::new(),
    }
}

//! Outputs: slots of the condition, readings, mechanisms, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, ReadingField, Slot, Trend, shock,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const TOP_GROOVE: usize = 0;
    pub const SECOND_GROOVE: usize = 1;
    pub const GROOVE_SEATING: usize = 2;
    pub const WELDING: usize = 3;
    pub const THRUST_SKIRT: usize = 4;
    pub const ANTI_THRUST_SKIRT: usize = 5;
    pub const COLLAPSE: usize = 6;
    pub const SOFTENING: usize = 7;
    pub const PIN_BORE: usize = 8;
    pub const BOSS: usize = 9;
    pub const COUNT: usize = 10;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const TOP_SIDE_CLEARANCE: usize = 0;
    pub const SECOND_SIDE_CLEARANCE: usize = 1;
    pub const SKIRT_LOSS: usize = 2;
    pub const SKIRT_COAT: usize = 3;
    pub const HARDNESS: usize = 4;
    pub const PIN_BORE: usize = 5;
    pub const WELDING: usize = 6;
    pub const GROOVE_TEMP: usize = 7;
    pub const SKIRT_FRICTION: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const GROOVE: usize = 0;
    pub const WELDING: usize = 1;
    pub const SKIRT: usize = 2;
    pub const HARDNESS: usize = 3;
    pub const PIN_BORE: usize = 4;
    pub const BOSS: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the kinds of shock.
#[allow(missing_docs, reason = "named on the card")]
pub mod shock_index {
    pub const OVER_REV: usize = 0;
    pub const KNOCK_BURST: usize = 1;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let depth = |name, label| row(name, label, "m", Trend::Rising, (0.0, 1.0e-3));
    let sum = |name, label| row(name, label, "1", Trend::Rising, (0.0, 1.0e12));
    vec![
        depth("top_groove_wear_m", "wear of the top groove, both flanks"),
        depth("second_groove_wear_m", "wear of the second groove, both flanks"),
        sum("groove_seating_dose", "seating dose of the top groove: wear over the height of its fresh peaks"),
        sum("micro_welding_index", "micro-welding index of the top groove, 1 = welded"),
        depth("thrust_skirt_wear_m", "wear of the skirt on the thrust side, coat first"),
        depth("anti_thrust_skirt_wear_m", "wear of the skirt on the other side, coat first"),
        depth("skirt_collapse_m", "collapse of the skirt, on diameter"),
        sum("softening_fraction", "times at temperature over the times that reach the ageing parameter"),
        depth("pin_bore_growth_m", "growth of the pin bores, on diameter"),
        sum("boss_damage", "damage sum of the boss at median strength"),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = (LimitSide::Above, COMMON);
    let none = (LimitSide::Unlimited, "");
    let feeler = Instrument { name: "feeler gauge with a new ring", sd: 1.0e-5, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer at the gauge height", sd: 3.0e-6, sd_relative: 0.0 };
    let coat_gauge = Instrument { name: "micrometer beside and on the coat", sd: 3.0e-6, sd_relative: 0.0 };
    let tester = Instrument { name: "portable hardness tester", sd: 0.039e9, sd_relative: 0.0 };
    let bore_gauge = Instrument { name: "bore gauge", sd: 2.0e-6, sd_relative: 0.0 };
    let magnifier = Instrument { name: "magnifier on both flanks, by share of area with pick-up", sd: 0.2, sd_relative: 0.0 };
    let paint = Instrument { name: "templug or thermal paint", sd: 6.0, sd_relative: 0.0 };
    let rig = Instrument { name: "floating-liner rig only", sd: 0.0, sd_relative: 0.3 };
    vec![
        field("top_side_clearance_m", "side clearance of the top ring", "m", above, feeler, Some("groove")),
        field("second_side_clearance_m", "side clearance of the second ring", "m", none, feeler, None),
        field("skirt_loss_m", "loss of skirt diameter, metal", "m", above, micrometer, Some("skirt")),
        field("skirt_coat_m", "coat left on the thrust side", "m", none, coat_gauge, None),
        field("hardness_pa", "hardness near the top groove", "Pa", (LimitSide::Below, COMMON), tester, Some("hardness")),
        field("pin_bore_growth_m", "growth of the pin bores", "m", above, bore_gauge, Some("pin_bore")),
        field("micro_welding_index", "micro-welding index", "1", none, magnifier, Some("micro_welding")),
        field("groove_temp_k", "top groove at full load and rated speed", "K", none, paint, None),
        field("skirt_friction_power_w", "friction power of one skirt at full load and rated speed", "W", none, rig, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("groove", "wear of the top groove", Consequence::PowerLoss, "the side clearance of the top ring reaches its limit", Some("top_side_clearance_m"), 0.50),
        entry("micro_welding", "micro-welding of the top groove", Consequence::PowerLoss, "the micro-welding index reaches 1: the ring sticks", None, 0.90),
        entry("skirt", "collapse and wear of the skirt", Consequence::PowerLoss, "the skirt has lost the limit of its diameter", Some("skirt_loss_m"), 0.60),
        entry("hardness", "softening of the alloy", Consequence::PowerLoss, "the alloy has lost the limit of its hardness", Some("hardness_pa"), 1.0),
        entry("pin_bore", "growth of the pin bores", Consequence::Nuisance, "the pin bores have grown by their limit", Some("pin_bore_growth_m"), 0.50),
        entry("boss", "boss crack", Consequence::UnitLoss, "half of the bosses are cracked at damage 1", None, 0.30),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: ringland_engine::channels(&[
            "oil_temp_k",
            "coolant_temp_k",
            "oil_pressure_pa",
            "fuel_dilution_fraction",
            "contamination_factor",
            "knock_level",
        ]),
        cycles: Vec::new(),
        shocks: vec![
            ringland_engine::over_rev(),
            shock(
                "knock_burst",
                &["duration_s", "peak_knock_level", "mean_engine_torque_n_m"],
            ),
        ],
        mates: Vec::new(),
    }
}

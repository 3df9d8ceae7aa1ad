//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, operation,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const GROWTH: usize = 0;
    /// Of bearing A; B follows.
    pub const FATIGUE: usize = 1;
    pub const SPALL: usize = 3;
    /// Of bearing A; B follows.
    pub const DENTED: usize = 4;
    pub const DEEPEST: usize = 6;
    pub const DENTS: usize = 7;
    pub const GREASE: usize = 8;
    pub const CAGE: usize = 9;
    pub const TURNS: usize = 10;
    pub const COUNT: usize = 11;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const GROWTH: usize = 0;
    pub const PRELOAD: usize = 1;
    pub const DRAG: usize = 2;
    pub const FATIGUE: usize = 3;
    pub const DENT: usize = 4;
    pub const GREASE: usize = 5;
    pub const COUNT: usize = 6;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const FATIGUE: usize = 0;
    pub const PLAY: usize = 1;
    pub const DENTS: usize = 2;
    pub const GREASE: usize = 3;
    pub const CAGE: usize = 4;
    pub const COUNT: usize = 5;
}

/// Index of the operation `play_set`.
pub const PLAY_SET: u32 = 0;
/// Index of the operation `new_grease`.
pub const NEW_GREASE: u32 = 1;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let up = Trend::Rising;
    vec![
        row("play_growth_m", "growth of play since it was set", "m", up, (0.0, 5.0e-3)),
        row("a_fatigue", "rated life used by bearing A, 1 at nine in ten surviving", "1", up, (0.0, 1.0e6)),
        row("b_fatigue", "rated life used by bearing B", "1", up, (0.0, 1.0e6)),
        row("spall_hazard", "cumulative hazard of a spall of either", "1", up, (0.0, 1.0e12)),
        row("a_dented", "hazard that the dents of bearing A add, over that without", "1", up, (0.0, 1.0e12)),
        row("b_dented", "hazard that the dents of bearing B add, over that without", "1", up, (0.0, 1.0e12)),
        row("deepest_dent", "deepest dent over the element's diameter", "1", up, (0.0, 0.1)),
        row("dents", "impacts below the static safety of 1.5", "1", up, (0.0, 1.0e12)),
        row("grease_dose", "grease life used", "1", up, (0.0, 1.0e9)),
        row("cage_hazard", "cumulative hazard of the cage", "1", up, (0.0, 1.0e9)),
        row("turns", "revolutions", "1", up, (0.0, 1.0e15)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = |source| (LimitSide::Above, source);
    let none = (LimitSide::Unlimited, "");
    let dial = Instrument { name: "dial indicator on the shaft, pushed and pulled", sd: 10.0e-6, sd_relative: 0.0 };
    let scale = Instrument { name: "spring scale or torque wrench, turned slowly", sd: 0.0, sd_relative: 0.1 };
    let lens = Instrument { name: "20x lens and stylus across the mark", sd: 1.0e-5, sd_relative: 0.3 };
    let computed = Instrument { name: "computed; a spall shows in the vibration envelope", sd: 0.0, sd_relative: 0.3 };
    let feel = Instrument { name: "computed; colour and feel of the grease", sd: 0.0, sd_relative: 0.3 };
    vec![
        field("play_growth_m", "growth of play", "m", above(COMMON), dial, Some("play")),
        field("preload_n", "preload", "N", none, scale, None),
        field("preload_drag_n_m", "drag of the set by its preload", "N.m", none, scale, None),
        field("fatigue_sum", "rated life used by the set", "1", none, computed, None),
        field("deepest_dent", "deepest dent over the element's diameter", "1", above("ISO 76: the dent of the static rating"), lens, Some("dents")),
        field("grease_dose", "grease life used", "1", above("by definition"), feel, Some("grease")),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("fatigue", "spall of either bearing", Consequence::UnitLoss, "a raceway spalls: Weibull's distribution of rated lives, both bearings together, given none so far", None, 0.60),
        entry("play", "wear: play gained, preload lost", Consequence::PowerLoss, "the growth of play reaches its limit, or half of the preload is gone", Some("play_growth_m"), 0.70),
        entry("dents", "brinelling by impacts", Consequence::UnitLoss, "the deepest dent reaches its limit", Some("deepest_dent"), 0.30),
        entry("grease", "ageing of the grease", Consequence::UnitLoss, "the grease has reached the life that nine in ten bearings see; nothing where there is oil", Some("grease_dose"), 0.50),
        entry("cage", "failure of the cage by speed", Consequence::UnitLoss, "the cage breaks: a hazard that rises steeply towards and beyond the limiting speed", None, 0.80),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("play_set", "play or preload set anew", "The growth of play starts again; fatigue, dents and grease stay."),
        operation("new_grease", "washed and greased anew", "The grease starts again; everything else stays."),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels =
        ringland_driveline::required(&["engine_speed_rad_s", "engine_torque_n_m", "gear"]);
    channels.extend(ringland_driveline::optional(&[
        "lateral_acceleration_m_s2",
        "gearbox_oil_temp_k",
        "axle_oil_temp_k",
        "ambient_temp_k",
        "contamination_factor",
    ]));
    DutyNeed {
        channels,
        cycles: Vec::new(),
        shocks: vec![ringland_driveline::impact()],
        mates: Vec::new(),
    }
}

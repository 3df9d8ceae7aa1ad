//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    channel as need, channel_or, mate, mechanism as entry, operation, reading as field,
    slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const TOP_PLUS: usize = 0;
    pub const TOP_MINUS: usize = 1;
    pub const BOTTOM_PLUS: usize = 2;
    pub const BOTTOM_MINUS: usize = 3;
    pub const GALLING: usize = 4;
    pub const COUNT: usize = 5;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const MOUTH: usize = 0;
    pub const TOP: usize = 1;
    pub const BOTTOM: usize = 2;
    pub const WOBBLE: usize = 3;
    pub const GALLING: usize = 4;
    pub const HOT_CLEARANCE: usize = 5;
    pub const STEM_TEMP: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const CLEARANCE: usize = 0;
    pub const WOBBLE: usize = 1;
    pub const GALLING: usize = 2;
    pub const COUNT: usize = 3;
}

/// Indices of the channels.
#[allow(missing_docs, reason = "named on the card")]
pub mod channel {
    pub const EXHAUST_TEMP: usize = 1;
}

/// Index of the operation `bore_seen`.
pub const BORE_SEEN: u32 = 0;

/// Slots of the condition, in order. The side of a mouth is that to which the rocker pulls the tip (plus) or the other.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let worn = |name, label| row(name, label, "m3", Trend::Rising, (0.0, 1.0e-5));
    vec![
        worn("top_plus_wear_m3", "worn off the top mouth, on the side of the rocker's pull"),
        worn("top_minus_wear_m3", "worn off the top mouth, on the other side"),
        worn("bottom_plus_wear_m3", "worn off the bottom mouth, on the side of the rocker's pull"),
        worn("bottom_minus_wear_m3", "worn off the bottom mouth, on the other side"),
        row("worst_galling_index", "highest galling index since the bore was last seen", "1", Trend::Rising, (0.0, 1.0e9)),
    ]
}

const COMMON: &str = "common practice, no source; the part maker's limit comes first";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = (LimitSide::Above, COMMON);
    let none = (LimitSide::Unlimited, "");
    let gauge = Instrument { name: "small-hole or air gauge, at the mouth, across and along the rocker", sd: 2.0e-6, sd_relative: 0.0 };
    let dial = Instrument { name: "dial gauge at the head, valve at 10 mm lift", sd: 10.0e-6, sd_relative: 0.0 };
    let computed = Instrument { name: "computed; a score is seen by eye", sd: 0.05, sd_relative: 0.5 };
    let hot = Instrument { name: "computed from measured sizes", sd: 5.0e-6, sd_relative: 0.0 };
    let temper = Instrument { name: "tempered test valve", sd: 15.0, sd_relative: 0.0 };
    vec![
        field("mouth_clearance_m", "clearance at the wider mouth", "m", above, gauge, Some("clearance")),
        field("top_clearance_m", "clearance at the top mouth", "m", none, gauge, Some("clearance")),
        field("bottom_clearance_m", "clearance at the bottom mouth", "m", none, gauge, Some("clearance")),
        field("wobble_m", "wobble at 10 mm lift", "m", above, dial, Some("wobble")),
        field("worst_galling_index", "highest galling index since the bore was last seen", "1", (LimitSide::Above, "assumed, with pairs ranked by common practice"), computed, None),
        field("hot_clearance_m", "clearance at the hot end at full load, as built", "m", (LimitSide::Below, "the maker's minimum; default assumed"), hot, None),
        field("stem_temp_k", "stem at the guide's bottom at full load", "K", none, temper, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("clearance", "bell-mouth: clearance", Consequence::PowerLoss, "the clearance at either mouth reaches its limit", Some("mouth_clearance_m"), 0.60),
        entry("wobble", "bell-mouth: wobble", Consequence::PowerLoss, "the valve's wobble at 10 mm lift reaches its limit: the seat wears and the head bends", Some("wobble_m"), 0.60),
        entry("galling", "galling and seizure", Consequence::UnitLoss, "friction power has passed what this pair bears at that temperature", Some("worst_galling_index"), 0.60),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("bore_seen", "bore and stem looked at and found without a score", "The galling index starts again; wear stays. A reamed or new guide is a new component.")]
}

/// The duty that is read.
#[rustfmt::skip]
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: vec![
            need("engine_speed_rad_s", "Strokes, side forces, oil drawn into the guide."),
            channel_or("exhaust_temp_k", 1123.0, "Heat of the stem: at the hot end oil is lost, and the pair bears less. The default is that of hard running."),
            channel_or("oil_temp_k", 378.15, "Viscosity at the seal."),
            channel_or("coolant_temp_k", 363.15, "Temperature of the head."),
            channel_or("fuel_dilution_fraction", 0.0, "Thins the oil."),
            channel_or("contamination_factor", 1.0, "Multiplies wear: 1 clean, 3 to 5 with visible dust or coke (common practice, no source)."),
        ],
        cycles: Vec::new(),
        shocks: vec![ringland_engine::over_rev()],
        mates: vec![
            mate("valve", "stem_top_loss_m", 0.0, "What the stem has lost of its diameter adds to the clearance at the top mouth."),
            mate("valve", "stem_bottom_loss_m", 0.0, "The same at the bottom mouth."),
        ],
    }
}

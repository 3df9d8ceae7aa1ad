//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_engine::{channels, over_rev};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    channel_or, mate as other, mechanism as entry, operation, reading as field, slot as row,
};

/// Exhaust temperature that stands in for a log without it \[K\], 850 °C.
pub const EXHAUST_K: f64 = 1123.0;

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const RECESSION: usize = 0;
    pub const LASH_TAKEN: usize = 1;
    pub const MARGIN_LOST: usize = 2;
    pub const STEM_TOP: usize = 3;
    pub const STEM_BOTTOM: usize = 4;
    pub const GROOVE: usize = 5;
    pub const HEAD_FATIGUE: usize = 6;
    pub const HEAD_CREEP: usize = 7;
    pub const RUN: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const RECESSION: usize = 0;
    pub const LASH: usize = 1;
    pub const STEM_LOSS: usize = 2;
    pub const MARGIN: usize = 3;
    pub const GROOVE: usize = 4;
    pub const HEAD: usize = 5;
    pub const HEAD_TEMP: usize = 6;
    pub const SEATING: usize = 7;
    pub const RUN: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const RECESSION: usize = 0;
    pub const STEM: usize = 1;
    pub const GALLING: usize = 2;
    pub const GROOVE: usize = 3;
    pub const HEAD: usize = 4;
    pub const COUNT: usize = 5;
}

/// Indices of the mates.
pub mod mate {
    /// Sink of the keepers in the retainer.
    pub const SINK: usize = 0;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let rising = |name, label, unit, most| row(name, label, unit, Trend::Rising, (0.0, most));
    vec![
        rising("recession_m", "sink of the valve into its seat since the seat was cut", "m", 0.01),
        rising("lash_taken_m", "lash lost to it since the lash was set", "m", 0.01),
        rising("margin_lost_m", "margin of the head lost to wear and cutting", "m", 0.01),
        rising("stem_top_loss_m", "loss of the stem's diameter at the guide's top", "m", 0.01),
        rising("stem_bottom_loss_m", "loss of the stem's diameter at the guide's bottom", "m", 0.01),
        rising("groove_damage", "damage of the keeper groove", "1", 1.0e12),
        rising("head_fatigue", "fatigue damage of the head", "1", 1.0e12),
        rising("head_creep", "creep life fraction of the head", "1", 1.0e12),
        rising("run_s", "time on the valve", "s", 1.0e12),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the maker's limit comes first";
    let (above, below) = ((LimitSide::Above, common), (LimitSide::Below, common));
    let height = Instrument { name: "height gauge on the tip, valve seated", sd: 1.0e-5, sd_relative: 0.0 };
    let feeler = Instrument { name: "feeler gauge", sd: 1.2e-5, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer", sd: 1.5e-6, sd_relative: 0.0 };
    let calliper = Instrument { name: "calliper at the margin", sd: 5.0e-5, sd_relative: 0.0 };
    let penetrant = Instrument { name: "computed; cracks are seen by penetrant", sd: 0.5, sd_relative: 0.5 };
    let temper = Instrument { name: "temper-sensitive test valve", sd: 20.0, sd_relative: 0.0 };
    let motion = Instrument { name: "optical or eddy-current motion rig", sd: 0.02, sd_relative: 0.05 };
    let log = Instrument { name: "engine log", sd: 60.0, sd_relative: 0.0 };
    vec![
        field("recession_m", "seat recession since the seat was cut", "m", above, height, Some("seat_recession")),
        field("lash_m", "lash", "m", below, feeler, Some("seat_recession")),
        field("stem_loss_m", "loss of the stem's diameter at its worse end", "m", above, micrometer, Some("stem_wear")),
        field("margin_m", "margin of the head", "m", below, calliper, None),
        field("groove_damage", "damage of the keeper groove", "1", (LimitSide::Above, "half of such grooves have cracked at 1"), penetrant, None),
        field("head_damage", "fatigue damage plus creep life fraction of the head", "1", (LimitSide::Above, "half of such heads have cracked at 1"), penetrant, None),
        field("head_temp_k", "temperature of the head's centre at full load and rated speed", "K", (LimitSide::Above, "long service of the material; published or from memory, see README"), temper, None),
        field("seating_velocity_m_s", "speed of the first landing at the limiter", "m/s", (LimitSide::Unlimited, ""), motion, None),
        field("run_s", "time on the valve", "s", (LimitSide::Above, "the valve maker's hours"), log, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    use Consequence::{PowerLoss, UnitLoss};
    vec![
        entry("seat_recession", "seat recession", PowerLoss, "the valve has sunk into its seat by its limit: lash is gone and the seat leaks", Some("recession_m"), 0.70),
        entry("stem_wear", "stem wear", PowerLoss, "the stem has lost its limit of diameter at its worse end", Some("stem_loss_m"), 0.60),
        entry("stem_galling", "galling of a titanium stem", UnitLoss, "the coating of a titanium stem is worn through: it seizes in its guide, and the valve meets the piston. Other materials: never", Some("stem_loss_m"), 0.60),
        entry("groove_fatigue", "fatigue at the keeper groove", UnitLoss, "the Miner sum of the groove is 1: half of such grooves have cracked; the valve drops", None, 0.50),
        entry("head_cracking", "cracking of the head by fatigue and creep", UnitLoss, "Miner sum plus creep life fraction is 1: half of such heads have cracked; the head breaks off", None, 0.50),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut needs = channels(&[
        "oil_temp_k",
        "coolant_temp_k",
        "fuel_dilution_fraction",
        "contamination_factor",
        "knock_level",
    ]);
    needs.push(channel_or(
        "exhaust_temp_k",
        EXHAUST_K,
        "Temperature of the head, of an intake valve by its face alone. The default is hot for part load.",
    ));
    DutyNeed {
        channels: needs,
        cycles: Vec::new(),
        shocks: vec![over_rev()],
        mates: vec![other(
            "spring_retainer",
            "sink_m",
            0.0,
            "Keepers that sink into the retainer let the spring stand taller: less seat load.",
        )],
    }
}

/// Index of the operation `lash_set`.
pub const LASH_SET: u32 = 0;
/// Index of the operation `seat_cut`.
pub const SEAT_CUT: u32 = 1;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("lash_set", "lash set anew", "The lash lost so far is given back; the valve stays where it has sunk to."),
        operation("seat_cut", "seat and valve face cut and lapped", "Recession starts again, lash and spring height are set anew, the margin loses recut_stock_m. Fatigue, creep, stem wear and hours stay. Measure the margin and enter seat width and spring load as a revision of the spec."),
    ]
}

//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{AXLE_TORQUE_CYCLES, optional, required};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation as done, reading as field, slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const DRIVE_PITTING: usize = 0;
    pub const COAST_PITTING: usize = 1;
    pub const PINION_ROOT: usize = 2;
    pub const RING_ROOT: usize = 3;
    pub const PINION_WEAR: usize = 4;
    pub const RING_WEAR: usize = 5;
    pub const BACKLASH_GROWTH: usize = 6;
    pub const SETTLING: usize = 7;
    pub const SCUFF: usize = 8;
    pub const PINION_TURNS: usize = 9;
    pub const COUNT: usize = 10;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const BACKLASH: usize = 0;
    pub const BACKLASH_GROWTH: usize = 1;
    pub const DRAG: usize = 2;
    pub const PATTERN_SHIFT: usize = 3;
    pub const DRIVE_PITTING: usize = 4;
    pub const COAST_PITTING: usize = 5;
    pub const ROOT: usize = 6;
    pub const SCUFF: usize = 7;
    pub const CONTACT_STRESS: usize = 8;
    pub const ROOT_STRESS: usize = 9;
    pub const FILM_RATIO: usize = 10;
    pub const COUNT: usize = 11;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const DRIVE_PITTING: usize = 0;
    pub const COAST_PITTING: usize = 1;
    pub const ROOT_FATIGUE: usize = 2;
    pub const SCUFF: usize = 3;
    pub const BACKLASH: usize = 4;
    pub const PRELOAD: usize = 5;
    pub const PATTERN: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the operations.
#[allow(missing_docs, reason = "named on the card")]
pub mod operation {
    pub const BEARINGS_SET: u32 = 0;
    pub const BACKLASH_SET: u32 = 1;
    pub const INSPECTED: u32 = 2;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let rising = |name: &str, label: &str, unit, most| row(name, label, unit, Trend::Rising, (0.0, most));
    vec![
        rising("drive_pitting", "Miner sum of the pinion's drive flanks", "1", 1.0e12),
        rising("coast_pitting", "Miner sum of the pinion's coast flanks", "1", 1.0e12),
        rising("pinion_root", "Miner sum of the pinion's roots", "1", 1.0e12),
        rising("ring_root", "Miner sum of the ring gear's roots", "1", 1.0e12),
        rising("pinion_wear_m", "wear of the pinion's flanks, both together, mean over the path", "m", 1.0),
        rising("ring_wear_m", "wear of the ring gear's flanks, both together, mean over the path", "m", 1.0),
        rising("backlash_growth_m", "growth of backlash since it was set", "m", 1.0),
        rising("settling", "turns since the bearings were set, over those that lose 63 % of the preload", "1", 1.0e9),
        rising("scuff_severity", "highest rise of contact over oil temperature, over the room for it, since the flanks were last looked at", "1", 1.0e12),
        rising("pinion_turns", "turns of the pinion so far", "1", 1.0e13),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let practice = (LimitSide::Above, "common practice, no source; the maker's limit comes first");
    let low = (LimitSide::Below, "common practice, no source");
    let none = (LimitSide::Unlimited, "");
    let half = (LimitSide::Above, "half of such pairs have failed at 1; one in a hundred at about a tenth");
    let dial = Instrument { name: "dial indicator, four places", sd: 1.0e-5, sd_relative: 0.0 };
    let wrench = Instrument { name: "beam torque wrench", sd: 0.05, sd_relative: 0.10 };
    let paste = Instrument { name: "pattern paste, graded by eye", sd: 0.05, sd_relative: 0.10 };
    let eye = Instrument { name: "computed; pits are seen by eye, metal on the magnet", sd: 0.5, sd_relative: 0.5 };
    let crack = Instrument { name: "computed; cracks by magnetic particles", sd: 0.5, sd_relative: 0.5 };
    let heat = Instrument { name: "computed; scuff lines are seen by eye", sd: 0.2, sd_relative: 0.3 };
    let computed = Instrument { name: "computed", sd: 0.0, sd_relative: 0.1 };
    vec![
        field("backlash_m", "backlash", "m", practice, dial, None),
        field("backlash_growth_m", "growth of backlash since it was set", "m", practice, dial, Some("backlash")),
        field("drag_n_m", "drag of the pinion bearings", "N.m", low, wrench, Some("preload_loss")),
        field("pattern_shift", "travel of the pattern over the face width", "1", practice, paste, Some("pattern_drift")),
        field("drive_pitting_sum", "Miner sum of the drive flanks", "1", half, eye, None),
        field("coast_pitting_sum", "Miner sum of the coast flanks", "1", half, eye, None),
        field("root_sum", "Miner sum of the weaker root", "1", half, crack, None),
        field("scuff_severity", "highest rise of contact over oil temperature, over the room for it", "1", (LimitSide::Above, "assumed"), heat, None),
        field("contact_stress_pa", "contact stress of the drive flank at the rated torque, with all factors", "Pa", none, computed, None),
        field("root_stress_pa", "root stress of the pinion at the rated torque, with all factors", "Pa", none, computed, None),
        field("film_ratio", "film over roughness at the pitch point, rated torque, 100 rad/s of the wheels, warm", "1", none, computed, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("drive_pitting", "pitting of the drive flanks", Consequence::UnitLoss, "half of such pairs have pitted over 5 % of a flank: Miner sum 1", Some("drive_pitting_sum"), 0.40),
        entry("coast_pitting", "pitting of the coast flanks", Consequence::UnitLoss, "half of such pairs have pitted over 5 % of a flank: Miner sum 1", Some("coast_pitting_sum"), 0.40),
        entry("root_fatigue", "fatigue of the tooth roots", Consequence::Hazard, "half of such pairs have a cracked root: Miner sum 1. A broken tooth can lock the axle", Some("root_sum"), 0.40),
        entry("scuff", "scuffing", Consequence::UnitLoss, "the contact temperature passes its limit somewhere on the path", Some("scuff_severity"), 0.15),
        entry("backlash", "growth of backlash", Consequence::Nuisance, "backlash has grown by its limit, or to its limit", Some("backlash_growth_m"), 0.40),
        entry("preload_loss", "loss of bearing preload", Consequence::PowerLoss, "the drag of the pinion bearings has fallen to its limit", Some("drag_n_m"), 0.40),
        entry("pattern_drift", "drift of the contact pattern", Consequence::PowerLoss, "the pattern has moved by its limit", Some("pattern_shift"), 0.40),
    ]
}

/// The duty that is read. Launches, hop and kerbs are in the counted cycles of the axle torque.
pub fn duty() -> DutyNeed {
    let mut channels = required(&[
        "axle_torque_n_m",
        "wheel_speed_left_rad_s",
        "wheel_speed_right_rad_s",
    ]);
    channels.extend(optional(&["axle_oil_temp_k", "contamination_factor"]));
    DutyNeed {
        channels,
        cycles: vec![AXLE_TORQUE_CYCLES.into()],
        shocks: Vec::new(),
        mates: Vec::new(),
    }
}

pub(super) fn operations() -> Vec<Operation> {
    vec![
        done(
            "bearings_set",
            "bearings renewed or set to the drag of a new build",
            "Begins the loss of preload anew. Pitting, roots and wear stay. Backlash and pattern are set after it.",
        ),
        done(
            "backlash_set",
            "backlash set",
            "Begins the growth of backlash anew; wear stays. Not a cure for worn flanks: check the pattern.",
        ),
        done(
            "inspected",
            "flanks looked at, sound, and put back as the pair they were",
            "Clears the highest scuff severity. A scuffed, pitted or cracked pair is not put back.",
        ),
    ]
}

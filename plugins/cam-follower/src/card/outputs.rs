//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mate, mechanism as entry, operation as done, reading as field, slot as row,
};

use crate::turn::STATIONS;

/// Ranges of the condition.
pub mod slot {
    /// Most wear a slot holds \[m\].
    pub const MOST_WEAR_M: f64 = 1.0;
    /// Largest Miner sum held.
    pub const MOST_DAMAGE: f64 = 1.0e12;
    /// Most turns held.
    pub const MOST_TURNS: f64 = 1.0e13;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const LOBE_WEAR: usize = 0;
    pub const LIFT_LOSS: usize = 1;
    pub const FOLLOWER_WEAR: usize = 2;
    pub const LASH_GROWTH: usize = 3;
    pub const LOBE_PITTING: usize = 4;
    pub const FOLLOWER_PITTING: usize = 5;
    pub const SCUFF: usize = 6;
    pub const PEAK_PRESSURE: usize = 7;
    pub const NOSE_FILM: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const LOBE_WEAR: usize = 0;
    pub const FOLLOWER_WEAR: usize = 1;
    pub const LOBE_PITTING: usize = 2;
    pub const FOLLOWER_PITTING: usize = 3;
    pub const SCUFF: usize = 4;
    pub const COUNT: usize = 5;
}

/// Indices of the kinds of shocks.
#[allow(missing_docs, reason = "named on the card")]
pub mod shock {
    pub const OVER_REV: usize = 0;
}

/// Indices of the operations.
#[allow(missing_docs, reason = "named on the card")]
pub mod operation {
    pub const LASH_SET: u32 = 0;
    pub const INSPECTED: u32 = 1;
}

/// Slots of the condition, in order.
pub fn condition() -> Vec<Slot> {
    let rising =
        |name: &str, label: &str, unit, most| row(name, label, unit, Trend::Rising, (0.0, most));
    let place = |station: usize| match station.cmp(&(STATIONS / 2)) {
        std::cmp::Ordering::Less => format!("{} stations before the nose", STATIONS / 2 - station),
        std::cmp::Ordering::Equal => "at the nose".into(),
        std::cmp::Ordering::Greater => {
            format!("{} stations after the nose", station - STATIONS / 2)
        }
    };
    let mut slots = Vec::with_capacity(2 * STATIONS + 5);
    for station in 0..STATIONS {
        let name = format!("lobe_wear_{}_m", station + 1);
        let label = format!("wear of the lobe {}", place(station));
        slots.push(rising(&name, &label, "m", slot::MOST_WEAR_M));
    }
    for station in 0..STATIONS {
        let name = format!("lobe_pitting_{}", station + 1);
        let label = format!("Miner sum of the lobe {}", place(station));
        slots.push(rising(&name, &label, "1", slot::MOST_DAMAGE));
    }
    slots.extend([
        rising(
            "follower_wear_m",
            "wear of the follower at its worst place",
            "m",
            slot::MOST_WEAR_M,
        ),
        rising(
            "follower_pitting",
            "Miner sum of the follower",
            "1",
            slot::MOST_DAMAGE,
        ),
        rising(
            "scuff_severity",
            "highest flash temperature over the room for it, since the pair was last looked at",
            "1",
            slot::MOST_DAMAGE,
        ),
        rising(
            "lash_growth_m",
            "growth of lash by wear since it was last set",
            "m",
            slot::MOST_WEAR_M,
        ),
        rising(
            "cam_turns",
            "turns of the cam so far",
            "1",
            slot::MOST_TURNS,
        ),
    ]);
    slots
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let practice = (LimitSide::Above, "common practice, no source; the part maker's limit comes first");
    let none = (LimitSide::Unlimited, "");
    let profile = Instrument { name: "lobe profile tester", sd: 2.0e-6, sd_relative: 0.0 };
    let dial = Instrument { name: "dial indicator and degree wheel", sd: 5.0e-6, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer; profile tester for a pad", sd: 2.0e-6, sd_relative: 0.0 };
    let feeler = Instrument { name: "feeler gauge", sd: 12.0e-6, sd_relative: 0.0 };
    let eye = Instrument { name: "computed; pits are seen by eye and replica", sd: 0.5, sd_relative: 0.5 };
    let heat = Instrument { name: "computed; scuff marks are seen by eye", sd: 0.2, sd_relative: 0.3 };
    let computed = Instrument { name: "computed", sd: 0.0, sd_relative: 0.1 };
    let half = (LimitSide::Above, "half of such parts have pitted at 1");
    vec![
        field("lobe_wear_m", "wear of the lobe where it is deepest", "m", practice, profile, Some("lobe_wear")),
        field("lift_loss_m", "lift lost at the cam", "m", practice, dial, Some("lobe_wear")),
        field("follower_wear_m", "wear of the follower at its worst place", "m", practice, micrometer, Some("follower_wear")),
        field("lash_growth_m", "growth of lash by wear since it was last set", "m", practice, feeler, Some("follower_wear")),
        field("lobe_pitting_sum", "Miner sum of the lobe where it is highest", "1", half, eye, None),
        field("follower_pitting_sum", "Miner sum of the follower", "1", half, eye, None),
        field("scuff_severity", "highest flash temperature over the room for it", "1", (LimitSide::Above, "assumed"), heat, None),
        field("peak_pressure_pa", "highest Hertz pressure at the limiter", "Pa", none, computed, None),
        field("nose_film_ratio", "film over roughness at the nose, warm, at a quarter of the limiter's speed", "1", none, computed, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("lobe_wear", "wear of the lobe", Consequence::PowerLoss, "the lobe has worn by its limit somewhere", Some("lobe_wear_m"), 0.60),
        entry("follower_wear", "wear of the follower", Consequence::PowerLoss, "the follower has worn by its limit, or through its coating", Some("follower_wear_m"), 0.60),
        entry("lobe_pitting", "pitting of the lobe", Consequence::UnitLoss, "half of such lobes have a pit: Miner sum 1", Some("lobe_pitting_sum"), 0.30),
        entry("follower_pitting", "pitting of the follower", Consequence::UnitLoss, "half of such followers have a pit: Miner sum 1", Some("follower_pitting_sum"), 0.30),
        entry("scuff", "scuffing", Consequence::UnitLoss, "the contact temperature passes its limit at some instant", Some("scuff_severity"), 0.20),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let taller = "Lets the spring stand taller: lower seat load.";
    DutyNeed {
        channels: ringland_engine::channels(&[
            "oil_temp_k",
            "fuel_dilution_fraction",
            "contamination_factor",
        ]),
        cycles: Vec::new(),
        shocks: vec![ringland_engine::over_rev()],
        mates: vec![
            mate("spring_retainer", "sink_m", 0.0, taller),
            mate("valve", "recession_m", 0.0, taller),
        ],
    }
}

pub(super) fn operations() -> Vec<Operation> {
    vec![
        done(
            "lash_set",
            "lash set",
            "Begins the growth of lash anew; wear and pitting stay. Growth beyond its limit is looked into first.",
        ),
        done(
            "inspected",
            "lobe and follower looked at, sound, and put back as the pair they were",
            "Clears the highest scuff severity; wear and pitting stay. A scuffed or pitted part is not put back.",
        ),
    ]
}

//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{launch, optional, required, shift};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation as done, reading as field, slot as row,
};

use crate::constants::GEARS;

/// Largest Miner sum held, and most wear \[m\].
const MOST_DAMAGE: f64 = 1.0e12;
const MOST_WEAR_M: f64 = 1.0;

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    use crate::constants::GEARS;

    pub const PITTING: usize = 0;
    pub const ROOT: usize = 1;
    pub const SCUFF: usize = 2;
    pub const DOG_CORNER: usize = 3;
    pub const BACKLASH: usize = 4;
    pub const CONTACT_TEMP: usize = 5;
    pub const FILM: usize = 6;
    /// The first of the gears; the others follow.
    pub const GEAR_PITTING: usize = 7;
    pub const GEAR_ROOT: usize = GEAR_PITTING + GEARS;
    pub const COUNT: usize = GEAR_ROOT + GEARS;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const PITTING: usize = 0;
    pub const ROOT: usize = 1;
    pub const SCUFF: usize = 2;
    pub const DOG: usize = 3;
    pub const BACKLASH: usize = 4;
    pub const COUNT: usize = 5;
}

/// Indices of the kinds of shocks.
#[allow(missing_docs, reason = "named on the card")]
pub mod shock {
    pub const LAUNCH: usize = 0;
    pub const SHIFT: usize = 1;
}

/// Indices of the operations.
#[allow(missing_docs, reason = "named on the card")]
pub mod operation {
    pub const INSPECTED: u32 = 0;
    pub const DOGS_RENEWED: u32 = 1;
    /// First gear renewed; the others follow.
    pub const FIRST_RENEWED: u32 = 2;
}

/// Slots of the condition, in order: six of each gear, then the scuff severity.
pub fn condition() -> Vec<Slot> {
    let rising =
        |name: &str, label: &str, unit, most| row(name, label, unit, Trend::Rising, (0.0, most));
    let mut slots = Vec::with_capacity(6 * GEARS + 1);
    for gear in 1..=GEARS {
        let sums = [
            ("pinion_pitting", "Miner sum of the driving flanks"),
            ("wheel_pitting", "Miner sum of the driven flanks"),
            ("pinion_root", "Miner sum of the driving roots"),
            ("wheel_root", "Miner sum of the driven roots"),
        ];
        for (name, label) in sums {
            let name = format!("gear_{gear}_{name}");
            slots.push(rising(
                &name,
                &format!("gear {gear}: {label}"),
                "1",
                MOST_DAMAGE,
            ));
        }
        let wears = [
            ("dog_wear_m", "rounding of the dogs' corners since made"),
            ("backlash_growth_m", "growth of backlash by wear"),
        ];
        for (name, label) in wears {
            let name = format!("gear_{gear}_{name}");
            slots.push(rising(
                &name,
                &format!("gear {gear}: {label}"),
                "m",
                MOST_WEAR_M,
            ));
        }
    }
    slots.push(rising(
        "scuff_severity",
        "highest rise of the contact temperature over the room for it, since the gears were last looked at",
        "1",
        MOST_DAMAGE,
    ));
    slots
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let practice = (LimitSide::Above, "common practice, no source; the part maker's limit comes first");
    let none = (LimitSide::Unlimited, "");
    let half = (LimitSide::Above, "half of such sets have failed at 1; 1 % at some 0.16 (pitting), 0.24 (root)");
    let eye = Instrument { name: "computed; pits are seen at ten times and on replicas", sd: 0.5, sd_relative: 0.5 };
    let crack = Instrument { name: "computed; cracks by magnetic particles", sd: 0.5, sd_relative: 0.5 };
    let heat = Instrument { name: "computed; scuff marks are seen by eye", sd: 0.2, sd_relative: 0.3 };
    let replica = Instrument { name: "replica and microscope", sd: 5.0e-6, sd_relative: 0.0 };
    let dial = Instrument { name: "dial indicator at the pitch circle", sd: 1.0e-5, sd_relative: 0.0 };
    let computed = Instrument { name: "computed", sd: 0.0, sd_relative: 0.1 };
    let mut readings = vec![
        field("pitting_sum", "Miner sum of pitting of the set, its gears joined by their weakest link", "1", half, eye, None),
        field("root_sum", "Miner sum of the tooth roots of the set, joined likewise", "1", half, crack, None),
        field("scuff_severity", "highest rise of the contact temperature over the room for it", "1", (LimitSide::Above, "the oil's scuffing temperature"), heat, None),
        field("dog_corner_m", "radius of the most worn dogs' corners", "m", practice, replica, Some("dog_wear")),
        field("backlash_m", "backlash of the most worn pair", "m", practice, dial, Some("flank_wear")),
        field("contact_temp_k", "highest contact temperature of the event", "K", none, computed, None),
        field("film_ratio", "least film over mean roughness in the event", "1", none, computed, None),
    ];
    for gear in 1..=GEARS {
        readings.push(field(&format!("gear_{gear}_pitting_sum"), &format!("gear {gear}: Miner sum of pitting, the worse of both"), "1", half, eye, None));
    }
    for gear in 1..=GEARS {
        readings.push(field(&format!("gear_{gear}_root_sum"), &format!("gear {gear}: Miner sum of the tooth root, the worse of both"), "1", half, crack, None));
    }
    readings
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("pitting", "pitting of the flanks", Consequence::UnitLoss, "half of such sets have a pit on some flank: joined Miner sum 1", Some("pitting_sum"), 0.45),
        entry("root_fatigue", "fatigue of the tooth roots", Consequence::UnitLoss, "half of such sets have a cracked root: joined Miner sum 1", Some("root_sum"), 0.40),
        entry("scuffing", "scuffing of the flanks", Consequence::UnitLoss, "the contact temperature passes the oil's scuffing temperature", Some("scuff_severity"), 0.20),
        entry("dog_wear", "rounding of the dogs", Consequence::PowerLoss, "the corners of the dogs of some gear are rounded to their limit", Some("dog_corner_m"), 0.50),
        entry("flank_wear", "wear of the flanks", Consequence::Nuisance, "backlash of some pair has grown by its limit", Some("backlash_m"), 0.60),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&["engine_speed_rad_s", "engine_torque_n_m", "gear"]);
    channels.extend(optional(&["gearbox_oil_temp_k", "contamination_factor"]));
    DutyNeed {
        channels,
        cycles: Vec::new(),
        shocks: vec![launch(), shift()],
        mates: Vec::new(),
    }
}

pub(super) fn operations() -> Vec<Operation> {
    let mut operations = vec![
        done(
            "inspected",
            "gears looked at, sound, and put back as they were",
            "Clears the highest scuff severity; damage and wear stay. Scuffed or pitted gears are not put back.",
        ),
        done(
            "dogs_renewed",
            "dog rings and hubs renewed",
            "Begins the rounding of all dogs anew; enter the new corner as a revision of the spec.",
        ),
    ];
    for gear in 1..=GEARS {
        operations.push(done(
            &format!("gear_{gear}_renewed"),
            &format!("pair of gear {gear} renewed with its dogs"),
            "Begins that gear anew. A changed ratio is a revision of the spec.",
        ));
    }
    operations
}

//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_engine::{channels, over_rev};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation, reading as field, slot as row,
};

use crate::spec::MOST_THROWS;

/// Slots of the condition.
pub mod slot {
    use crate::spec::MOST_THROWS;

    /// How many there are.
    pub const COUNT: usize = 2 * MOST_THROWS + 5;
    /// Where those after the fillets begin: nose damage, wear, damper age, ground depth, runout.
    pub const NOSE: usize = 2 * MOST_THROWS;
    /// Largest Miner's sum held.
    pub const MOST_DAMAGE: f64 = 1.0e9;
    /// Longest running time of a damper held \[s\].
    pub const MOST_AGE_S: f64 = 1.0e12;
    /// Most wear held \[m\].
    pub const MOST_WEAR_M: f64 = 1.0e-3;
    /// Deepest grinding on the radius \[m\].
    pub const MOST_GROUND_M: f64 = 0.76e-3;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const JOURNAL_WEAR: usize = 0;
    pub const JOURNAL_TAPER: usize = 1;
    pub const PIN_DIAMETER: usize = 2;
    pub const JOURNAL_RA: usize = 3;
    pub const RUNOUT: usize = 4;
    pub const TWIST: usize = 5;
    pub const DAMPER_AGED: usize = 6;
    pub const FILLET_STRESS: usize = 7;
    pub const START_DEPTH: usize = 8;
    pub const GROWING_CRACK: usize = 9;
    pub const CASE_LEFT: usize = 10;
    pub const COUNT: usize = 11;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const FILLET: usize = 0;
    pub const NOSE: usize = 1;
    pub const JOURNAL: usize = 2;
    pub const COUNT: usize = 3;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let damage = |name: &str, label: &str| row(name, label, "1", Trend::Rising, (0.0, slot::MOST_DAMAGE));
    let mut slots = Vec::with_capacity(slot::COUNT);
    for throw in 1..=MOST_THROWS {
        slots.push(damage(&format!("pin_fillet_damage_{throw}"), &format!("Miner's sum of the pin fillet of throw {throw}")));
    }
    for throw in 1..=MOST_THROWS {
        slots.push(damage(&format!("journal_fillet_damage_{throw}"), &format!("Miner's sum of the worse journal fillet of throw {throw}")));
    }
    slots.extend([
        damage("nose_damage", "Miner's sum of the shoulder of the nose"),
        row("journal_wear_m", "wear of the worst pin on its diameter since it was ground", "m", Trend::Rising, (0.0, slot::MOST_WEAR_M)),
        row("damper_age_s", "running time of the damper", "s", Trend::Rising, (0.0, slot::MOST_AGE_S)),
        row("ground_depth_m", "depth ground off pins and journals on the radius", "m", Trend::Rising, (0.0, slot::MOST_GROUND_M)),
        row("runout_m", "runout of the middle main journal as last measured", "m", Trend::Free, (0.0, 1.0e-3)),
    ]);
    slots
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = (LimitSide::Above, "common practice, no source; the crank maker's limit comes first");
    let none = (LimitSide::Unlimited, "");
    let micrometer = Instrument { name: "micrometer", sd: 1.5e-6, sd_relative: 0.0 };
    let stylus = Instrument { name: "stylus instrument", sd: 0.0, sd_relative: 0.1 };
    let blocks = Instrument { name: "dial gauge, outer mains on V-blocks", sd: 5.0e-6, sd_relative: 0.0 };
    let pickup = Instrument { name: "torsional pickups at nose and flywheel, full-load run-up", sd: 0.0, sd_relative: 0.1 };
    let gauge = Instrument { name: "strain gauge in the fillet only", sd: 0.0, sd_relative: 0.1 };
    let section = Instrument { name: "microsection of a sample", sd: 2.0e-5, sd_relative: 0.1 };
    let hardness = Instrument { name: "rubber hardness and torsional pickup", sd: 0.1, sd_relative: 0.0 };
    vec![
        field("journal_wear_m", "wear of the worst pin on its diameter", "m", above, micrometer, Some("journal_wear")),
        field("journal_taper_m", "taper of the worst pin", "m", above, micrometer, Some("journal_wear")),
        field("pin_diameter_m", "diameter of the worst pin where it is worn", "m", none, micrometer, None),
        field("journal_ra_m", "roughness Ra of the pins, as entered", "m", above, stylus, None),
        field("runout_m", "runout of the middle main journal, as last measured", "m", above, blocks, None),
        field("twist_rad", "largest amplitude of the hub's twist against the flywheel, full load up to 1.05 of rated speed", "rad", none, pickup, None),
        field("damper_aged_fraction", "share by which the damper has aged", "1", none, hardness, None),
        field("fillet_stress_pa", "amplitude of local equivalent stress in the worst pin fillet, full load at rated speed", "Pa", none, gauge, None),
        field("crack_start_depth_m", "depth at which a crack of a pin fillet starts, 0 for the surface", "m", none, section, None),
        field("growing_crack_m", "least depth of a surface crack in a pin fillet that grows at full load and rated speed", "m", none, section, None),
        field("case_left_m", "case depth left after grinding", "m", none, section, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    let half = "half of such cranks have a crack: Miner's sum 1 at the effective strength";
    vec![
        entry("fillet_fatigue", "fatigue of a pin or journal fillet", Consequence::UnitLoss, half, None, 0.30),
        entry("nose_fatigue", "fatigue of the shoulder of the nose in torsion", Consequence::UnitLoss, half, None, 0.30),
        entry("journal_wear", "wear of the pins", Consequence::Nuisance, "the worst pin has worn by its limit on its diameter", Some("journal_wear_m"), 0.50),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: channels(&[
            "oil_temp_k",
            "fuel_dilution_fraction",
            "contamination_factor",
        ]),
        cycles: Vec::new(),
        shocks: vec![over_rev()],
        mates: Vec::new(),
    }
}

/// Index of the operation `regrind`.
pub const REGRIND: u32 = 0;
/// Index of the operation `new_damper`.
pub const NEW_DAMPER: u32 = 1;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("regrind", "pins and journals ground undersize", "Takes regrind_step_m off the radius of pins, journals and fillets: stress rises with the smaller diameters, the case and its residual stress lose that depth. Wear starts again, fatigue damage stays. Nitrided or rolled again: enter the new surface as a revision."),
        operation("new_damper", "damper renewed", "Its age starts again. Another damper is a revision of the spec."),
    ]
}

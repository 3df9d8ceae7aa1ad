//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{clutch_engagement, launch, optional, required, shift};
use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, operation,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const GLAZE: usize = 0;
    pub const LINING: usize = 1;
    pub const WEAR: usize = 2;
    pub const FLATNESS: usize = 3;
    pub const OIL_AGE: usize = 4;
    pub const OXIDATION: usize = 5;
    pub const HOTTEST: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const LINING: usize = 0;
    pub const FLATNESS: usize = 1;
    pub const FRICTION: usize = 2;
    pub const JUDDER: usize = 3;
    pub const ACID: usize = 4;
    pub const MODIFIER: usize = 5;
    pub const SLOPE: usize = 6;
    pub const CAPACITY: usize = 7;
    pub const HOTTEST: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const CAPACITY: usize = 0;
    pub const LINING: usize = 1;
    pub const THICKNESS: usize = 2;
    pub const FLATNESS: usize = 3;
    pub const JUDDER: usize = 4;
    pub const COUNT: usize = 5;
}

/// Index of the operation `new_oil`.
pub const NEW_OIL: u32 = 0;
/// Index of the operation `new_separators`.
pub const NEW_SEPARATORS: u32 = 1;
/// Index of the operation `new_linings`.
pub const NEW_LININGS: u32 = 2;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    vec![
        row("glaze", "dose of glaze of the linings", "1", Trend::Rising, (0.0, 1.0e9)),
        row("lining_damage", "damage sum of the linings by energy, at the median", "1", Trend::Rising, (0.0, 1.0e12)),
        row("lining_wear_m", "depth worn off each lining", "m", Trend::Rising, (0.0, 10.0)),
        row("unevenness_m", "permanent unevenness of the separators since new", "m", Trend::Rising, (0.0, 1.0e6)),
        row("oil_age", "exponent by which the friction modifier has fallen", "1", Trend::Rising, (0.0, 1.0e9)),
        row("oil_oxidation", "dose of oxidation of the oil", "1", Trend::Rising, (0.0, 1.0e9)),
        row("hottest_k", "hottest interface so far, mean over the face", "K", Trend::Rising, (0.0, 1.0e9)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let (above, below) = (|source| (LimitSide::Above, source), |source| (LimitSide::Below, source));
    let none = (LimitSide::Unlimited, "");
    let micrometer = Instrument { name: "micrometer, linings dried for 24 h", sd: 10.0e-6, sd_relative: 0.0 };
    let plate = Instrument { name: "surface plate and feeler gauge", sd: 10.0e-6, sd_relative: 0.0 };
    let test = Instrument { name: "capacity test: torque at which it slips against command pressure", sd: 0.0, sd_relative: 0.05 };
    let rig = Instrument { name: "torque over slip speed at creep", sd: 0.15, sd_relative: 0.0 };
    let titration = Instrument { name: "titration of the acid number, used less fresh oil", sd: 0.2e-3, sd_relative: 0.0 };
    let spectrum = Instrument { name: "infrared spectrum of the oil", sd: 0.1, sd_relative: 0.0 };
    let slope = Instrument { name: "torque over slip speed at creep", sd: 0.5e-3, sd_relative: 0.0 };
    let paint = Instrument { name: "temperature paint on a separator", sd: 15.0, sd_relative: 0.0 };
    vec![
        field("lining_m", "thickness of a lining", "m", below(COMMON), micrometer, Some("thickness")),
        field("flatness_m", "flatness of a separator", "m", above(COMMON), plate, Some("flatness")),
        field("friction", "friction coefficient by capacity test", "1", below(COMMON), test, Some("capacity")),
        field("judder_index", "slope of friction over that which uses up the driveline's damping in a gentle pull-away", "1", above("by definition"), rig, Some("judder")),
        field("acid_rise", "rise of the oil's acid number, potassium hydroxide over oil", "kg/kg", above(COMMON), titration, None),
        field("modifier_left", "share of the oil's friction modifier that is left", "1", none, spectrum, None),
        field("friction_slope_s_m", "slope of friction over slip speed", "s/m", none, slope, None),
        field("capacity_n_m", "torque that the pack carries", "N.m", none, test, None),
        field("hottest_k", "hottest interface so far, mean over the face", "K", none, paint, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("capacity", "glazed lining", Consequence::PowerLoss, "the friction coefficient falls to its limit: the pack slips on", Some("friction"), 0.60),
        entry("lining", "lining torn by heat", Consequence::UnitLoss, "half of the linings come off their cores at damage 1", None, 0.60),
        entry("thickness", "worn lining", Consequence::PowerLoss, "the lining has worn to its limit or its grooves are gone", Some("lining_m"), 0.60),
        entry("flatness", "hot spots and uneven separators", Consequence::PowerLoss, "the separators' flatness passes its limit", Some("flatness_m"), 0.60),
        entry("judder", "judder", Consequence::Nuisance, "friction falls with slip faster than the driveline damps", Some("judder_index"), 0.50),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("new_oil", "oil and filter changed", "Friction modifier and acid number are those of fresh oil: the slope comes back as far as the lining has not glazed."),
        operation("new_separators", "separators replaced", "Flatness as new; linings and oil stay."),
        operation("new_linings", "lined plates replaced", "Glaze, energy damage and wear are gone; separators and oil stay."),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&["engine_torque_n_m"]);
    channels.extend(optional(&["gearbox_oil_temp_k", "contamination_factor"]));
    DutyNeed {
        channels,
        cycles: Vec::new(),
        shocks: vec![launch(), clutch_engagement(), shift()],
        mates: Vec::new(),
    }
}

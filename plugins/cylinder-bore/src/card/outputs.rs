//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_engine::{channels, over_rev};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mate, mechanism as entry, operation, reading as field, slot as row,
};

/// Slots of the condition.
pub mod slot {
    /// How many there are.
    pub const COUNT: usize = 10;
    /// Most wear a slot holds \[m\].
    pub const MOST_WEAR_M: f64 = 1.0e-3;
    /// Largest dose or number of hours held.
    pub const MOST: f64 = 1.0e12;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const TAPER: usize = 0;
    pub const DIAMETER_TOP: usize = 1;
    pub const DIAMETER_MIDDLE: usize = 2;
    pub const DIAMETER_BOTTOM: usize = 3;
    pub const ROUNDNESS_TOP: usize = 4;
    pub const ROUNDNESS_MIDDLE: usize = 5;
    pub const ROUNDNESS_BOTTOM: usize = 6;
    pub const CLEARANCE: usize = 7;
    pub const OIL_RETENTION: usize = 8;
    pub const RVK: usize = 9;
    pub const RPK: usize = 10;
    pub const SEATING: usize = 11;
    pub const GLAZING: usize = 12;
    pub const REMOVED: usize = 13;
    pub const COUNT: usize = 14;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const TAPER: usize = 0;
    pub const SHIFT: usize = 1;
    pub const VALLEYS: usize = 2;
    pub const COUNT: usize = 3;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let wear = |name, label| row(name, label, "m", Trend::Rising, (0.0, slot::MOST_WEAR_M));
    let rising = |name, label, unit| row(name, label, unit, Trend::Rising, (0.0, slot::MOST));
    vec![
        wear("wear_reversal_m", "radial wear at top-ring reversal since the last hone"),
        wear("wear_below_m", "radial wear 6.7 mm below reversal since the last hone"),
        wear("wear_quarter_m", "radial wear a quarter of the stroke down since the last hone"),
        wear("wear_middle_m", "radial wear at mid-stroke since the last hone"),
        wear("wear_bottom_m", "radial wear at the lower reversal since the last hone"),
        rising("seating_dose", "seating dose since the last hone: seated share is 1 - exp(-dose)", "1"),
        rising("casting_heat_h", "hours of the casting, counted at the bore temperature of full load; a hone does not reset them", "h"),
        rising("honed_heat_h", "of these, the hours at the last hone: what had relaxed by then is honed round", "h"),
        rising("glaze_h", "hours at low load, counted by what was unseated", "h"),
        row("removed_m", "metal honed off the diameter so far", "m", Trend::Rising, (0.0, 0.1)),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the block maker's limit comes first";
    let above = (LimitSide::Above, common);
    let none = (LimitSide::Unlimited, "");
    // A difference of two readings of one gauge in one setting: its repeatability, not its setting.
    let taper = Instrument { name: "dial bore gauge, differences along the bore, torque plate and main caps fitted", sd: 2.5e-6, sd_relative: 0.0 };
    let gauge = Instrument { name: "dial bore gauge against a setting ring, mean of two directions, torque plate and main caps fitted, at 20 degC", sd: 5.0e-6, sd_relative: 0.0 };
    let round = Instrument { name: "dial bore gauge, turned at one height, torque plate and main caps fitted", sd: 2.5e-6, sd_relative: 0.0 };
    let stylus = Instrument { name: "stylus instrument, or replica", sd: 0.0, sd_relative: 0.15 };
    let derived = Instrument { name: "from blow-by pull to pull", sd: 0.05, sd_relative: 0.0 };
    let eye = Instrument { name: "by eye, share of the ring travel that shines without cross-hatch", sd: 0.1, sd_relative: 0.0 };
    let record = Instrument { name: "hone record", sd: 5.0e-6, sd_relative: 0.0 };
    vec![
        field("taper_m", "taper: diameter at top-ring reversal less the least along the stroke", "m", above, taper, Some("taper")),
        field("diameter_top_m", "mean diameter at top-ring reversal", "m", none, gauge, None),
        field("diameter_middle_m", "mean diameter at mid-stroke", "m", none, gauge, None),
        field("diameter_bottom_m", "mean diameter at the lower reversal", "m", none, gauge, None),
        field("roundness_top_m", "out-of-round at top-ring reversal: shift and wear together", "m", above, round, None),
        field("roundness_middle_m", "out-of-round at mid-stroke: hardly worn, so it shows the casting's shift", "m", above, round, Some("shift")),
        field("roundness_bottom_m", "out-of-round at the lower reversal", "m", above, round, Some("shift")),
        field("clearance_m", "piston to wall, diametral", "m", (LimitSide::Above, "the piston maker's limit comes first"), gauge, None),
        field("oil_retention_m", "oil held in the valleys over area, 6.7 mm below reversal", "m", (LimitSide::Below, common), stylus, Some("valleys")),
        field("rvk_m", "reduced valley depth Rvk, 6.7 mm below reversal", "m", none, stylus, Some("valleys")),
        field("rpk_m", "reduced peak height Rpk", "m", none, stylus, None),
        field("seating_fraction", "seated share", "1", none, derived, None),
        field("glazing_fraction", "glazed share", "1", none, eye, None),
        field("removed_m", "metal honed off the diameter so far", "m", (LimitSide::Above, "sonic wall measurement, pistons on sale"), record, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("taper", "wear at ring reversal", Consequence::PowerLoss, "taper by wear reaches its limit: rehone", Some("taper_m"), 0.50),
        entry("shift", "early shift of the casting", Consequence::PowerLoss, "out-of-round by relaxation of the casting reaches its limit: bore and sleeve", Some("roundness_middle_m"), 0.40),
        entry("valleys", "valleys worn out", Consequence::PowerLoss, "wear 6.7 mm below reversal has taken the valleys down to the least oil they must hold: rehone", Some("oil_retention_m"), 0.50),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: channels(&[
            "oil_temp_k",
            "coolant_temp_k",
            "fuel_dilution_fraction",
            "contamination_factor",
        ]),
        cycles: Vec::new(),
        shocks: vec![over_rev()],
        mates: vec![mate(
            "ring_pack",
            "top_face_wear_m",
            0.0,
            "A face that has lost its crown wears the bore otherwise; new rings stand in.",
        )],
    }
}

/// Index of the operation `rehone`.
pub const REHONE: u32 = 0;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("rehone", "fresh hone", "Wear, seating and glazing start again, and the bore is round as of now. The casting keeps its hours: what has relaxed will not relax again. The metal taken off is what cleans the bore up (deepest wear on the thrust axis, shift) and a stock of 0.01 mm; it is added to removed_m. Enter the new finish, diameter and piston clearance as a revision.")]
}

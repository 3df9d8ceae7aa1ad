//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, operation,
};
use ringland_plugin::{
    Instrument, mechanism as entry, reading as field, shock as kind, slot as row,
};

/// Slots of the condition.
pub mod slot {
    /// How many there are.
    pub const COUNT: usize = 6;
    /// Most wear a slot holds \[m\].
    pub const MOST_WEAR_M: f64 = 1.0e-3;
    /// Largest Miner sum held.
    pub const MOST_DAMAGE: f64 = 1.0e12;
    /// Highest boundary heat held \[W/m²\].
    pub const MOST_HEAT_W_M2: f64 = 1.0e12;
    /// Most dips held.
    pub const MOST_DIPS: f64 = 1.0e9;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const OVERLAY_LEFT: usize = 0;
    pub const WALL: usize = 1;
    pub const CLEARANCE: usize = 2;
    pub const FATIGUE: usize = 3;
    pub const BOUNDARY_HEAT: usize = 4;
    pub const LEAST_FILM: usize = 5;
    pub const DIPS: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const WEAR: usize = 0;
    pub const FATIGUE: usize = 1;
    pub const SEIZURE: usize = 2;
    pub const CLEARANCE: usize = 3;
    pub const COUNT: usize = 4;
}

/// Indices of the kinds of shocks.
#[allow(missing_docs, reason = "named on the card")]
pub mod shock {
    pub const OVER_REV: usize = 0;
    pub const DIP: usize = 1;
    pub const START: usize = 2;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let rising = |name, label, unit, most| row(name, label, unit, Trend::Rising, (0.0, most));
    vec![
        rising("upper_wear_m", "wear of the upper shell at its worst place", "m", slot::MOST_WEAR_M),
        rising("lower_wear_m", "wear of the lower shell at its worst place", "m", slot::MOST_WEAR_M),
        rising("upper_fatigue", "Miner sum of the upper shell", "1", slot::MOST_DAMAGE),
        rising("lower_fatigue", "Miner sum of the lower shell", "1", slot::MOST_DAMAGE),
        rising("boundary_heat_w_m2", "highest boundary heat since the shells were last seen", "W/m2", slot::MOST_HEAT_W_M2),
        rising("low_pressure_dips", "dips that call for a look at the shells, since they were last seen", "1", slot::MOST_DIPS),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the bearing maker's limit comes first";
    let above = (LimitSide::Above, common);
    let below = (LimitSide::Below, common);
    let wall = Instrument { name: "ball-anvil micrometer against a new shell", sd: 1.5e-6, sd_relative: 0.0 };
    let bore = Instrument { name: "bore gauge and micrometer", sd: 3.0e-6, sd_relative: 0.0 };
    let eye = Instrument { name: "computed; cracks are seen by eye and penetrant", sd: 0.5, sd_relative: 0.5 };
    let heat = Instrument { name: "computed; wiped or blued shells are seen by eye", sd: 1.0e6, sd_relative: 0.5 };
    let film = Instrument { name: "laboratory rig only", sd: 0.0, sd_relative: 0.3 };
    let log = Instrument { name: "pressure log", sd: 0.1, sd_relative: 0.0 };
    vec![
        field("overlay_left_m", "coating and overlay left at the worst place", "m", below, wall, Some("overlay_wear")),
        field("wall_thickness_m", "wall of the worse shell", "m", below, wall, Some("overlay_wear")),
        field("diametral_clearance_m", "diametral clearance in the direction of the loads", "m", above, bore, Some("clearance")),
        field("fatigue_sum", "Miner sum of the worse shell", "1", (LimitSide::Above, "half of such overlays have cracked at 1"), eye, None),
        field("boundary_heat_w_m2", "highest boundary heat since the shells were last seen", "W/m2", (LimitSide::Above, "assumed"), heat, None),
        field("least_film_m", "least film at full load and rated speed, warm", "m", (LimitSide::Unlimited, ""), film, None),
        field("low_pressure_dips", "dips below 2 bar for over 1 s above 5000 1/min, since the shells were last seen", "1", (LimitSide::Above, "pull a rod cap whatever the number: common practice, no source"), log, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("overlay_wear", "overlay wear", Consequence::UnitLoss, "the worse shell has worn by its limit, coating included", Some("overlay_left_m"), 0.60),
        entry("overlay_fatigue", "overlay fatigue", Consequence::UnitLoss, "half of such shells have cracked overlays: Miner sum 1", Some("fatigue_sum"), 0.50),
        entry("seizure", "wiping and seizure", Consequence::Hazard, "boundary heat passes its limit at some place and instant", Some("boundary_heat_w_m2"), 0.50),
        entry("clearance", "clearance growth", Consequence::PowerLoss, "wear of both shells has opened the clearance by its limit", Some("diametral_clearance_m"), 0.60),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: ringland_engine::channels(&[
            "oil_temp_k",
            "oil_pressure_pa",
            "fuel_dilution_fraction",
            "contamination_factor",
            "knock_level",
        ]),
        cycles: Vec::new(),
        shocks: vec![
            ringland_engine::over_rev(),
            kind(
                "oil_pressure_dip",
                &[
                    "duration_s",
                    "minimum_oil_pressure_pa",
                    "mean_engine_speed_rad_s",
                ],
            ),
            kind("start", &["duration_s", "oil_temp_k"]),
        ],
        mates: Vec::new(),
    }
}

/// Index of the operation `cap_pulled`.
pub const CAP_PULLED: u32 = 0;

pub(super) fn operations() -> Vec<Operation> {
    vec![operation(
        "cap_pulled",
        "cap pulled, shells looked at and put back",
        "Clears the count of low-pressure dips and the highest boundary heat; wear and fatigue stay. New shells are a new component. \
         Shells that are wiped, cracked or show copper are not put back.",
    )]
}

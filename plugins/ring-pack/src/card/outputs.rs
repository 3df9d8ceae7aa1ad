//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_plugin::{
    Consequence, DutyNeed, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend, channel,
    channel_or, operation, shock,
};
use ringland_plugin::{Instrument, mechanism as entry, reading as field, slot as row};

/// Slots of the condition.
pub mod slot {
    /// How many there are.
    pub const COUNT: usize = 6;
    /// Most wear a slot holds \[m\].
    pub const MOST_WEAR_M: f64 = 5.0e-4;
    /// Largest seating dose held.
    pub const MOST_SEATING: f64 = 1.0e12;
    /// Most hours at reference temperature held.
    pub const MOST_HEAT_H: f64 = 1.0e12;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const END_GAP: usize = 0;
    pub const SECOND_END_GAP: usize = 1;
    pub const TOP_THICKNESS: usize = 2;
    pub const TOP_TENSION: usize = 3;
    pub const CONTACT_BAND: usize = 4;
    pub const LEAK_DOWN: usize = 5;
    pub const BLOW_BY: usize = 6;
    pub const POWER_LOSS: usize = 7;
    pub const FRICTION_POWER: usize = 8;
    pub const SEATING: usize = 9;
    pub const LEAST_FILM: usize = 10;
    pub const COUNT: usize = 11;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const END_GAP: usize = 0;
    pub const LEAK_DOWN: usize = 1;
    pub const FACE_FLAT: usize = 2;
    pub const TENSION: usize = 3;
    pub const COUNT: usize = 4;
}

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    let wear = |name, label| row(name, label, "m", Trend::Rising, (0.0, slot::MOST_WEAR_M));
    vec![
        wear("top_face_wear_m", "radial wear of the top face"),
        wear("second_face_wear_m", "radial wear of the second face"),
        wear("rail_face_wear_m", "radial wear of the rail faces"),
        wear("bore_wear_m", "radial wear of the bore at top-ring reversal since it was honed"),
        row("seating_dose", "seating dose: seated share is 1 - exp(-dose)", "1", Trend::Rising, (0.0, slot::MOST_SEATING)),
        row("groove_heat_h", "hours of the top groove, counted at its reference temperature", "h", Trend::Rising, (0.0, slot::MOST_HEAT_H)),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let common = "common practice, no source; the ring maker's limit comes first";
    let above = (LimitSide::Above, common);
    let none = (LimitSide::Unlimited, "");
    let feeler = Instrument { name: "feeler gauge, ring squared in an unworn part of the bore", sd: 1.0e-5, sd_relative: 0.0 };
    let micrometer = Instrument { name: "micrometer", sd: 3.0e-6, sd_relative: 0.0 };
    let tester = Instrument { name: "ring tension tester", sd: 0.0, sd_relative: 0.03 };
    let magnifier = Instrument { name: "measuring magnifier", sd: 0.05, sd_relative: 0.0 };
    let leak = Instrument { name: "leak-down tester, hot", sd: 0.01, sd_relative: 0.0 };
    let meter = Instrument { name: "blow-by meter at full load", sd: 0.0, sd_relative: 0.05 };
    let dyno = Instrument { name: "engine dynamometer", sd: 0.005, sd_relative: 0.0 };
    let rig = Instrument { name: "motored friction test", sd: 0.0, sd_relative: 0.15 };
    let derived = Instrument { name: "from blow-by pull to pull", sd: 0.05, sd_relative: 0.0 };
    let laboratory = Instrument { name: "floating-liner rig only", sd: 0.0, sd_relative: 0.3 };
    vec![
        field("end_gap_m", "end gap of the top ring, cold", "m", above, feeler, Some("end_gap")),
        field("second_end_gap_m", "end gap of the second ring, cold", "m", none, feeler, None),
        field("top_thickness_m", "radial thickness of the top ring", "m", none, micrometer, Some("end_gap")),
        field("top_tension_n", "tangential tension of the top ring", "N", (LimitSide::Below, common), tester, Some("tension")),
        field("contact_band_fraction", "worn band over the width of the top face", "1", above, magnifier, Some("face_flat")),
        field("leak_down_fraction", "leak-down", "1", above, leak, Some("leak_down")),
        field("blow_by_m3_s", "blow-by of the engine at full load, at 1 bar and 300 K", "m3/s", (LimitSide::Above, "twice the seated value at build: common practice, no source"), meter, None),
        field("power_loss_fraction", "power lost since the seated build", "1", none, dyno, None),
        field("ring_friction_power_w", "friction power of the engine's rings at full load", "W", none, rig, None),
        field("seating_fraction", "seated share", "1", none, derived, None),
        field("least_film_m", "least film under a new, seated top ring at full load", "m", none, laboratory, None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("end_gap", "end-gap growth", Consequence::PowerLoss, "the top end gap has grown by its limit, by wear of face and bore", Some("end_gap_m"), 0.45),
        entry("leak_down", "leak-down", Consequence::PowerLoss, "leak-down of the seated pack reaches its limit", Some("leak_down_fraction"), 0.45),
        entry("face_flat", "face worn flat", Consequence::PowerLoss, "the worn band of the top face reaches its limit", Some("contact_band_fraction"), 0.50),
        entry("tension", "loss of tension", Consequence::PowerLoss, "the top ring has lost the limit share of its tension, by heat and wear", Some("top_tension_n"), 0.30),
    ]
}

/// The duty that is read.
#[rustfmt::skip]
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: vec![
            channel("engine_speed_rad_s", "Cycles, sliding speed, film."),
            channel("engine_torque_n_m", "Cylinder pressure. Negative on overrun."),
            channel_or("oil_temp_k", 378.15, "Viscosity of the film."),
            channel_or("coolant_temp_k", 363.15, "Bore and groove temperature."),
            channel_or("fuel_dilution_fraction", 0.0, "Thins the film."),
            channel_or("contamination_factor", 1.0, "Multiplies wear: 1 clean, 3 to 5 with visible dust (common practice, no source)."),
        ],
        cycles: Vec::new(),
        shocks: vec![shock("over_rev", &["duration_s", "peak_engine_speed_rad_s", "mean_engine_torque_n_m"])],
        mates: Vec::new(),
    }
}

/// Index of the operation `rehone`.
pub const REHONE: u32 = 0;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("rehone", "fresh hone, rings kept", "Bore wear and seating start again; face wear and heat stay. Enter the new bore finish (and diameter) as a revision of the surface and the spec. New rings are a new component.")]
}

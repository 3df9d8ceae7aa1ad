//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_engine::{channels, over_rev};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mate, mechanism as entry, operation, reading as field, slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const SURFACE_DAMAGE: usize = 0;
    pub const CORE_DAMAGE: usize = 1;
    pub const REDUCED_TIME: usize = 2;
    pub const TURNS: usize = 3;
    pub const CLOSURE: usize = 4;
    pub const HIGHEST_STRESS: usize = 5;
    pub const REGAINED: usize = 6;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const SEAT_LOAD: usize = 0;
    pub const FREE_LENGTH_LOSS: usize = 1;
    pub const COIL_GAP: usize = 2;
    pub const HIGHEST_STRESS: usize = 3;
    pub const TEMP_RISE: usize = 4;
    pub const FLOAT_LOAD: usize = 5;
    pub const NATURAL_FREQUENCY: usize = 6;
    pub const COUNT: usize = 7;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const FATIGUE: usize = 0;
    pub const LOAD_LOSS: usize = 1;
    pub const COUNT: usize = 2;
}

/// Largest value of each slot; the least is 0.
pub const MOST: [f64; 7] = [1.0e12, 1.0e12, 1.0e15, 1.0e13, 1.0, 1.0e11, 1.0e5];

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    use Trend::{Free, Rising};
    vec![
        row("surface_damage", "damage of a median spring at the surface of the wire", "1", Rising, (0.0, MOST[0])),
        row("core_damage", "damage of a median spring below the surface", "1", Rising, (0.0, MOST[1])),
        row("reduced_time_s", "time in the relaxation test that would have relaxed the wire as far", "s", Rising, (0.0, MOST[2])),
        row("cam_turns", "turns of the cam so far", "1", Rising, (0.0, MOST[3])),
        row("largest_closure_m", "largest local closure of the coils so far, as a deflection of the whole spring from the closed valve", "m", Rising, (0.0, MOST[4])),
        row("highest_stress_pa", "highest shear stress so far", "Pa", Rising, (0.0, MOST[5])),
        row("regained_n", "load given back by shims", "N", Free, (0.0, MOST[6])),
    ]
}

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let none = (LimitSide::Unlimited, "");
    let below = (LimitSide::Below, "common practice, no source: 10 % of the seat load as built, or the load at which the valve floats at one of the event's speeds up to the limiter's; the spring maker's limit comes first");
    let tester = Instrument { name: "spring tester at the installed height, always the same one", sd: 0.0, sd_relative: 0.015 };
    let height = Instrument { name: "height gauge, spring free", sd: 2.0e-5, sd_relative: 0.0 };
    let clay = Instrument { name: "feeler gauge at full lift less computed surge", sd: 5.0e-5, sd_relative: 0.0 };
    let strain = Instrument { name: "strain gauge on the wire", sd: 0.0, sd_relative: 0.05 };
    let couple = Instrument { name: "thermocouple on an end coil", sd: 2.0, sd_relative: 0.0 };
    let spin = Instrument { name: "spin rig with valve-motion laser", sd: 0.0, sd_relative: 0.05 };
    let ring = Instrument { name: "strain gauge or microphone, spring struck between fixed ends", sd: 0.0, sd_relative: 0.01 };
    vec![
        field("seat_load_n", "seat load", "N", below, tester, Some("load_loss")),
        field("free_length_loss_m", "free length lost", "m", none, height, None),
        field("least_coil_gap_m", "least gap between two coils so far, surge included, below 0 where they would meet", "m", none, clay, None),
        field("highest_stress_pa", "highest shear stress so far, surge included", "Pa", none, strain, None),
        field("temp_rise_k", "by how much the spring gets hotter than the oil in the event", "K", none, couple, None),
        field("float_load_n", "seat load at which the valve floats at one of the event's speeds up to the limiter's; the lowest load of the map where it does not", "N", none, spin, None),
        field("natural_frequency_hz", "first natural frequency between fixed ends", "1/s", none, ring, None),
    ]
}

/// Prior standard deviation of ln(rate) of fatigue: 3 % of stress at slope 10.
const FATIGUE_LN_SD: f64 = 0.3;
/// Prior standard deviation of ln(rate) of load loss.
const LOSS_LN_SD: f64 = 0.35;

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("fatigue", "fatigue of the weakest spring of the set", Consequence::UnitLoss, "one spring of the set has broken; damage 1 is the life of half of single springs", None, FATIGUE_LN_SD),
        entry("load_loss", "loss of seat load", Consequence::PowerLoss, "the seat load has fallen by its limit, or to where the valve floats at one of the event's speeds up to the limiter's", Some("seat_load_n"), LOSS_LN_SD),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    DutyNeed {
        channels: channels(&["oil_temp_k"]),
        cycles: Vec::new(),
        shocks: vec![over_rev()],
        mates: vec![
            mate(
                "spring_retainer",
                "sink_m",
                0.0,
                "Keepers that sink into the retainer let the spring stand taller.",
            ),
            mate(
                "valve",
                "recession_m",
                0.0,
                "A valve that recedes into its seat lets the spring stand taller.",
            ),
        ],
    }
}

/// Index of the operation `shimmed`.
pub const SHIMMED: u32 = 0;

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![operation("shimmed", "shimmed to the seat load as built", "Gives back what the wire has relaxed; relaxation goes on, damage stays, and the coils come closer at full lift: measure the clearance again. Shims for recession and sink belong to valve and retainer.")]
}

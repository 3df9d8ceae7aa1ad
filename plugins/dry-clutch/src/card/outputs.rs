//! Outputs: slots of the condition, readings, mechanisms, operations, and the duty that is read.

use ringland_driveline::{clutch_engagement, launch, optional, required};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, Mechanism, Operation, ReadingField, Slot, Trend,
    mechanism as entry, operation, reading as field, slot as row,
};

/// Indices of the slots.
#[allow(missing_docs, reason = "named on the card")]
pub mod slot {
    pub const STACK_WEAR: usize = 0;
    pub const GLAZE: usize = 1;
    pub const FLOATER_SET: usize = 2;
    pub const PLATE_SET: usize = 3;
    pub const HEAT_CHECK: usize = 4;
    pub const SPLINE_WEAR: usize = 5;
    pub const ENERGY: usize = 6;
    pub const HOTTEST: usize = 7;
    pub const COUNT: usize = 8;
}

/// Indices of the readings.
#[allow(missing_docs, reason = "named on the card")]
pub mod reading {
    pub const STACK_WEAR: usize = 0;
    pub const CONE: usize = 1;
    pub const FINGER: usize = 2;
    pub const CAPACITY: usize = 3;
    pub const HEAT_CHECK: usize = 4;
    pub const HOTTEST: usize = 5;
    pub const JUDDER: usize = 6;
    pub const SPLINE_WEAR: usize = 7;
    pub const CLAMP: usize = 8;
    pub const COUNT: usize = 9;
}

/// Indices of the mechanisms.
#[allow(missing_docs, reason = "named on the card")]
pub mod mechanism {
    pub const STACK_WEAR: usize = 0;
    pub const CAPACITY: usize = 1;
    pub const WARP: usize = 2;
    pub const HEAT_CRACKS: usize = 3;
    pub const SPLINES: usize = 4;
    pub const COUNT: usize = 5;
}

/// Index of the operation `new_discs`.
pub const NEW_DISCS: u32 = 0;
/// Index of the operation `new_plates`.
pub const NEW_PLATES: u32 = 1;

/// Slots of the condition, in order.
#[rustfmt::skip]
pub fn condition() -> Vec<Slot> {
    vec![
        row("stack_wear_m", "height that the stack has lost", "m", Trend::Rising, (0.0, 0.1)),
        row("glaze_dose", "dose of glazing of the linings", "1", Trend::Rising, (0.0, 1.0e9)),
        row("floater_set", "set of the most bent floater: strain of its face against its middle", "1", Trend::Rising, (0.0, 10.0)),
        row("pressure_plate_set", "set of the pressure plate: strain of its face against its middle", "1", Trend::Rising, (0.0, 10.0)),
        row("heat_check_damage", "damage of the hottest band at median strength", "1", Trend::Rising, (0.0, 1.0e12)),
        row("spline_wear_m", "depth worn off the discs' splines", "m", Trend::Rising, (0.0, 0.1)),
        row("slip_energy_j", "heat made so far", "J", Trend::Rising, (0.0, 1.0e15)),
        row("hottest_plate_k", "highest mean temperature of a plate so far; 0 before the first engagement", "K", Trend::Rising, (0.0, 1.0e9)),
    ]
}

const COMMON: &str = "common practice, no source";

#[rustfmt::skip]
pub(super) fn readings() -> Vec<ReadingField> {
    let above = |source| (LimitSide::Above, source);
    let instrument = |name, sd, sd_relative| Instrument { name, sd, sd_relative };
    let none = (LimitSide::Unlimited, "");
    vec![
        field("stack_wear_m", "height that the stack has lost", "m", above("the maker's value comes first; common practice, no source"), instrument("stack height under a press", 20.0e-6, 0.0), Some("stack_wear")),
        field("cone_m", "cone of the floaters or the pressure plate, the worst", "m", above(COMMON), instrument("straightedge and feeler on a surface plate", 10.0e-6, 0.0), Some("warp")),
        field("finger_shift_m", "shift of the fingers' height from that of the new clutch", "m", above("the maker's band comes first; common practice, no source"), instrument("depth gauge from the flywheel's face", 0.1e-3, 0.0), Some("stack_wear")),
        field("capacity_n_m", "torque that the clutch holds", "N.m", (LimitSide::Below, "peak torque of the engine"), instrument("breakaway torque on a fixture, or slip at full torque in a high gear", 0.0, 0.05), Some("capacity")),
        field("heat_check_m", "length of the longest heat check", "m", above("a check that reaches an edge"), instrument("liquid penetrant", 1.0e-3, 0.0), Some("heat_cracks")),
        field("hottest_plate_k", "highest mean temperature of a plate so far", "K", above(COMMON), instrument("temperature paint", 15.0, 0.0), None),
        field("judder_index", "slope of friction over that at which stick-slip starts", "1", above("by definition"), instrument("friction rig, or computed", 0.0, 0.3), None),
        field("spline_wear_m", "depth worn off the discs' splines", "m", above(COMMON), instrument("backlash of a disc on its shaft, at the spline", 15.0e-6, 0.0), Some("splines")),
        field("clamp_n", "clamp load", "N", none, instrument("press with a load cell", 0.0, 0.03), None),
    ]
}

/// The mechanisms, in order.
#[rustfmt::skip]
pub fn mechanisms() -> Vec<Mechanism> {
    vec![
        entry("stack_wear", "wear of the linings", Consequence::PowerLoss, "the stack has lost the height of its limit", Some("stack_wear_m"), 0.60),
        entry("capacity", "loss of torque by wear and glazing", Consequence::PowerLoss, "the clutch holds no more than the engine's peak torque", Some("capacity_n_m"), 0.60),
        entry("warp", "coning of floaters and pressure plate", Consequence::PowerLoss, "a plate is out of flat by its limit: drag, poor release, judder", Some("cone_m"), 0.40),
        entry("heat_cracks", "heat checks that grow to an edge", Consequence::Hazard, "half of the plates have a check from the middle of the face to an edge at damage 1: a plate can burst", Some("heat_check_m"), 0.70),
        entry("splines", "wear of the discs' splines and lugs", Consequence::Nuisance, "the wear reaches its limit: discs hang on the shaft and drag", Some("spline_wear_m"), 0.60),
    ]
}

#[rustfmt::skip]
pub(super) fn operations() -> Vec<Operation> {
    vec![
        operation("new_discs", "new discs between the plates that are there", "Stack wear, glazing, running-in and the splines of the discs start anew; what the plates have taken stays. Set the fingers' height again."),
        operation("new_plates", "new floaters and pressure plate", "Set, heat checks and the temperature paint start anew; the discs stay as they are."),
    ]
}

/// The duty that is read.
pub fn duty() -> DutyNeed {
    let mut channels = required(&["engine_speed_rad_s", "engine_torque_n_m"]);
    channels.extend(optional(&["ambient_temp_k"]));
    DutyNeed {
        channels,
        cycles: Vec::new(),
        shocks: vec![launch(), clutch_engagement()],
        mates: Vec::new(),
    }
}

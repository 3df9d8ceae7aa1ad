//! The card. Indices that the model reads by are pinned in the tests.

use std::f64::consts::{FRAC_PI_3, FRAC_PI_4};

use ringland_plugin::{
    Basis, Consequence, Constant, DutyNeed, Instrument, LimitSide, Mechanism, ModelCard,
    NumberField, Operation, ReadingField, Slot, SurfaceField, Trend, channel, channel_or, constant,
    lines, mechanism, number, operation, reading, slot, surface,
};

use crate::pack::{
    FRICTION_GAIN_WITHOUT_MODIFIER, MODIFIER_LIFE_J_M3, REFERENCE_OIL_TEMP_K, SPRING_TRAVEL_M,
    WEAR_TEMP_SCALE_K,
};

/// Index of the operation.
pub const OIL_CHANGE: u32 = 0;
/// Index of the operation.
pub const RESHIM: u32 = 1;

pub fn card() -> ModelCard {
    ModelCard {
        component_type: "differential_clutch".into(),
        label: "Limited-slip differential plates".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: "Plates of a ramp-and-plate limited-slip differential: wear by slip, loss of \
                      preload, friction modifier used up."
            .into(),
        numbers: numbers(),
        choices: vec![],
        tables: vec![],
        surfaces: vec![plates()],
        condition: condition(),
        readings: readings(),
        mechanisms: mechanisms(),
        duty: DutyNeed {
            channels: vec![
                channel(
                    "differential_slip_speed_rad_s",
                    "difference of the wheel speeds",
                ),
                channel("axle_torque_n_m", "presses the plates through the ramps"),
                channel_or(
                    "axle_oil_temp_k",
                    REFERENCE_OIL_TEMP_K,
                    "plates wear faster in hot oil",
                ),
            ],
            cycles: vec![],
            shocks: vec![],
            mates: vec![],
        },
        operations: operations(),
        constants: constants(),
        references: lines(&[
            "Friction torque of a plate clutch, T = mu z F r_m: textbook relation, as in VDI 2241 Part 1 (from memory)",
            "Wear volume over load and sliding distance: J. F. Archard, Journal of Applied Physics 24, 1953",
        ]),
        leaves_out: lines(&[
            "temperature of the plate surfaces in a corner, blue or warped steels, glazing",
            "wear of ramps, pins, side gears and splines",
            "relaxation of the preload springs by heat and time",
            "onset of chatter: the friction modifier is followed, the slope of friction over speed is not",
            "water and debris in the oil",
        ]),
        cautions: lines(&[
            "Rules of the sanctioning body and limits of the maker of the differential come first.",
            "A pack that opens or locks unexpectedly changes how the car handles at the limit: have the driver told after every change of plates, ramps, preload or oil.",
            "Scored, blue or warped plates are rejected on sight, whatever life is computed.",
        ]),
    }
}

fn numbers() -> Vec<NumberField> {
    vec![
        number(
            "friction_faces",
            "friction faces",
            "1",
            (4.0, 16.0),
            8.0,
            "count the rubbing faces of both sides",
        ),
        number(
            "mean_radius_m",
            "mean radius of the faces",
            "m",
            (0.035, 0.06),
            0.0455,
            "half the sum of outer and inner radius; caliper",
        ),
        number(
            "face_area_m2",
            "area of all faces together",
            "m2",
            (0.015, 0.06),
            0.034,
            "from the drawing or outer and inner diameter, less grooves",
        ),
        number(
            "ramp_radius_m",
            "radius of the ramps",
            "m",
            (0.035, 0.055),
            0.045,
            "from the axis to the middle of the ramp",
        ),
        number(
            "drive_ramp_angle_rad",
            "drive ramp angle",
            "rad",
            (0.52, 1.4),
            FRAC_PI_4,
            "between ramp and axis: smaller locks more; 45 degrees is common (common practice, no source)",
        ),
        number(
            "coast_ramp_angle_rad",
            "coast ramp angle",
            "rad",
            (0.52, 1.4),
            FRAC_PI_3,
            "as the drive ramp, on overrun; 60 degrees (common practice, no source)",
        ),
        number(
            "preload_n_m",
            "preload",
            "N.m",
            (20.0, 180.0),
            90.0,
            "breakaway torque at one wheel when built",
        ),
        number(
            "stack_loss_limit_m",
            "limit of the stack loss",
            "m",
            (5e-5, 2e-3),
            4e-4,
            "the maker's limit where there is one; 0.4 mm is common practice, no source",
        ),
        number(
            "preload_limit_n_m",
            "lower limit of the preload",
            "N.m",
            (5.0, 170.0),
            50.0,
            "the builder's choice; 50 N.m is common practice, no source",
        ),
        number(
            "oil_volume_m3",
            "oil in the axle",
            "m3",
            (5e-4, 5e-3),
            2e-3,
            "as filled",
        ),
        number(
            "modifier_limit",
            "lowest share of the friction modifier",
            "1",
            (0.05, 0.95),
            0.65,
            "chosen so that the default duty asks for new oil every three events, as is common practice",
        ),
    ]
}

fn plates() -> SurfaceField {
    surface(
        "plates",
        "plates",
        vec![
            number(
                "boundary_friction",
                "friction in fresh oil with modifier",
                "1",
                (0.04, 0.2),
                0.1,
                "bench value or from a breakaway test (from memory)",
            ),
            number(
                "wear_coefficient_m2_n",
                "specific wear coefficient",
                "m2/N",
                (5e-16, 5e-14),
                6e-15,
                "60 mm3/MJ of friction energy at a friction of 0.10, calibrated to 8 to 9 events to 0.4 mm",
            ),
        ],
        false,
        "both rubbing faces together",
    )
}

fn condition() -> Vec<Slot> {
    vec![
        slot(
            "stack_loss_m",
            "loss of stack height",
            "m",
            Trend::Rising,
            (0.0, 0.05),
        ),
        slot(
            "shimmed_m",
            "loss made up by shims",
            "m",
            Trend::Rising,
            (0.0, 0.05),
        ),
        slot(
            "energy_in_oil_j",
            "friction energy since the oil change",
            "J",
            Trend::Rising,
            (0.0, 1e12),
        ),
        slot(
            "energy_j",
            "friction energy",
            "J",
            Trend::Rising,
            (0.0, 1e12),
        ),
    ]
}

fn readings() -> Vec<ReadingField> {
    vec![
        reading(
            "stack_loss_m",
            "loss of stack height",
            "m",
            (
                LimitSide::Above,
                "maker; 0.4 mm is common practice, no source",
            ),
            Instrument {
                name: "micrometer, sum over the plates",
                sd: 15e-6,
                sd_relative: 0.0,
            },
            Some("plate_wear"),
        ),
        reading(
            "preload_n_m",
            "preload",
            "N.m",
            (
                LimitSide::Below,
                "builder; 50 N.m is common practice, no source",
            ),
            Instrument {
                name: "torque wrench at one wheel",
                sd: 10.0,
                sd_relative: 0.0,
            },
            Some("preload_loss"),
        ),
        reading(
            "modifier_fraction",
            "friction modifier left",
            "1",
            (
                LimitSide::Below,
                "common practice: new oil every three events",
            ),
            Instrument {
                name: "oil analysis",
                sd: 0.02,
                sd_relative: 0.1,
            },
            Some("modifier_depletion"),
        ),
    ]
}

fn mechanisms() -> Vec<Mechanism> {
    vec![
        mechanism(
            "plate_wear",
            "plate wear",
            Consequence::PowerLoss,
            "the stack has lost as much height as its limit",
            Some("stack_loss_m"),
            0.5,
        ),
        mechanism(
            "preload_loss",
            "loss of preload",
            Consequence::PowerLoss,
            "the preload has fallen to its limit",
            Some("preload_n_m"),
            0.5,
        ),
        mechanism(
            "modifier_depletion",
            "friction modifier used up",
            Consequence::Nuisance,
            "the share of friction modifier has fallen to its limit",
            Some("modifier_fraction"),
            0.5,
        ),
    ]
}

fn operations() -> Vec<Operation> {
    vec![
        operation(
            "oil_change",
            "oil change",
            "the friction modifier is as new; plates keep their wear",
        ),
        operation(
            "reshim",
            "re-shim",
            "preload is back to its value when built; plates keep their wear",
        ),
    ]
}

fn constants() -> Vec<Constant> {
    vec![
        constant(
            "spring_travel_m",
            "m",
            SPRING_TRAVEL_M,
            Basis::Memory,
            "stack loss at which the preload springs are slack",
        ),
        constant(
            "wear_temp_scale_k",
            "K",
            WEAR_TEMP_SCALE_K,
            Basis::Assumed,
            "wear grows e-fold for so much hotter oil",
        ),
        constant(
            "reference_oil_temp_k",
            "K",
            REFERENCE_OIL_TEMP_K,
            Basis::Assumed,
            "oil temperature at which the wear coefficient holds",
        ),
        constant(
            "modifier_life_j_m3",
            "J/m3",
            MODIFIER_LIFE_J_M3,
            Basis::Assumed,
            "friction energy in a volume of oil that leaves 1/e of the modifier",
        ),
        constant(
            "friction_gain_without_modifier",
            "1",
            FRICTION_GAIN_WITHOUT_MODIFIER,
            Basis::Memory,
            "friction of used-up oil over that of fresh oil, less 1: the modifier takes 15 % off",
        ),
    ]
}

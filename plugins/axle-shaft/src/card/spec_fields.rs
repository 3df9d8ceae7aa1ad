//! Inputs: numbers of the spec, choices, and properties of the surfaces.

use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

use crate::constants::{SPLINE_WEAR_M2_N, STRENGTH_PA};

const ASSUMED: &str = "Assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("body_diameter_m", "diameter of the body", "m", (0.018, 0.06), 0.028, "Micrometer."),
        number("bore_m", "bore along the shaft, 0 for a solid one", "m", (0.0, 0.05), 0.0, "The shaft maker's drawing."),
        number("body_length_m", "length of the body between the splines", "m", (0.1, 1.2), 0.42, "Rule."),
        number("torque_share", "share of the axle torque that this shaft takes", "1", (0.3, 1.0), 0.5, "0.5 with an open differential. A biased or locked one gives the shaft of the better gripping wheel up to b/(1 + b) of it, with b the bias ratio; take that for the shaft that gets it."),
        number("spline_module_m", "module of the spline", "m", (0.5e-3, 3.0e-3), 1.0e-3, "Side fit, 30 degrees, fillet root (ISO 4156)."),
        number("spline_teeth", "teeth of the spline", "1", (12.0, 60.0), 30.0, "Counted. With the module it gives the diameter below the teeth, m (z - 1.8)."),
        number("spline_root_m", "radius of the spline's root fillet", "m", (5.0e-5, 2.0e-3), 0.4e-3, "0.4 modules is a full fillet (ISO 4156, from memory)."),
        number("spline_length_m", "engaged length of the spline", "m", (0.01, 0.1), 0.035, "Rule."),
        number("spline_bearing_share", "share of the teeth that bears", "1", (0.1, 1.0), 0.5, "Half of them by the errors of their pitch: common practice, no source."),
        number("groove_diameter_m", "diameter in the bottom of the snap-ring groove", "m", (0.015, 0.06), 0.0274, "Micrometer with points."),
        number("groove_depth_m", "depth of the groove below what carries torque around it", "m", (5.0e-5, 5.0e-3), 0.6e-3, "In a spline below the middle of the teeth, which carry little. Default assumed."),
        number("groove_radius_m", "radius in the corners of the groove", "m", (5.0e-5, 3.0e-3), 0.3e-3, "Replica or radius gauge. Default assumed."),
        number("groove_torque_share", "share of the shaft's torque that passes the groove", "1", (0.0, 1.0), 0.5, "1 where the ring stops the joint's inner end; less along the engaged spline; 0 beyond it. Default assumed."),
        number("shoulder_diameter_m", "larger diameter at the shoulder", "m", (0.02, 0.1), 0.031, "Micrometer. At least 1.09 of the body's (range of the published fits)."),
        number("shoulder_radius_m", "radius of the shoulder fillet", "m", (2.0e-4, 2.0e-2), 5.0e-3, "Radius gauge."),
        number("ultimate_strength_pa", "ultimate strength of the steel", "Pa", (7.0e8, 2.2e9), 1.8e9, "Certificate, or hardness. 1.8 GPa: 300M-type steel."),
        number("shear_yield_pa", "yield strength in shear", "Pa", (3.0e8, 1.2e9), 9.5e8, "Torsion test; else 0.577 of the yield strength (von Mises)."),
        number("shear_modulus_pa", "shear modulus", "Pa", (7.0e10, 8.5e10), 7.9e10, "Steel only. From memory."),
        number("hardening_ratio", "slope of shear stress beyond yield over the shear modulus", "1", (0.0, 0.2), 0.02, "Torsion test. Default assumed."),
        number("strength_pa", "effective fatigue strength of the polished metal in torsion, fully reversed, at 2e6 cycles, half of shafts surviving", "Pa", (2.0e8, 9.0e8), STRENGTH_PA, "Calibrated: B10 life of the default duty is 20 events, one season (common practice, no source). Holds size, fretting, and all that the notch factors do not."),
        number("slope", "slope of the S-N line", "1", (4.0, 12.0), 7.0, "From memory; the same below the knee, as every shaft sees overloads."),
        number("strength_scatter", "standard deviation of ln(strength) from shaft to shaft", "1", (0.01, 0.2), 0.06, "From memory."),
        number("preset_torque_n_m", "torque of presetting in drive, 0 for none", "N.m", (0.0, 2.0e4), 0.0, "Twists the new shaft beyond yield before it is marked: for one side of the car only. Taken to come after peening, of which it takes its part. The maker's figure."),
        number("first_gear_ratio", "ratio of first gear", "1", (1.0, 6.0), 2.71, "For launches by the clutch's torque."),
        number("final_drive_ratio", "ratio of the final drive", "1", (1.5, 8.0), 4.10, "For launches by the clutch's torque."),
        number("grip_torque_n_m", "axle torque at which the tyres slip", "N.m", (500.0, 2.0e4), 3390.0, "Axle load, grip and tyre radius. Both wheels. Default assumed."),
        number("dynamic_factor", "peak torque of a launch over that of clutch or grip", "1", (1.0, 2.5), 1.8, "Clutch dump and wheel hop: 1.6 to 2.2 (assumed). Measure it: in life it counts to the power of the slope."),
        number("build_runout_m", "runout of the body as built", "m", (0.0, 2.0e-3), 5.0e-5, "Dial indicator."),
        number("limit_twist_rad", "limit of the twist that stays", "rad", (1.0e-3, 0.5), 0.0175, "1 degree: common practice, no source."),
        number("limit_pins_m", "limit of what the measure over pins has lost", "m", (5.0e-6, 1.0e-3), 5.0e-5, "0.05 mm: common practice, no source."),
        number("limit_runout_m", "limit of runout", "m", (2.0e-5, 5.0e-3), 3.0e-4, "0.3 mm: common practice, no source."),
    ]
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![choice(
        "launch_torque",
        "where the torque of launches is seen",
        &[
            (
                "counted",
                "in the counted cycles: the log has the torque of the axle itself",
            ),
            (
                "clutch",
                "by the clutch's peak torque: the log's axle torque is that of the engine and the ratios",
            ),
        ],
        0,
        "With `clutch` each launch adds one cycle from nothing to its peak, by the clutch or the tyres' grip, whichever is less, times the dynamic factor.",
    )]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let roughness = |ra_m| number("ra_m", "roughness Ra", "m", (0.01e-6, 12.5e-6), ra_m, "Stylus, +-10 % (ISO 21920-2). Default assumed.");
    let spline = vec![
        roughness(0.8e-6),
        number("boundary_friction", "friction of the flanks", "1", (0.02, 0.6), 0.15, ASSUMED),
        number("wear_coefficient_m2_n", "wear coefficient of the flanks", "m2/N", (1.0e-18, 1.0e-12), SPLINE_WEAR_M2_N, "Greased steel in boundary friction, 1e-16 to 1e-14. Assumed: let measures over pins correct it."),
    ];
    vec![
        surface("spline", "spline, roots and flanks", spline, true, "Residual stress of the roots by X-ray diffraction with layer removal (EN 15305), alike in all directions along the surface."),
        surface("body", "body with shoulder fillet and snap-ring groove", vec![roughness(0.8e-6)], true, "As for the spline. Seal lands are masked when the shaft is peened."),
    ]
}

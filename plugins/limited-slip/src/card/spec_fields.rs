//! Inputs: numbers and surfaces.

use std::f64::consts::PI;

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants as c;

const DEGREE: f64 = PI / 180.0;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("faces", "friction faces, both sides together", "1", (4.0, 24.0), 8.0, "Half of them between each side gear and the case: an even number."),
        number("outer_diameter_m", "friction face: outer diameter", "m", (0.06, 0.16), 0.1058, ""),
        number("inner_diameter_m", "friction face: inner diameter", "m", (0.03, 0.14), 0.0762, ""),
        number("steel_m", "steel plate", "m", (0.8e-3, 4.0e-3), 2.0e-3, "Micrometer +-5 um."),
        number("lining_m", "lining, each side", "m", (0.05e-3, 1.5e-3), 0.3e-3, "Sintered or sprayed."),
        number("core_m", "core of a friction plate", "m", (0.5e-3, 4.0e-3), 1.4e-3, ""),
        number("ramp_radius_m", "ramps: mean radius of the cross pin's contact", "m", (0.02, 0.08), 0.045, ""),
        number("drive_ramp_rad", "ramp angle, drive", "rad", (25.0 * DEGREE, 88.0 * DEGREE), 45.0 * DEGREE, "From the plane across the axle's axis: a smaller angle locks more. Some number it from the axis: then enter 90 degrees less."),
        number("coast_ramp_rad", "ramp angle, coast", "rad", (25.0 * DEGREE, 88.0 * DEGREE), 60.0 * DEGREE, "As for drive."),
        number("spring_outer_m", "disc spring: outer diameter", "m", (0.03, 0.16), 0.104, ""),
        number("spring_inner_m", "disc spring: inner diameter", "m", (0.02, 0.15), 0.080, ""),
        number("spring_thickness_m", "disc spring: thickness", "m", (0.3e-3, 6.0e-3), 2.8e-3, ""),
        number("spring_height_m", "disc spring: cone height, free", "m", (0.1e-3, 5.0e-3), 0.70e-3, "Free height less the thickness."),
        number("spring_deflection_m", "disc spring: deflection as shimmed", "m", (0.02e-3, 5.0e-3), 0.515e-3, "Of the set at each end of the pack."),
        number("oil_m3", "oil", "m3", (0.3e-3, 6.0e-3), 2.0e-3, "In the final drive."),
        number("modifier_share", "friction modifier in fresh oil", "1", (0.0, 0.08), c::MODIFIER_SHARE, "Friction and its slope are stated at 4 %."),
        number("corner_s", "length of a burst of slip", "s", (0.2, 30.0), 3.0, "A corner. All slip is taken to come in bursts of this length."),
        number("cooling_w_m2_k", "heat transfer from a face to the oil", "W/(m2.K)", (50.0, 2.0e4), 1500.0, "Oil in the grooves; assumed."),
        number("hot_band_factor", "hot bands: heat over the mean of the face", "1", (1.0, 3.0), 1.5, "Assumed: faces touch in bands."),
        number("flatness_m", "new steels: out of flat", "m", (0.0, 0.2e-3), 0.03e-3, "The worst of the set."),
        number("hub_kg_m2", "inertia of a side gear with its plates and stub", "kg.m2", (1.0e-4, 0.2), 4.0e-3, ""),
        number("wheel_kg_m2", "inertia of a wheel, tyre and brake disc", "kg.m2", (0.1, 10.0), 1.2, ""),
        number("shaft_n_m", "torsional stiffness of a half-shaft", "N.m/rad", (500.0, 1.0e5), 9.0e3, ""),
        number("shaft_damping_n_m_s", "torsional damping of a half-shaft", "N.m.s/rad", (0.01, 50.0), 1.0, "Assumed: shaft, joints and grease at the side gear's frequency."),
        number("chatter_torque_n_m", "axle torque at which chatter is judged", "N.m", (0.0, 5000.0), 600.0, "A slow corner or the paddock."),
        number("tab_radius_m", "plates' tabs: mean radius", "m", (0.02, 0.1), 0.056, ""),
        number("tab_area_m2", "plates' tabs: area of one plate that bears", "m2", (1.0e-6, 1.0e-3), 6.4e-5, "Tabs times thickness times height."),
        number("axial_n_m", "axial stiffness of the pack under the ramps", "N/m", (1.0e6, 1.0e9), 6.0e7, "Assumed: press with a dial gauge."),
        number("limit_stack_wear_m", "limit: height that the stack may lose", "m", (0.05e-3, 3.0e-3), 0.40e-3, "The builder's value comes first; common practice, no source."),
        number("limit_breakaway_n_m", "limit: breakaway torque", "N.m", (2.0, 300.0), 50.0, "Case held, other wheel free. With the gearbox in neutral and the other wheel held a wrench shows half."),
        number("limit_flatness_m", "limit: steel out of flat or scored", "m", (0.02e-3, 1.0e-3), 0.10e-3, "Common practice, no source."),
        number("limit_tab_wear_m", "limit: depth worn off the tabs", "m", (0.02e-3, 2.0e-3), 0.30e-3, "Common practice, no source."),
        number("springs_nested", "disc springs nested the same way at each end", "1", (1.0, 4.0), 1.0, "Their loads add up."),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    vec![
        surface("steel", "steel plates", vec![
            number("boundary_friction", "friction coefficient against the lining, in oil", "1", (0.02, 0.3), 0.10, "With 4 % of friction modifier: 0.06 to 0.15 (common practice, no source)."),
            number("friction_slope_s_m", "slope of friction over sliding speed", "s/m", (-0.1, 0.1), -0.002, "Friction rig, with 4 % of friction modifier. Below 0 it feeds chatter. Assumed."),
            number("wear_coefficient_m2_n", "specific wear coefficient, at 110 degC", "m2/N", (1.0e-19, 1.0e-12), c::STEEL_WEAR_M2_N, "Calibrated together with the lining's."),
            number("ra_m", "roughness Ra", "m", (0.02e-6, 3.0e-6), c::ROUGHNESS_M, "The lining's wear goes with its root."),
        ], false, "Blanked or ground steel unless changed."),
        surface("lining", "linings", vec![
            number("wear_coefficient_m2_n", "specific wear coefficient, at 110 degC on steel of Ra 0.4 um", "m2/N", (1.0e-19, 1.0e-12), c::LINING_WEAR_M2_N, "Calibrated. Friction's work for load times sliding: with the steel's 66 mm3/MJ at a friction of 0.10."),
        ], false, "Sintered bronze or sprayed molybdenum."),
        surface("tabs", "tabs and their slots", vec![
            number("wear_coefficient_m2_n", "specific wear coefficient in this pair", "m2/N", (1.0e-20, 1.0e-12), 5.0e-15, "Steel on steel in oil, fretting (assumed). Half of it nitrided."),
        ], false, "Bare steel unless changed."),
    ]
}

//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants::{FACE_LOAD_FACTOR, SETTLING_TURNS, WEAR_COEFFICIENT_M2_N};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("pinion_teeth", "teeth of the pinion", "1", (6.0, 25.0), 10.0, "Count."),
        number("ring_teeth", "teeth of the ring gear", "1", (20.0, 70.0), 41.0, "Count."),
        number("offset_m", "hypoid offset", "m", (0.0, 0.05), 0.020, "0 for a spiral bevel pair. Distance of the axes, in the direction that makes the pinion larger."),
        number("ring_outer_diameter_m", "pitch diameter of the ring gear, outer", "m", (0.1, 0.4), 0.224, "Drawing, or about the outside diameter."),
        number("face_width_m", "face width of the ring gear", "m", (0.012, 0.07), 0.036, "Along the teeth, at the pitch cone. Caliper."),
        number("pinion_spiral_rad", "spiral angle of the pinion, mean", "rad", (0.0, 1.05), 0.80, "46 degrees; a hypoid ring gear has less by the offset angle."),
        number("drive_pressure_angle_rad", "drive flank: effective normal pressure angle", "rad", (0.26, 0.45), 0.367, "21 degrees. Against the limit pressure angle; the mean of both flanks on a balanced design."),
        number("coast_pressure_angle_rad", "coast flank: effective normal pressure angle", "rad", (0.26, 0.45), 0.367, "As the drive flank."),
        number("profile_shift", "profile shift of the pinion, mean normal modules", "1", (-0.5, 0.7), 0.40, "Long-addendum pinion; the ring gear has as much less."),
        number("thickness_shift", "thickness shift of the pinion, mean normal modules", "1", (-0.2, 0.2), 0.05, "Half of what its tooth is thicker than half a pitch; the ring gear has as much less."),
        number("edge_radius", "edge radius of the tool, mean normal modules", "1", (0.08, 0.45), 0.25, "Fillet of the root."),
        number("face_load_factor", "factor of uneven load over the face", "1", (1.0, 3.0), FACE_LOAD_FACTOR, "Calibrated: see the constants. ISO 10300-1 has 1.5 for crowned flanks, times 1.05 to 1.25 for the mounting where the pattern was seen at light load (from memory)."),
        number("dynamic_factor", "factor of application and dynamics", "1", (1.0, 2.0), 1.05, "On top of the logged torque. Assumed."),
        number("modulus_pa", "modulus of elasticity of both gears", "Pa", (1.9e11, 2.2e11), 2.06e11, "Steel."),
        number("contact_limit_pa", "strength against pitting", "Pa", (1.0e9, 1.9e9), 1.5e9, "For 1 % failures at 5e7 passes. ISO 6336-5, case-hardened: 1500 MPa good, 1650 best quality (from memory)."),
        number("root_limit_pa", "strength of the root, local, pulsating", "Pa", (5.0e8, 1.3e9), 1.0e9, "For 1 % failures at 3e6 passes. ISO 6336-5, case-hardened: 860 to 1050 MPa (from memory). Includes the residual stress of a case as carburised."),
        number("backlash_m", "backlash as set", "m", (5.0e-5, 4.0e-4), 1.3e-4, "Dial indicator square to a ring-gear tooth at its outer end. 0.13 mm (0.005 in)."),
        number("drag_n_m", "drag of the pinion bearings as set", "N.m", (0.3, 8.0), 2.4, "Beam torque wrench, pinion alone. 2.4 N.m new, 1.4 with run bearings (common practice, no source)."),
        number("preload_m", "interference that gives the bearings their preload", "m", (5.0e-6, 2.0e-4), 6.0e-5, "Bearing and housing together, from the shim that takes it off. Assumed."),
        number("carrier_settling_m", "axial settling of the ring gear by the time the preload is gone", "m", (0.0, 2.0e-4), 2.0e-5, "Carrier bearings, bolts and seats. Assumed."),
        number("settling_turns", "pinion turns in which 63 % of the preload is lost", "1", (1.0e5, 1.0e9), SETTLING_TURNS, "Calibrated: see the constants. From drag readings of one's own."),
        number("pattern_per_m", "travel of the pattern over the face width, for each metre of pinion travel", "1/m", (500.0, 2.0e4), 5000.0, "Shim by a known step and paint. Assumed: 0.05 mm moves it by a quarter."),
        number("rated_torque_n_m", "axle torque at which stresses are told", "N.m", (200.0, 2.0e4), 3390.0, "Grip of the axle. Both wheels together."),
        number("oil_factor_pa_s", "oil: factor a of Vogel's law", "Pa.s", (1.0e-6, 1.0e-2), 2.3e-4, "eta = a exp(b/(T - c)). Default: a 75W-140, 154 mPa.s at 40 degC, 20.8 at 100. Assumed."),
        number("oil_slope_k", "oil: slope b of Vogel's law", "K", (200.0, 3000.0), 878.0, "Fit three measured viscosities."),
        number("oil_pole_k", "oil: pole c of Vogel's law", "K", (100.0, 220.0), 178.15, ""),
        number("pressure_viscosity_per_pa", "oil: pressure-viscosity coefficient, hot", "1/Pa", (5.0e-9, 4.0e-8), 1.6e-8, "From memory: 1.2e-8 to 2.2e-8 hot."),
        number("limit_backlash_m", "limit: backlash", "m", (1.0e-4, 1.0e-3), 2.5e-4, "Common practice, no source; the maker's figure comes first."),
        number("limit_backlash_growth_m", "limit: growth of backlash since it was set", "m", (2.0e-5, 1.0e-3), 1.0e-4, "0.10 mm (0.004 in): common practice, no source."),
        number("limit_drag_fraction", "limit: bearing drag left, over that as set", "1", (0.05, 0.95), 0.5, "Common practice, no source."),
        number("limit_pattern_shift", "limit: travel of the pattern over the face width", "1", (0.02, 0.6), 0.25, "Common practice, no source."),
        number("limit_contact_temp_k", "limit: contact temperature at which the flanks scuff", "K", (390.0, 1100.0), 793.15, "By the oil's stage S in the FZG A test: 80 degC + 2.25 K S^2 (ISO/TS 6336-20, from memory): 404 degC at stage 12. Default: 520 degC, as of a stage 14, assumed for a GL-5 class oil, which goes beyond that test. Not to be mixed with limits of the integral temperature, 250 to 300 degC."),
    ]
}

const FRICTION: &str = "The easier of the two flanks rules. Assumed: 0.08 in a GL-5 class oil, 0.10 to 0.12 in a mild one.";
const WEAR: &str = "Calibrated: growth of backlash; see the constants.";
const FRESH: &str =
    "Wear of a fresh flank over that once run in. Assumed; near 1 for a superfinished one.";

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let flank = || vec![
        number("ra_m", "roughness Ra once run in", "m", (0.02e-6, 2.0e-6), 0.4e-6, "Stylus across the lay, +-10 %. Default: ground or lapped."),
        number("boundary_friction", "friction coefficient of asperity contact", "1", (0.01, 0.3), 0.08, FRICTION),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-22, 1.0e-14), WEAR_COEFFICIENT_M2_N, WEAR),
        number("running_in_multiplier", "wear when fresh over wear run in", "1", (1.0, 50.0), 5.0, FRESH),
        number("hardness_pa", "hardness", "Pa", (2.0e9, 1.2e10), 7.0e9, "61 HRC. Only checked: the strengths hold for a case of 58 HRC or more."),
        number("case_depth_m", "depth of the hardened case", "m", (1.0e-4, 3.0e-3), 1.1e-3, "To 550 HV. Only checked, against the depth of the largest shear."),
    ];
    let mut pinion = flank();
    pinion.extend([
        number("asperity_radius_m", "radius of asperity summits of the pair", "m", (1.0e-6, 1.0e-3), 2.0e-5, "Assumed. Larger on a finer surface."),
        number("asperity_density_per_m2", "density of asperity summits of the pair", "1/m2", (1.0e7, 1.0e13), 3.5e9, "Assumed; density x radius x composite roughness is then 0.05."),
    ]);
    vec![
        surface("pinion_flank", "flanks of the pinion", pinion, false, "As ground or lapped unless changed."),
        surface("ring_flank", "flanks of the ring gear", flank(), false, "As ground or lapped unless changed."),
        surface("root", "roots of both gears", vec![
            number("ra_m", "roughness Ra", "m", (0.05e-6, 6.0e-6), 1.0e-6, "Stylus along the root, or replica."),
        ], true, "Residual stress as measured, case and peening together; without a profile that of a case as carburised, which is in the strength."),
    ]
}

//! Inputs: numbers and surfaces.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants as c;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("faces", "friction faces", "1", (2.0, 24.0), 14.0, "Two for each lined plate. The default is a launch pack for the heat of 264 kJ: 2.1 J/mm2 (assumed)."),
        number("outer_diameter_m", "lining: outer diameter", "m", (0.09, 0.26), 0.165, ""),
        number("inner_diameter_m", "lining: inner diameter", "m", (0.06, 0.24), 0.125, ""),
        number("clamp_n", "clamp load", "N", (500.0, 50.0e3), 8000.0, "Highest command pressure times piston area, less springs."),
        number("lining_m", "lining: thickness, each side", "m", (0.3e-3, 1.5e-3), 0.7e-3, "New; carbon or paper."),
        number("core_m", "lined plate: thickness of the core", "m", (0.4e-3, 3.0e-3), 0.8e-3, "Steel."),
        number("separator_m", "separator: thickness", "m", (0.8e-3, 6.0e-3), 3.0e-3, "Steel. Holds most of the heat of an engagement."),
        number("flatness_m", "separator: flatness as assembled", "m", (0.0, 0.2e-3), 0.02e-3, "On a surface plate."),
        number("groove_count", "radial grooves of a face", "1", (8.0, 400.0), 72.0, "A waffle pattern counts as the radial grooves of the same area (assumed)."),
        number("groove_width_m", "groove: width", "m", (0.3e-3, 6.0e-3), 2.0e-3, ""),
        number("groove_depth_m", "groove: depth, new", "m", (0.05e-3, 1.2e-3), 0.4e-3, ""),
        number("oil_flow_m3_s", "flow of cooling oil", "m3/s", (1.0e-5, 1.0e-3), 2.0e-4, "12 L/min. Through the pack while it is engaged."),
        number("oil_volume_m3", "oil fill", "m3", (0.5e-3, 20.0e-3), 5.0e-3, "Of the whole gearbox that shares the oil."),
        number("lining_conductivity_w_m_k", "lining: thermal conductivity", "W/(m.K)", (0.05, 15.0), 0.7, "Soaked with oil. Carbon 0.5 to 2, paper 0.15 to 0.3 (from memory)."),
        number("lining_heat_capacity_j_m3_k", "lining: heat capacity of its volume", "J/(m3.K)", (0.5e6, 4.0e6), 1.6e6, "Soaked with oil (from memory)."),
        number("lining_modulus_pa", "lining: modulus in compression, plane strain", "Pa", (1.0e7, 5.0e9), 1.0e8, "Soft linings even out hot spots. Paper 30 to 100 MPa, carbon more (from memory)."),
        number("activation_j_mol", "lining: activation energy of glazing", "J/mol", (80.0e3, 140.0e3), 110.0e3, "Assumed."),
        number("glaze_time_s", "lining: time at 200 degC to a glaze of 1", "s", (1.0e3, 1.0e10), c::GLAZE_TIME_S, "Calibrated. A lining that bears more heat has a longer one."),
        number("energy_life", "lining: engagements at 1 J/mm2 that 10 % do not reach", "1", (2.0e3, 1.0e6), 2.0e4, "Assumed; from the lining's energy-life test where there is one."),
        number("energy_exponent", "lining: exponent of energy life", "1", (2.5, 4.5), 3.5, "Assumed."),
        number("launch_share", "share of launches and engagements that this pack takes", "1", (0.0, 1.0), 1.0, "1 for the pack of first gear, 0 for the other one."),
        number("shift_share", "share of shifts that this pack takes", "1", (0.0, 1.0), 0.5, "Of two packs each takes every second."),
        number("judder_torque_n_m", "torque of a gentle pull-away, at which it must not judder", "N.m", (20.0, 2000.0), 200.0, "Assumed. The clamp load is then that of this torque."),
        number("driven_kg_m2", "driveline: inertia behind the clutch", "kg.m2", (1.0e-3, 5.0), 0.06, "Shafts and gears up to the drive shafts, at the clutch in first gear (assumed)."),
        number("load_kg_m2", "driveline: inertia of the car", "kg.m2", (0.05, 100.0), 0.9, "Mass times rolling radius squared over the ratio squared: 1160 kg, 0.31 m, 11.1."),
        number("stiffness_n_m", "driveline: torsional stiffness", "N.m/rad", (5.0, 1.0e5), 150.0, "Of the drive shafts and tyres, over the ratio squared (assumed)."),
        number("damping_n_m_s", "driveline: torsional damping", "N.m.s/rad", (0.01, 100.0), 0.5, "A tenth of the critical damping of that mode or less (assumed)."),
        number("limit_friction", "limit: friction coefficient", "1", (0.03, 0.18), 0.10, "Common practice, no source."),
        number("limit_wear_m", "limit: depth worn off a lining", "m", (0.01e-3, 1.0e-3), 0.15e-3, "0.15 to 0.2 mm, common practice, no source."),
        number("limit_flatness_m", "limit: flatness of a separator", "m", (0.02e-3, 1.0e-3), 0.10e-3, "Common practice, no source."),
        number("limit_judder", "limit: judder index", "1", (0.2, 2.0), 1.0, "1 by definition."),
        number("limit_acid", "limit: rise of the acid number", "kg/kg", (0.2e-3, 10.0e-3), 2.0e-3, "2 mg of KOH in each g: common practice, no source."),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    vec![
        surface("lining", "lining on its separator, in fresh oil", vec![
            number("boundary_friction", "friction coefficient", "1", (0.06, 0.25), 0.13, "0.10 to 0.15, from memory."),
            number("friction_slope_s_m", "slope of friction over slip speed", "s/m", (-0.02, 0.03), 0.003, "At creep. Above 0 in a good oil (assumed)."),
            number("wear_coefficient_m2_n", "specific wear coefficient of the lining", "m2/N", (1.0e-18, 1.0e-12), 6.5e-16, "On a separator of 0.3 um Ra at 120 degC. 5 mm3/MJ times the friction coefficient (assumed)."),
        ], false, "What the pair gives, separator and oil included."),
        surface("separator", "faces of the separators", vec![
            number("ra_m", "roughness Ra", "m", (0.02e-6, 3.0e-6), c::REFERENCE_RA_M, "Stylus +-10 %. Ground or tumbled. Steeper asperities cut the lining."),
        ], false, "Friction with another finish goes into the lining's numbers."),
    ]
}

//! Inputs: numbers, choice and surfaces.

use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

use crate::constants as c;
use crate::material;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("discs", "driven discs", "1", (1.0, 4.0), 3.0, "Two friction faces each; a floater between two discs."),
        number("outer_diameter_m", "friction face: outer diameter", "m", (0.10, 0.30), 0.140, "Of the lining."),
        number("inner_diameter_m", "friction face: inner diameter", "m", (0.05, 0.24), 0.100, "Of the lining."),
        number("pad_share", "share of the face that pads cover", "1", (0.2, 1.0), 1.0, "1 for a whole ring. Gaps are taken to sweep over the plate faster than heat soaks in."),
        number("lining_m", "lining, each side", "m", (0.5e-3, 5.0e-3), 1.2e-3, "Micrometer over the disc, less its core, by two."),
        number("core_m", "core of a disc", "m", (0.3e-3, 4.0e-3), 1.0e-3, ""),
        number("floater_m", "floater", "m", (1.0e-3, 12.0e-3), 5.0e-3, "Micrometer +-5 um."),
        number("pressure_plate_m", "pressure plate", "m", (2.0e-3, 25.0e-3), 6.0e-3, "Thickness at the face."),
        number("flywheel_m", "flywheel face that takes up heat", "m", (2.0e-3, 30.0e-3), 6.0e-3, "A bolted wear plate, or as deep as heat soaks in over a few seconds."),
        number("hot_band_factor", "hot bands: heat over the mean of the face", "1", (1.0, 3.0), 1.5, "1.5 to 2 from memory: faces touch in bands. The width of the blue bands over that of the face, inverted."),
        number("side_imbalance", "heat of one side of a floater over the mean of both, less 1", "1", (0.0, 0.6), 0.30, "Assumed: hot bands of the two sides do not lie opposite each other."),
        number("clamp_n", "clamp load, new", "N", (2.0e3, 3.0e4), 9.0e3, "Press with a load cell."),
        number("diaphragm_height_m", "diaphragm: cone height, free", "m", (0.5e-3, 12.0e-3), 3.2e-3, "As met at the pressure plate."),
        number("diaphragm_thickness_m", "diaphragm: thickness", "m", (0.5e-3, 6.0e-3), 2.0e-3, ""),
        number("diaphragm_deflection_m", "diaphragm: deflection, engaged and new", "m", (0.2e-3, 15.0e-3), 2.6e-3, "At the pressure plate, from free. Past the highest load the clamp load first rises with wear."),
        number("finger_ratio", "fingers: travel over that of the pressure plate", "1", (1.5, 8.0), 3.5, "Radii from the fulcrum."),
        number("engine_torque_n_m", "peak torque of the engine", "N.m", (50.0, 3000.0), 440.0, "What the clutch has to hold."),
        number("driven_inertia_kg_m2", "inertia of discs and gearbox input", "kg.m2", (1.0e-3, 0.5), 0.015, "From memory. What judder swings."),
        number("load_inertia_kg_m2", "inertia of the car at the clutch, in first gear", "kg.m2", (0.05, 50.0), 0.90, "Mass times the tyre's radius squared, over the ratio to the wheels squared."),
        number("driveline_stiffness_n_m", "torsional stiffness of the driveline at the clutch, in first gear", "N.m/rad", (5.0, 2.0e4), 130.0, "That of both half-shafts over the ratio squared; 15 Hz with the default inertia."),
        number("driveline_damping_n_m_s", "torsional damping of the driveline at the clutch", "N.m.s", (0.01, 50.0), 0.30, "Assumed: a tenth of critical, friction of the clutch not counted."),
        number("cooling_w_m2_k", "heat transfer from the stack", "W/(m2.K)", (5.0, 2000.0), 300.0, "At 620 rad/s of the engine; goes with the root of speed. Assumed, so that the stack cools with about 70 s: measure with a pyrometer after a stop."),
        number("cooled_area_m2", "area that air and cover cool", "m2", (2.0e-3, 0.5), 0.04, "Backs and edges of the plates."),
        number("housing_rise_k", "air in the housing above that outside", "K", (0.0, 150.0), 40.0, "Assumed. A record starts with the stack at this temperature."),
        number("spline_radius_m", "spline of the discs: mean radius", "m", (5.0e-3, 0.05), 12.5e-3, ""),
        number("spline_area_m2", "spline of a disc: area that bears", "m2", (2.0e-5, 5.0e-3), 3.0e-4, "Teeth times height times length."),
        number("axis_offset_m", "offset of the shaft from the engine's axis", "m", (0.0, 1.0e-3), 20.0e-6, "Dial gauge on the pilot bore, half of the reading."),
        number("limit_stack_wear_m", "limit: height that the stack may lose", "m", (0.1e-3, 6.0e-3), 0.50e-3, "The maker's value comes first; common practice, no source."),
        number("limit_cone_m", "limit: plate out of flat", "m", (0.02e-3, 1.0e-3), 0.15e-3, "Common practice, no source."),
        number("limit_finger_m", "limit: shift of the fingers' height", "m", (0.2e-3, 10.0e-3), 2.0e-3, "Band of 1 mm either side of the middle; the maker's value comes first."),
        number("limit_plate_k", "limit: mean temperature of a plate", "K", (400.0, 1500.0), 723.15, "450 degC on temperature paint; common practice, no source."),
        number("limit_spline_wear_m", "limit: depth worn off the splines", "m", (0.02e-3, 1.0e-3), 0.15e-3, "Common practice, no source."),
    ]
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![choice(
        "lining",
        "lining",
        &[
            ("sintered", "sintered metal on steel, steel plates"),
            ("organic", "organic on steel, steel plates"),
            ("carbon", "discs and plates of carbon"),
        ],
        material::SINTERED,
        "Sets how heat is held and conducted, how wear and glazing go with temperature, and what the plates are made of. Friction and wear coefficient are the surface's: enter those of the lining.",
    )]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    vec![
        surface("friction_face", "friction faces", vec![
            number("boundary_friction", "friction coefficient", "1", (0.05, 0.7), 0.30, "Sintered 0.25 to 0.35, organic 0.25 to 0.40, carbon 0.25 to 0.40 (from memory)."),
            number("friction_slope_s_m", "slope of friction over sliding speed", "s/m", (-0.05, 0.05), -0.001, "Friction rig. Below 0 it feeds judder. Assumed."),
            number("wear_coefficient_m2_n", "specific wear coefficient, cold", "m2/N", (1.0e-17, 1.0e-12), c::WEAR_M2_N, "Volume over heat, times friction. Calibrated for sintered metal. Organic about 0.6 of it, carbon about 0.2 (assumed)."),
            number("running_in_multiplier", "wear new over run in", "1", (1.0, 20.0), 1.5, "Assumed."),
        ], false, "No treatment of surfaces changes the wear of friction faces: another lining is another spec."),
        surface("lugs", "lugs and splines", vec![
            number("wear_coefficient_m2_n", "specific wear coefficient in this pair", "m2/N", (1.0e-19, 1.0e-12), c::SPLINE_WEAR_M2_N, "Hardened steel, dry (assumed). Half of it under a dry film."),
            number("coating_thickness_m", "thickness of a coating", "m", (0.0, 100.0e-6), 0.0, "0 for none; dry film 10 to 20 um. The wear coefficient is then the coating's; below it bare steel wears."),
        ], false, "Bare steel unless changed."),
    ]
}

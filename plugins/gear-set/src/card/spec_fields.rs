//! Inputs: numbers, choice and table of the spec, properties of the surfaces.

use ringland_plugin::{
    ChoiceField, NumberField, SurfaceField, TableField, choice, number, surface, table,
};

use crate::constants::{DOG_WEAR_M_J, GEARS, WEAR_COEFFICIENT_M2_N};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("module_m", "normal module", "m", (1.0e-3, 8.0e-3), 3.25e-3, "Drawing, or span over teeth."),
        number("pressure_angle_rad", "normal pressure angle of the basic rack", "rad", (0.25, 0.49), 0.349_065_850_398_865_9, "20 degrees (ISO 53); race gears up to 28."),
        number("helix_angle_rad", "helix angle at the reference cylinder", "rad", (0.0, 0.6), 0.0, "0: spur gears, as in most race boxes."),
        number("addendum", "addendum of the basic rack over module", "1", (0.8, 1.4), 1.0, "ISO 53."),
        number("dedendum", "dedendum of the basic rack over module", "1", (1.0, 1.7), 1.25, "ISO 53; deeper for tall teeth."),
        number("root_radius", "radius of the cutter's tip over module", "1", (0.1, 0.5), 0.38, "ISO 53 profile A. The fillet follows from it by generation."),
        number("centre_distance_m", "centre distance of the shafts", "m", (0.03, 0.3), 86.5e-3, "Housing drawing. It sets the sum of profile shifts of every pair. Default assumed."),
        number("modulus_pa", "modulus of elasticity of the gears", "Pa", (1.9e11, 2.2e11), 2.06e11, "Steel."),
        number("contact_strength_pa", "allowable stress number, contact (1 % damage probability)", "Pa", (1.2e9, 1.8e9), 1.65e9, "ISO 6336-5, case-carburised: 1500e6 for quality MQ, 1650e6 for ME (from memory)."),
        number("root_strength_pa", "allowable stress number, tooth root, with the test gear's stress correction of 2 (1 % damage probability)", "Pa", (6.0e8, 1.3e9), 1.05e9, "ISO 6336-5, case-carburised: 850e6 to 1000e6 for MQ, 1050e6 for ME (from memory). Of an unpeened root: residual stress of a treatment goes into the surface."),
        number("contact_strength_scatter", "standard deviation of ln(contact strength) from set to set", "1", (0.01, 0.2), 0.049, "With the prior spread of the rate 6 % of strength in all. Assumed."),
        number("root_strength_scatter", "standard deviation of ln(root strength) from set to set", "1", (0.01, 0.2), 0.053, "With the prior spread of the rate 7 % of strength in all. Assumed."),
        number("application_factor", "application factor: torque at its peaks over the log's torque", "1", (1.0, 2.0), 1.10, "Firing pulses that the log does not show, by the damping of clutch and shafts. Assumed; from torque measured at 1 kHz or more."),
        number("face_load_factor", "face load factor: load at the loaded end of the face over the mean", "1", (1.0, 2.5), 1.15, "From the contact pattern or the shafts' bend. Assumed."),
        number("transverse_load_factor", "transverse load factor: load of the worse pair over an even share", "1", (1.0, 2.0), 1.0, "1 for ground teeth under full load (ISO 6336-1)."),
        number("base_pitch_deviation_m", "base pitch deviation left after running-in", "m", (0.0, 5.0e-5), 5.0e-6, "Gear tester; grade 5 (ISO 1328-1), assumed."),
        number("profile_deviation_m", "profile form deviation left after running-in", "m", (0.0, 5.0e-5), 4.0e-6, "Gear tester; grade 5, assumed."),
        number("tip_relief_m", "tip relief", "m", (0.0, 1.5e-4), 4.0e-5, "Drawing. It takes up the deflection of the teeth at entry and exit. Assumed."),
        number("oil_factor_pa_s", "oil: factor a of Vogel's law", "Pa.s", (1.0e-6, 1.0e-2), 2.33e-4, "eta = a exp(b/(T - c)). Default: a 75W-140 class oil, about 150 mPa.s at 40 degC, 20 at 100. Assumed."),
        number("oil_slope_k", "oil: slope b of Vogel's law", "K", (200.0, 3000.0), 873.0, "Fit three measured viscosities."),
        number("oil_pole_k", "oil: pole c of Vogel's law", "K", (100.0, 220.0), 178.15, ""),
        number("pressure_viscosity_per_pa", "oil: pressure-viscosity coefficient, hot", "1/Pa", (5.0e-9, 4.0e-8), 1.7e-8, "From memory."),
        number("oil_friction_factor", "oil: friction over that of mineral oil", "1", (0.5, 1.3), 0.8, "1 mineral, 0.8 poly-alpha-olefin, 0.7 polyglycol (ISO/TS 6336-20, from memory)."),
        number("supply_factor", "oil supply: rise of the teeth's bulk over that with spray", "1", (0.2, 1.5), 1.2, "1.2 splash, 1.0 spray, 0.2 submerged (ISO/TS 6336-20, from memory)."),
        number("scuffing_temp_k", "contact temperature at which the oil lets the flanks scuff", "K", (390.0, 720.0), 677.15, "80 + 2.25 S^2 degC for carburised steel and an oil that passes load stage S of ISO 14635-1 (ISO/TS 6336-20, from memory). Default: stage 12, as GL-5 class oils do. Practice is alarmed from 180 degC with plain oils, from 250 to 300 with these (no source)."),
        number("dog_inertia_kg_m2", "moment of inertia that the dogs bring to speed", "kg.m2", (5.0e-4, 0.05), 6.0e-3, "Clutch driven plates, input shaft and gears, at the dogs. Assumed."),
        number("dog_wear_m_j", "rounding of a dog's corner for each energy of engagement", "m/J", (1.0e-9, 1.0e-6), DOG_WEAR_M_J, "Calibrated: 0.05 mm an event at the gear shifted most (common practice, no source)."),
        number("dog_speed_share", "share of the engine's speed step that the dogs take", "1", (0.0, 1.0), 0.25, "The rest is taken by torque cut and clutch before and after. From a log of shaft speeds at 1 kHz; assumed."),
        number("dog_corner_m", "radius of the dogs' corners as made", "m", (0.0, 1.0e-3), 2.0e-4, "Replica under the microscope. Default assumed."),
        number("limit_dog_corner_m", "limit: radius of the dogs' corners", "m", (2.0e-4, 3.0e-3), 1.0e-3, "Common practice, no source: beyond, the gear jumps out."),
        number("backlash_m", "backlash as built", "m", (2.0e-5, 5.0e-4), 1.4e-4, "Dial indicator at the pitch circle."),
        number("limit_backlash_growth_m", "limit: growth of backlash by wear", "m", (1.0e-5, 5.0e-4), 1.0e-4, "0.1 mm: common practice, no source."),
    ]
}

pub(super) fn choices() -> Vec<ChoiceField> {
    let options = [
        (
            "falling",
            "falls on to 0.85 of the allowable stress at 1e10 cycles",
        ),
        ("level", "stays level beyond the endurance knee"),
    ];
    let note = "ISO 6336-2 and -3 let it stay level only for best material, finish and oil, and experience with them.";
    vec![choice(
        "long_life",
        "life curve beyond the knee",
        &options,
        0,
        note,
    )]
}

#[rustfmt::skip]
pub(super) fn tables() -> Vec<TableField> {
    let columns = vec![
        number("pinion_teeth", "teeth of the driving gear", "1", (9.0, 120.0), 20.0, ""),
        number("wheel_teeth", "teeth of the driven gear", "1", (9.0, 150.0), 32.0, ""),
        number("face_width_m", "common face width", "m", (5.0e-3, 0.06), 20.0e-3, "Where both faces meet, chamfers off."),
        number("pinion_shift", "profile shift of the driving gear over module", "1", (-1.0, 1.5), 0.3, "Drawing; the driven gear's follows from the centre distance."),
    ];
    let defaults = vec![
        vec![14.0, 17.0, 20.0, 22.0, 24.0, 26.0],
        vec![38.0, 35.0, 33.0, 30.0, 28.0, 26.0],
        vec![24.0e-3, 22.5e-3, 21.0e-3, 19.0e-3, 17.5e-3, 16.0e-3],
        vec![0.45, 0.40, 0.15, 0.37, 0.36, 0.345],
    ];
    vec![table("gears", "pairs of the box, first gear first", columns, (1, GEARS as u32), defaults, "The driving gear turns with the engine: ratio is driven over driving teeth. Default assumed.")]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let ra = |default, note| number("ra_m", "roughness Ra", "m", (0.01e-6, 6.0e-6), default, note);
    let hardness = || number("hardness_pa", "hardness", "Pa", (3.0e9, 1.2e10), 7.06e9, "720 HV of the case; on a spare area.");
    let flank = vec![
        ra(0.4e-6, "Mean of both flanks once run in, stylus along the profile, +-10 %. Default: ground. Superfinishing one of a pair gives half the gain."),
        hardness(),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-20, 1.0e-13), WEAR_COEFFICIENT_M2_N, "Assumed: boundary contact 1e-17 to 1e-15 (from memory)."),
    ];
    let root = vec![ra(1.6e-6, "Stylus or replica in the fillet. Default: hobbed, carburised, not ground."), hardness()];
    vec![
        surface("flank", "flanks of all gears", flank, false, "As ground unless changed."),
        surface("root", "root fillets of all gears", root, true, "Residual stress by X-ray diffraction with layer removal (EN 15305), that of case and peening together. None given: that of the standard's carburised test gears, unpeened."),
    ]
}

//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants::STRENGTH_PA;

const ASSUMED: &str = "Assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::numbers();
    numbers.extend([
        number("small_end_mass_kg", "small-end share of the rod's mass", "kg", (0.02, 2.0), 0.13, "Rod weighed on its small end, big end level. Part of the reciprocating mass."),
        number("cap_mass_kg", "mass below the split line: cap, half bearing, lower halves of the bolts", "kg", (0.02, 3.0), 0.14, "Weighed. Part of the big-end share."),
        number("section_m2", "section of the beam where it is thinnest", "m2", (5.0e-5, 1.0e-3), 2.0e-4, "Micrometer, or the rod maker's drawing."),
        number("swing_gyration_m", "radius of gyration of the beam for bending in the swing plane", "m", (2.0e-3, 2.0e-2), 7.5e-3, "From the section. Default assumed."),
        number("pin_gyration_m", "radius of gyration of the beam for bending in the plane of the pins", "m", (1.0e-3, 2.0e-2), 4.5e-3, "From the section. Default assumed."),
        number("half_depth_m", "half the depth of the beam in the swing plane", "m", (3.0e-3, 4.0e-2), 9.5e-3, "Outer fibre from the middle. Default assumed."),
        number("ultimate_strength_pa", "ultimate strength of the steel", "Pa", (6.0e8, 1.7e9), 1.15e9, "Certificate, or hardness."),
        number("yield_strength_pa", "yield strength of the steel", "Pa", (4.0e8, 1.6e9), 1.0e9, "Certificate."),
        number("modulus_pa", "modulus of elasticity", "Pa", (1.9e11, 2.2e11), 2.05e11, "Steel only: rods of aluminium and titanium have their own, shorter counts."),
        number("core_hardness_pa", "hardness of the core", "Pa", (1.8e9, 6.5e9), 3.43e9, "350 HV. Sets the strength that inclusions leave."),
        number("inclusion_root_area_m", "largest inclusion: root of its projected area", "m", (1.0e-6, 5.0e-4), 4.0e-5, "Cleanliness rating of the steel (ISO 4967). Limits the strength from this depth down; the surface's strength gives way to it over this depth. Default assumed."),
        number("strength_pa", "effective fatigue strength of the polished metal, fully reversed, at 1e7 cycles, half of rods surviving", "Pa", (1.5e8, 9.0e8), STRENGTH_PA, "Calibrated: B10 life of the default duty is 27.5 events, the middle of a policy of 25 to 30 (common practice, no source). Holds size and all that the notch factors do not."),
        number("slope", "slope of the S-N line", "1", (5.0, 15.0), 9.0, "From memory; the same below the knee, as every rod sees overloads."),
        number("strength_scatter", "standard deviation of ln(strength) from rod to rod", "1", (0.01, 0.2), 0.045, "With the prior spread of the rate 7 % of strength in all. Assumed."),
        number("eye_section_m2", "small end: section of the beam at the eye", "m2", (5.0e-5, 1.0e-3), 1.8e-4, ASSUMED),
        number("eye_notch_factor", "small end: stress concentration of the eye's fillet", "1", (1.0, 6.0), 2.4, "Finite elements or strain gauge. Default assumed."),
        number("eye_fillet_m", "small end: radius of the fillet", "m", (2.0e-4, 2.0e-2), 4.0e-3, "Radius gauge. Default assumed."),
        number("eye_compression_share", "small end: share of compression that the fillet carries", "1", (0.0, 1.0), 0.6, "The pin pushes on the beam directly. Assumed."),
        number("shoulder_section_m2", "big-end shoulder: section of the beam", "m2", (5.0e-5, 1.0e-3), 2.0e-4, ASSUMED),
        number("shoulder_notch_factor", "big-end shoulder: stress concentration", "1", (1.0, 6.0), 2.7, "Finite elements or strain gauge. Default assumed."),
        number("shoulder_fillet_m", "big-end shoulder: radius of the fillet", "m", (2.0e-4, 2.0e-2), 3.0e-3, "Radius gauge. Default assumed."),
        number("spot_face_section_m2", "bolt spot face: section of both bolt bosses together", "m2", (5.0e-5, 2.0e-3), 2.4e-4, ASSUMED),
        number("spot_face_notch_factor", "bolt spot face: stress concentration of its corner", "1", (1.0, 6.0), 2.4, "Finite elements or strain gauge. Default assumed."),
        number("spot_face_fillet_m", "bolt spot face: radius of its corner", "m", (2.0e-4, 1.0e-2), 1.0e-3, "Replica or radius gauge. Default assumed."),
        number("prying_factor", "bolt spot face: force in the boss over half the force that parts the cap", "1", (1.0, 2.5), 1.6, "Bending of the big end. Assumed."),
        number("build_bend_ratio", "bend or twist as built, over length", "1", (0.0, 5.0e-3), 1.0e-4, "Alignment fixture, +-0.01 mm in 100 mm."),
        number("build_out_of_round_m", "big-end bore out of round as built, bolts at their preload", "m", (0.0, 1.0e-4), 4.0e-6, "Bore gauge, +-2.5 um."),
        number("limit_bend_ratio", "limit of bend or twist", "1", (1.0e-4, 5.0e-3), 5.0e-4, "0.05 mm in 100 mm: common practice, no source."),
        number("limit_out_of_round_m", "limit of big-end bore out of round", "m", (2.0e-6, 1.0e-4), 1.3e-5, "0.0005 in: common practice, no source."),
        number("limit_length_change_m", "limit of change in length between centres", "m", (5.0e-6, 1.0e-3), 5.0e-5, "0.05 mm either way: common practice, no source."),
        number("limit_buckling_margin", "least buckling load over the largest compression", "1", (1.0, 5.0), 1.5, ASSUMED),
        number("limit_speed_rad_s", "highest engine speed that the rod maker allows", "rad/s", (200.0, 2500.0), 940.0, "The rod maker's figure comes first. Default assumed."),
    ]);
    numbers
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let roughness = |ra_m| vec![number("ra_m", "roughness Ra", "m", (0.01e-6, 12.5e-6), ra_m, "Stylus, +-10 % (ISO 21920-2). Default assumed.")];
    vec![
        surface("eye", "fillet of the small-end eye", roughness(1.6e-6), true, "Residual stress by X-ray diffraction with layer removal (EN 15305)."),
        surface("shoulder", "fillet of the big-end shoulder", roughness(1.6e-6), true, "As for the eye."),
        surface("spot_face", "corner of the bolt spot face", roughness(0.8e-6), true, "Machined. Bores, cap face, spot faces and threads are masked when the rod is peened."),
    ]
}

//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants::WEAR_COEFFICIENT_M2_N;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::valvetrain::numbers();
    numbers.extend(ringland_engine::oil_numbers());
    numbers.extend([
        number("contact_width_m", "width of the contact across the lobe", "m", (3.0e-3, 0.03), 9.0e-3, "The narrower of lobe and follower less their chamfers; 9 mm for a roller, 12 for a flat tappet."),
        number("line_load_factor", "load for each width in the middle of the contact over the mean", "1", (1.0, 3.0), 1.5, "1.5 for a crown whose contact just fills the width (Hertz); 1 without crown and without any misalignment; more from the wear pattern of a lobe that runs at its edge."),
        number("modulus_pa", "modulus of elasticity of both parts", "Pa", (7.0e10, 3.5e11), 2.06e11, "Steel 2.06e11, ductile iron about 1.7e11."),
        number("pressure_viscosity_per_pa", "oil: pressure-viscosity coefficient, hot", "1/Pa", (5.0e-9, 4.0e-8), 1.7e-8, "From memory: mineral and ester oils 1.2e-8 to 2.2e-8 hot."),
        number("bulk_rise_k", "temperature of lobe and follower over the oil", "K", (0.0, 80.0), 15.0, "Assumed."),
        number("roller_bore_m", "roller: bore in which the needles run", "m", (2.0e-3, 0.05), 0.0105, "Of no meaning for another follower."),
        number("needle_friction", "roller: friction of the needles over load", "1", (5.0e-4, 0.1), 3.0e-3, "Needles 0.002 to 0.004, a plain pin about 0.03. From memory."),
        number("limit_lobe_wear_m", "limit: wear of the lobe", "m", (1.0e-5, 1.0e-3), 1.0e-4, "0.08 to 0.13 mm (0.003 to 0.005 in): common practice, no source."),
        number("limit_follower_wear_m", "limit: wear of the follower", "m", (1.0e-6, 1.0e-3), 5.0e-5, "Common practice, no source. A coating's thickness ends the life sooner."),
        number("limit_lash_growth_m", "limit: growth of lash since it was set", "m", (1.0e-5, 1.0e-3), 5.0e-5, "0.05 mm between events calls for a look: common practice, no source."),
        number("limit_contact_temp_k", "limit: contact temperature at which the pair scuffs", "K", (390.0, 700.0), 523.15, "Assumed: 250 degC for hardened steel in a race oil. Practice is alarmed at 150 degC with mild mineral oils and 200 with esters (no source); the oil's own scuffing load, by ISO/TS 6336-20, gives more."),
    ]);
    numbers
}

const FRICTION: &str = "The easier of the two faces rules. From memory: 0.08 to 0.12 bare, a-C:H carbon about 0.75 of it, ta-C about 0.55.";
const WEAR: &str = "Calibrated: the life of a plain bucket; see the constants.";
const FRESH: &str =
    "Wear of a fresh surface over that once run in. Assumed; near 1 for a superfinished face.";

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let face = |fresh| vec![
        number("rq_m", "roughness Rq once run in", "m", (0.01e-6, 1.0e-6), 0.20e-6, "Stylus across the lay, +-10 %. Default: ground."),
        number("hardness_pa", "hardness", "Pa", (2.0e9, 4.0e10), 6.84e9, "60 HRC; on a spare area. Sets the pitting strength."),
        number("boundary_friction", "friction coefficient of asperity contact", "1", (0.01, 0.3), 0.10, FRICTION),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-20, 1.0e-13), WEAR_COEFFICIENT_M2_N, WEAR),
        number("running_in_multiplier", "wear when fresh over wear once run in", "1", (1.0, 100.0), fresh, FRESH),
    ];
    let mut lobe = face(10.0);
    lobe.extend([
        number("asperity_radius_m", "radius of asperity summits of the pair", "m", (1.0e-6, 1.0e-3), 2.0e-5, "Assumed. Larger on a finer surface."),
        number("asperity_density_per_m2", "density of asperity summits of the pair", "1/m2", (1.0e7, 1.0e13), 8.8e9, "Assumed; density x radius x composite roughness is then 0.05."),
    ]);
    let mut follower = face(10.0);
    follower.push(number("coating_thickness_m", "thickness of a coating", "m", (0.0, 2.0e-5), 0.0, "0 for none. The follower's life ends when it is worn through."));
    vec![
        surface("lobe", "lobe of the cam", lobe, false, "As ground unless changed."),
        surface("follower_face", "running face of the follower: roller, pad or tappet", follower, false, "As ground unless changed."),
    ]
}

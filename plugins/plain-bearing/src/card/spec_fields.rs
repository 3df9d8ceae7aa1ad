//! Inputs: numbers of the spec, the position, and properties of the surfaces.

use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

const ASSUMED: &str = "Assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::numbers();
    numbers.extend(ringland_engine::oil_numbers());
    numbers.extend([
        number("journal_diameter_m", "journal diameter", "m", (0.03, 0.1), 0.048, "Micrometer, +-2 um."),
        number("film_width_m", "width of the running surface", "m", (0.008, 0.06), 0.0195, "Less chamfers; less the groove for a grooved shell."),
        number("diametral_clearance_m", "diametral clearance, cold", "m", (2.0e-5, 2.0e-4), 56.0e-6, "Bore gauge less journal, shells torqued, coating included: 0.0022 in. +-3 um."),
        number("wall_thickness_m", "wall of the new shell, coating included", "m", (0.8e-3, 5.0e-3), 1.5e-3, "Ball-anvil micrometer at the crown, +-1.5 um."),
        number("overlay_thickness_m", "overlay under any coating", "m", (3.0e-6, 5.0e-5), 15.0e-6, "The bearing maker's figure. Default assumed."),
        number("overlay_wear_coefficient_m2_n", "specific wear coefficient of the overlay under a coating", "m2/N", (1.0e-19, 1.0e-12), super::WEAR_COEFFICIENT_M2_N, "Rules once a coating is worn through. Calibrated: the life of bare shells."),
        number("overlay_modulus_pa", "modulus of elasticity of the overlay", "Pa", (5.0e9, 2.0e11), 5.0e10, "In asperity contact. From memory: soft overlays 15 to 70 GPa."),
        number("fatigue_strength_pa", "specific load for 1e7 cycles at 100 degC", "Pa", (2.0e7, 1.5e8), 62.0e6, "From memory: aluminium-tin 45 to 60 MPa, copper trimetal with soft overlay 55 to 75, sputtered 100 to 120. A polymer coat does not change it."),
        number("feed_radius_m", "radius at which the pin's oil enters the crank", "m", (0.0, 0.06), 0.027, "Half of the main journal: rotation holds the oil back from there. Not used for a main bearing."),
        number("cranking_speed_rad_s", "cranking speed at a start", "rad/s", (12.0, 60.0), 26.0, "About 250 1/min. Assumed."),
        number("neighbour_firing_interval_rad", "main: crank angle by which the neighbouring cylinder fires later", "rad", (0.0, 12.6), std::f64::consts::TAU, "360 deg between cylinders 2 and 3 of an in-line four (its centre main, the most loaded), 540 deg between 1 and 2. Throws stand at this angle too."),
        number("throw_mass_kg", "main: unbalanced mass of one throw at crank radius", "kg", (0.0, 10.0), 1.0, "Pin and webs, without rod. Default assumed."),
        number("counterweight_fraction", "main: share of it that the counterweights balance", "1", (0.0, 1.5), 0.8, "Above 1 when they balance some of the rod. Default assumed."),
        number("limit_wear_m", "limit: wear of a shell", "m", (1.0e-6, 4.0e-5), 10.0e-6, "10 um, common practice, no source."),
        number("limit_clearance_growth_m", "limit: growth of the diametral clearance", "m", (5.0e-6, 1.0e-4), 25.0e-6, "0.025 mm (0.001 in), common practice, no source."),
        number("limit_boundary_heat_w_m2", "limit: boundary heat", "W/m2", (1.0e6, 1.0e9), 20.0e6, "Asperity pressure times friction times speed, at the worst place and instant. Assumed."),
    ]);
    numbers
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![choice(
        "position",
        "which bearing of the crank",
        &[
            ("rod", "rod big end"),
            ("main", "main bearing between two throws"),
        ],
        0,
        "Upper shell: rod side of a big end, block side of a main bearing. Enter diameter, width and clearance of the position.",
    )]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let shell = vec![
        number("rq_m", "roughness Rq once run in", "m", (0.05e-6, 2.0e-6), 0.32e-6, "Stylus, +-10 %; with the journal's it makes the composite roughness. Default assumed."),
        number("boundary_friction", "friction coefficient of asperity contact", "1", (0.005, 0.4), 0.10, "From memory."),
        number("wear_coefficient_m2_n", "specific wear coefficient of the surface that runs", "m2/N", (1.0e-19, 1.0e-12), super::WEAR_COEFFICIENT_M2_N, "The coating's while there is one, else the overlay's. Calibrated: the life of bare shells."),
        number("asperity_radius_m", "radius of asperity summits", "m", (1.0e-6, 1.0e-3), 3.5e-5, "Assumed; eta beta sigma is then 0.05."),
        number("asperity_density_per_m2", "density of asperity summits", "1/m2", (1.0e7, 1.0e13), 4.1e9, ASSUMED),
        number("coating_thickness_m", "thickness of a coating on the overlay", "m", (0.0, 3.0e-5), 0.0, "0 for bare shells; 8 to 13 um of polymer is usual. It takes up clearance."),
    ];
    let journal = vec![
        number("rq_m", "roughness Rq of the journal", "m", (0.01e-6, 1.0e-6), 0.13e-6, "Stylus, +-10 %."),
    ];
    vec![
        surface("shell", "running surface of the shells", shell, false, "Bare overlay unless changed."),
        surface("journal", "journal", journal, false, "As polished."),
    ]
}

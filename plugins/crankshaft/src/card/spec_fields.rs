//! Inputs: numbers of the spec, the throws, properties of the surfaces. The defaults are an invented 2.0 l turbocharged in-line four.

use std::f64::consts::PI;

use ringland_plugin::{NumberField, SurfaceField, TableField, number, surface, table};

use crate::spec::MOST_THROWS;

const ASSUMED: &str = "Assumed.";

pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::numbers();
    numbers.extend(ringland_engine::oil_numbers());
    numbers.extend(dimensions());
    numbers.extend(vibration());
    numbers.extend(strength_and_limits());
    numbers
}

#[rustfmt::skip]
fn dimensions() -> Vec<NumberField> {
    vec![
        number("pin_diameter_m", "crank-pin diameter as made", "m", (0.03, 0.09), 0.048, "Micrometer, +-2 um."),
        number("journal_diameter_m", "main-journal diameter as made", "m", (0.03, 0.1), 0.054, "Micrometer, +-2 um."),
        number("web_thickness_m", "web thickness", "m", (0.008, 0.05), 0.019, "Along the crank's axis, in the overlap."),
        number("web_width_m", "web width", "m", (0.03, 0.2), 0.088, "Across the throw, in the middle of the overlap."),
        number("pin_fillet_m", "fillet radius of the pins", "m", (0.8e-3, 8.0e-3), 2.0e-3, "Radius gauge or contour trace."),
        number("journal_fillet_m", "fillet radius of the main journals", "m", (0.8e-3, 8.0e-3), 2.0e-3, "Radius gauge or contour trace."),
        number("pin_length_m", "pin length between webs", "m", (0.01, 0.06), 0.024, ""),
        number("main_spacing_m", "distance between neighbouring main bearings", "m", (0.04, 0.25), 0.092, "Between their middles. Default assumed."),
        number("throw_unbalance_kg_m", "mass times radius of one throw without its rod", "kg.m", (-0.1, 0.1), -0.008, "Pin, webs and counterweights; negative where the counterweights prevail. From the balance sheet. Default assumed."),
        number("throw_inertia_kg_m2", "moment of inertia of one throw without its rod", "kg.m2", (1.0e-4, 0.1), 0.004, "About the crank's axis, from the drawing. Default assumed."),
        number("nose_diameter_m", "diameter of the nose at its shoulder", "m", (0.012, 0.08), 0.036, "Default assumed."),
        number("nose_fillet_m", "fillet radius of the nose's shoulder", "m", (0.3e-3, 8.0e-3), 1.5e-3, "Default assumed."),
        number("nose_length_m", "length of the nose from its shoulder to the hub", "m", (0.005, 0.2), 0.035, "Default assumed."),
    ]
}

#[rustfmt::skip]
fn vibration() -> Vec<NumberField> {
    vec![
        number("hub_inertia_kg_m2", "moment of inertia of damper hub, nose and what they drive", "kg.m2", (1.0e-5, 0.1), 0.002, ASSUMED),
        number("flywheel_inertia_kg_m2", "moment of inertia of flywheel and clutch", "kg.m2", (1.0e-3, 2.0), 0.06, "Weighed and swung, or from the drawing. Default assumed."),
        number("damper_ring_inertia_kg_m2", "moment of inertia of the damper's ring", "kg.m2", (1.0e-6, 0.1), 0.003, "1e-6 for none. Default assumed."),
        number("damper_frequency_rad_s", "natural frequency of the damper's ring on its rubber", "rad/s", (300.0, 10_000.0), 2300.0, "The damper maker's tuned frequency, hot. Default assumed."),
        number("damper_loss_factor", "loss factor of the damper's rubber", "1", (0.02, 1.5), 0.25, "The damper maker's figure, hot. Default assumed."),
        number("damper_half_life_s", "running time in which the damper ages by a half", "s", (3.6e3, 3.6e8), 6.1e5, "60 events of 170 min. The damper maker's life comes first. Default assumed."),
        number("shaft_loss_factor", "loss factor of the crankshaft in torsion", "1", (1.0e-3, 0.3), 0.02, "Steel and its joints. Fit it to a torsional measurement. Default assumed."),
        number("throw_damping_n_m_s_rad", "damping of one throw against the frame", "N.m.s/rad", (0.0, 10.0), 0.3, "Bearings, piston and rings. Fit it to a torsional measurement. Default assumed."),
        number("shear_modulus_pa", "shear modulus", "Pa", (3.0e10, 9.0e10), 8.0e10, "Steel. From memory."),
    ]
}

#[rustfmt::skip]
fn strength_and_limits() -> Vec<NumberField> {
    vec![
        number("tensile_strength_pa", "tensile strength of the core", "Pa", (7.0e8, 1.4e9), 1.05e9, "Certificate of the forging or billet, or from core hardness."),
        number("strength_pa", "effective fatigue strength of a bare fillet at 1e7 cycles, fully reversed", "Pa", (1.5e8, 6.0e8), super::STRENGTH_PA, "Smooth surface, local equivalent stress, half of such cranks. Calibrated: see the card's constants. It takes in production scatter, size and oil holes."),
        number("sn_slope", "slope of the S-N line", "1", (4.0, 15.0), 8.0, "From memory: 7 to 10 for notched steel."),
        number("strength_ln_sd", "scatter of ln(strength) between cranks", "1", (0.0, 0.3), 0.07, "7 %. Assumed."),
        number("torsion_ln_sd", "uncertainty of ln(vibratory torque)", "1", (0.0, 0.8), 0.20, "20 %; 10 % where damping was fitted to a measurement. Assumed."),
        number("bearing_length_m", "length of the rod bearing", "m", (0.008, 0.06), 0.0195, ""),
        number("bearing_film_m", "least film of the rod bearing at full load and rated speed, oil at 105 degC", "m", (0.1e-6, 10.0e-6), 1.15e-6, "From the plain bearing's model or its maker, less 0.4 um for its shape. Default assumed."),
        number("bearing_rq_m", "roughness Rq of the run-in shell, with its waviness", "m", (0.1e-6, 2.0e-6), 0.69e-6, ASSUMED),
        number("regrind_step_m", "depth on the radius that a regrind takes", "m", (0.02e-3, 0.5e-3), 0.125e-3, "0.25 mm undersize on the diameter, common practice, no source."),
        number("limit_journal_wear_m", "limit: wear of a pin on its diameter", "m", (1.0e-6, 1.0e-4), 1.0e-5, "Common practice, no source."),
        number("limit_taper_m", "limit: taper or out-of-round of a journal", "m", (1.0e-6, 5.0e-5), 8.0e-6, "5 to 8 um (0.0002 to 0.0003 in), common practice, no source."),
        number("limit_runout_m", "limit: runout of the middle main journal", "m", (5.0e-6, 3.0e-4), 5.0e-5, "0.04 to 0.05 mm, common practice, no source."),
        number("limit_journal_ra_m", "limit: roughness Ra of a journal", "m", (0.02e-6, 1.0e-6), 0.2e-6, "Common practice, no source."),
    ]
}

#[rustfmt::skip]
pub(super) fn tables() -> Vec<TableField> {
    let angle = number("firing_angle_rad", "crank angle at which the throw's cylinder fires", "rad", (0.0, 4.0 * PI), 0.0, "Over 720 deg, the first throw at the front at 0.");
    vec![table(
        "throws", "throws from the front, with their firing angles", vec![angle], (1, MOST_THROWS as u32),
        vec![vec![0.0, 3.0 * PI, PI, 2.0 * PI]], "Default: firing order 1-3-4-2.",
    )]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let fillet = vec![
        number("hardness_pa", "hardness at the surface", "Pa", (1.5e9, 1.3e10), 3.12e9, "318 HV: the core of 1050 MPa. Nitrided: 650 to 1100 HV (from memory)."),
        number("ra_m", "roughness Ra", "m", (0.01e-6, 3.0e-6), 0.4e-6, "Stylus in the fillet, +-10 %."),
        number("case_depth_m", "depth of the hardened case", "m", (0.0, 1.0e-3), 0.0, "Nitriding hardness depth (ISO 18203), 0 for none."),
    ];
    let journal = vec![
        number("hardness_pa", "hardness", "Pa", (1.5e9, 1.3e10), 3.12e9, "Portable tester. A blued journal is tested again."),
        number("ra_m", "roughness Ra", "m", (0.01e-6, 1.0e-6), 0.10e-6, "Stylus, +-10 %."),
        number("wear_coefficient_m2_n", "specific wear coefficient in the bearing", "m2/N", (1.0e-19, 1.0e-14), 4.4e-17, "0.4 of the overlay's 1.1e-16 at 30 HRC, 0.1 above 55 HRC. Checked against the hardness. Assumed."),
    ];
    vec![
        surface("fillet", "fillets of pins and main journals", fillet, true, "Nitriding, peening and rolling enter as hardness, case depth and residual stress over depth."),
        surface("journal", "running surface of the pins", journal, false, ""),
    ]
}

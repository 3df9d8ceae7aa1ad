//! Inputs: numbers of the spec and properties of the surfaces. The defaults are an invented 2.0 l turbocharged
//! in-line four of 336 kW at 8000 1/min.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

const ASSUMED: &str = "Assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("bore_m", "bore", "m", (0.03, 0.2), 0.086, "Dial bore gauge."),
        number("stroke_m", "stroke", "m", (0.03, 0.2), 0.086, ""),
        number("rod_length_m", "connecting-rod length", "m", (0.05, 0.5), 0.145, "Between centres."),
        number("compression_ratio", "compression ratio", "1", (5.0, 20.0), 9.5, ""),
        number("cylinders", "cylinders of the engine", "1", (1.0, 16.0), 4.0, "Turns engine torque into mean effective pressure."),
        number("top_width_m", "top ring: axial width", "m", (0.5e-3, 3.0e-3), 1.0e-3, "Micrometer."),
        number("top_thickness_m", "top ring: radial thickness", "m", (1.5e-3, 7.0e-3), 3.0e-3, "Micrometer, +-3 um."),
        number("top_tension_n", "top ring: tangential tension", "N", (2.0, 40.0), 8.0, "Ring tester, +-3 %."),
        number("top_crown_radius_m", "top ring: barrel radius of the face", "m", (0.002, 0.5), 0.03, "Contour trace. Default assumed."),
        number("top_crown_offset_m", "top ring: crown above the middle of the face", "m", (-1.0e-3, 1.0e-3), 0.0, "Negative: below."),
        number("top_gap_m", "top ring: end gap, cold", "m", (0.1e-3, 2.0e-3), 0.45e-3, "Ring squared in an unworn part of the bore, feeler gauge, +-0.01 mm."),
        number("second_width_m", "second ring: axial width", "m", (0.5e-3, 3.0e-3), 1.0e-3, "Micrometer."),
        number("second_tension_n", "second ring: tangential tension", "N", (2.0, 40.0), 7.0, "Ring tester, +-3 %."),
        number("second_crown_radius_m", "second ring: radius of the face", "m", (0.002, 0.5), 0.06, "A taper face is entered as a radius with its crown near the lower edge. Default assumed."),
        number("second_crown_offset_m", "second ring: crown above the middle of the face", "m", (-1.0e-3, 1.0e-3), -0.25e-3, "Negative: below. Default assumed."),
        number("second_gap_m", "second ring: end gap, cold", "m", (0.1e-3, 2.0e-3), 0.50e-3, "As for the top ring."),
        number("rail_width_m", "oil ring: width of one rail's face", "m", (0.15e-3, 1.5e-3), 0.45e-3, "Default assumed."),
        number("oil_ring_tension_n", "oil ring: tangential tension of the set", "N", (5.0, 100.0), 24.0, "Two rails and expander, ring tester."),
        number("rail_crown_radius_m", "oil ring: radius of a rail's face", "m", (0.3e-3, 0.1), 6.0e-3, "Default assumed."),
        number("minimum_gap_m", "smallest end gap that the ring maker allows, cold", "m", (0.0, 2.0e-3), 0.35e-3, "The ring maker's figure for this boost and fuel comes first. Default assumed."),
        number("ring_modulus_pa", "rings: modulus of elasticity", "Pa", (0.7e11, 2.4e11), 2.0e11, "Steel 2.0e11, cast iron 1.0e11 to 1.6e11."),
        number("bore_modulus_pa", "bore: modulus of elasticity", "Pa", (0.6e11, 2.4e11), 1.1e11, "Grey iron 1.1e11."),
        number("ring_expansion_per_k", "rings: thermal expansion", "1/K", (5.0e-6, 2.0e-5), 1.15e-5, "From memory."),
        number("bore_expansion_per_k", "bore: thermal expansion", "1/K", (5.0e-6, 3.0e-5), 1.1e-5, "From memory."),
        number("land_clearance_m", "radial clearance of the lands at the gap, hot", "m", (0.05e-3, 1.0e-3), 0.25e-3, ASSUMED),
        number("second_land_height_m", "height of the land between top and second ring", "m", (1.0e-3, 2.0e-2), 4.0e-3, ASSUMED),
        number("third_land_height_m", "height of the land between second and oil ring", "m", (1.0e-3, 2.0e-2), 2.5e-3, ASSUMED),
        number("groove_back_clearance_m", "radial space behind the rings", "m", (0.1e-3, 2.0e-3), 0.5e-3, ASSUMED),
        number("piston_tilt_rad", "tilt of the ring face as the piston rocks", "rad", (1.0e-4, 1.0e-2), 1.5e-3, "Keeps a crown on a worn face. Default assumed."),
        number("full_load_imep_pa", "indicated mean effective pressure at full load", "Pa", (5.0e5, 6.0e6), 3.0e6, "Reference for temperatures and for readings at full load."),
        number("rated_speed_rad_s", "engine speed at full power", "rad/s", (200.0, 1800.0), 838.0, "Reference for temperatures and for readings at full load."),
        number("exhaust_pressure_pa", "absolute exhaust pressure at full load", "Pa", (0.9e5, 6.0e5), 2.0e5, ASSUMED),
        number("liner_rise_k", "bore surface over coolant at top-ring reversal, full load", "K", (20.0, 180.0), 80.0, "180 degC at full load, common practice, no source."),
        number("groove_rise_k", "top-ring groove over coolant, full load", "K", (40.0, 250.0), 110.0, ASSUMED),
        number("oil_factor_pa_s", "oil: factor a of Vogel's law", "Pa.s", (1.0e-6, 1.0e-2), 8.0e-5, "eta = a exp(b/(T - c)). Default: 11.4 mPa.s at 80 degC, 4.5 at 120. Assumed."),
        number("oil_slope_k", "oil: slope b of Vogel's law", "K", (200.0, 3000.0), 868.0, "Fit three measured viscosities."),
        number("oil_pole_k", "oil: pole c of Vogel's law", "K", (100.0, 220.0), 178.15, ""),
        number("limit_gap_growth_m", "limit: growth of the top end gap", "m", (1.0e-5, 1.0e-3), 1.0e-4, "0.10 mm (0.004 in), common practice, no source."),
        number("limit_leak_down_fraction", "limit: leak-down, hot", "1", (0.04, 0.5), 0.10, "8 to 10 %, common practice, no source."),
        number("limit_tension_loss_fraction", "limit: loss of top-ring tension", "1", (0.02, 0.8), 0.20, "Common practice, no source."),
        number("limit_contact_band_fraction", "limit: worn band over the top face width", "1", (0.2, 0.99), 0.70, "Common practice, no source."),
    ]
}

pub(super) fn surfaces() -> Vec<SurfaceField> {
    vec![
        face(
            "top_face",
            "face of the top ring",
            super::TOP_WEAR_COEFFICIENT_M2_N,
        ),
        face(
            "second_face",
            "face of the second ring",
            super::TOP_WEAR_COEFFICIENT_M2_N,
        ),
        face(
            "oil_rail_face",
            "faces of the oil-ring rails",
            super::TOP_WEAR_COEFFICIENT_M2_N,
        ),
        surface(
            "bore",
            "cylinder bore",
            bore_properties(),
            false,
            "As honed.",
        ),
    ]
}

#[rustfmt::skip]
fn face(name: &str, label: &str, wear_coefficient_m2_n: f64) -> SurfaceField {
    let properties = vec![
        number("rq_m", "plateau roughness Rq", "m", (0.01e-6, 1.0e-6), 0.20e-6, "Stylus, +-10 %; with the bore's it makes the composite roughness. Default assumed."),
        number("boundary_friction", "friction coefficient of asperity contact", "1", (0.005, 0.4), 0.10, "From memory."),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-18, 1.0e-12), wear_coefficient_m2_n, "Calibrated: 0.5 um/h of top face over the default duty."),
    ];
    surface(name, label, properties, false, "Nitrided steel unless changed.")
}

#[rustfmt::skip]
fn bore_properties() -> Vec<NumberField> {
    vec![
        number("rq_m", "plateau roughness Rq", "m", (0.02e-6, 1.0e-6), 0.29e-6, "Stylus, +-10 %. Default assumed."),
        number("rpk_m", "reduced peak height Rpk as honed", "m", (0.02e-6, 2.0e-6), 0.35e-6, "Stylus, +-10 % (ISO 21920-2)."),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-18, 1.0e-12), super::BORE_WEAR_COEFFICIENT_M2_N, "Calibrated: 0.35 um/h at top-ring reversal over the default duty."),
        number("running_in_multiplier", "wear coefficient as honed over that run in", "1", (1.0, 50.0), 5.0, "Calibrated with the seating constants."),
        number("asperity_radius_m", "radius of asperity summits", "m", (1.0e-6, 1.0e-3), 35.0e-6, "Assumed; eta beta sigma is then 0.05."),
        number("asperity_density_per_m2", "density of asperity summits", "1/m2", (1.0e7, 1.0e13), 4.0e9, ASSUMED),
    ]
}

//! Inputs: numbers of the spec and properties of the surfaces. The defaults are an invented 2.0 l turbocharged
//! in-line four of 336 kW at 8000 1/min.

use ringland_mechanics::film::pack::{BoreFinish, PackSpec, Ring};
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{
    Finding, NumberField, Specimen, Surface, SurfaceField, error, number, surface,
};

/// How many [`numbers`] there are.
pub const NUMBERS: usize = 37;
/// How many [`bore_properties`] there are.
pub const BORE_PROPERTIES: usize = 6;
/// Default wear coefficient of nitrided faces \[m²/N\], calibrated.
pub const FACE_WEAR_COEFFICIENT_M2_N: f64 = 8.1e-16;
/// Default wear coefficient of the bore \[m²/N\], calibrated.
pub const BORE_WEAR_COEFFICIENT_M2_N: f64 = 1.33e-15;

const ASSUMED: &str = "Assumed.";

/// Numbers of rings, gas path, engine and oil, first on the card of a component that is worn by the rings.
#[rustfmt::skip]
pub fn numbers() -> Vec<NumberField> {
    vec![
        number("bore_m", "bore", "m", (0.03, 0.2), 0.086, "Dial bore gauge."),
        number("stroke_m", "stroke", "m", (0.03, 0.2), 0.086, ""),
        number("rod_length_m", "connecting-rod length", "m", (0.05, 0.5), 0.145, "Between centres."),
        number("compression_ratio", "compression ratio", "1", (5.0, 20.0), 9.5, ""),
        number("cylinders", "cylinders of the engine", "1", (1.0, 16.0), 4.0, "Turns engine torque into mean effective pressure."),
        number("top_width_m", "top ring: axial width", "m", (0.5e-3, 3.0e-3), 1.0e-3, "Micrometer."),
        number("top_thickness_m", "top ring: radial thickness", "m", (1.5e-3, 7.0e-3), 3.0e-3, "Micrometer, +-3 um."),
        number("top_tension_n", "top ring: tangential tension", "N", (2.0, 40.0), 8.0, "Ring tester, +-3 %."),
        number("top_crown_radius_m", "top ring: barrel radius of the face", "m", (0.004, 0.5), 0.03, "Contour trace. Default assumed."),
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
    ]
}

/// Faces of top ring, second ring and oil-ring rails.
pub fn faces() -> Vec<SurfaceField> {
    vec![
        face("top_face", "face of the top ring"),
        face("second_face", "face of the second ring"),
        face("oil_rail_face", "faces of the oil-ring rails"),
    ]
}

#[rustfmt::skip]
fn face(name: &str, label: &str) -> SurfaceField {
    let properties = vec![
        number("rq_m", "plateau roughness Rq", "m", (0.01e-6, 1.0e-6), 0.20e-6, "Stylus, +-10 %; with the bore's it makes the composite roughness. Default assumed."),
        number("boundary_friction", "friction coefficient of asperity contact", "1", (0.005, 0.4), 0.10, "From memory."),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-18, 1.0e-12), FACE_WEAR_COEFFICIENT_M2_N, "Calibrated: 0.5 um/h of top face over the default duty."),
    ];
    surface(name, label, properties, false, "Nitrided steel unless changed.")
}

/// Properties of the bore's surface.
#[rustfmt::skip]
pub fn bore_properties() -> Vec<NumberField> {
    vec![
        number("rq_m", "plateau roughness Rq", "m", (0.02e-6, 1.0e-6), 0.29e-6, "Stylus, +-10 %. Default assumed."),
        number("rpk_m", "reduced peak height Rpk as honed", "m", (0.02e-6, 2.0e-6), 0.35e-6, "Stylus, +-10 % (ISO 21920-2)."),
        number("wear_coefficient_m2_n", "specific wear coefficient, run in", "m2/N", (1.0e-18, 1.0e-12), BORE_WEAR_COEFFICIENT_M2_N, "Calibrated: 0.35 um/h at top-ring reversal over the default duty."),
        number("running_in_multiplier", "wear coefficient as honed over that run in", "1", (1.0, 50.0), 7.8, "Calibrated with the seating constants."),
        number("asperity_radius_m", "radius of asperity summits", "m", (1.0e-6, 1.0e-3), 35.0e-6, "Assumed; eta beta sigma is then 0.05."),
        number("asperity_density_per_m2", "density of asperity summits", "1/m2", (1.0e7, 1.0e13), 4.0e9, ASSUMED),
    ]
}

/// How a face wears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceWear {
    /// Specific wear coefficient once run in \[m²/N\].
    pub wear_coefficient_m2_n: f64,
    /// Spread of ln(wear coefficient) and of ln(Rq).
    pub ln_sd: [f64; 2],
}

/// How the bore wears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoreWear {
    /// Specific wear coefficient once run in \[m²/N\].
    pub wear_coefficient_m2_n: f64,
    /// Wear coefficient as honed over that once run in \[1\].
    pub running_in_multiplier: f64,
    /// Spread of ln(wear coefficient) and of ln(Rq).
    pub ln_sd: [f64; 2],
}

/// Rings and bore of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rings {
    /// What the film sees.
    pub pack: PackSpec,
    /// Cylinders of the engine.
    pub cylinders: f64,
    /// Radial thickness of the top ring \[m\].
    pub top_thickness_m: f64,
    /// Smallest end gap that the ring maker allows, cold \[m\].
    pub minimum_gap_m: f64,
    /// Wear of the faces: top ring, second ring, rails.
    pub faces: [FaceWear; 3],
    /// Wear of the bore.
    pub bore: BoreWear,
}

impl Rings {
    /// Reads the first [`NUMBERS`] numbers and the first four surfaces of a specimen: three faces, then the bore.
    ///
    /// # Errors
    /// A finding when a list is shorter than the card's.
    #[rustfmt::skip]
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let Some(&[
            bore_m, stroke_m, rod_length_m, compression_ratio, cylinders,
            top_width_m, top_thickness_m, top_tension_n, top_crown_radius_m, top_crown_offset_m, top_gap_m,
            second_width_m, second_tension_n, second_crown_radius_m, second_crown_offset_m, second_gap_m,
            rail_width_m, oil_ring_tension_n, rail_crown_radius_m,
            minimum_gap_m, ring_modulus_pa, bore_modulus_pa, ring_expansion_per_k, bore_expansion_per_k,
            land_clearance_m, second_land_height_m, third_land_height_m, groove_back_clearance_m, piston_tilt_rad,
            full_load_imep_pa, rated_speed_rad_s, exhaust_pressure_pa, liner_rise_k, groove_rise_k,
            factor_pa_s, slope_k, pole_k,
        ]) = specimen.numbers.first_chunk::<NUMBERS>() else {
            return Err(short("numbers", specimen.numbers.len(), NUMBERS));
        };
        let [top, second, rail, bore, ..] = specimen.surfaces.as_slice() else {
            return Err(short("surfaces", specimen.surfaces.len(), 4));
        };
        let (top, top_wear) = face_surface("top_face", top)?;
        let (second, second_wear) = face_surface("second_face", second)?;
        let (rail, rail_wear) = face_surface("oil_rail_face", rail)?;
        let (bore, bore_wear) = bore_surface(bore)?;
        let ring = |width_m, tension_n, crown_radius_m, crown_offset_m, [rq_m, boundary_friction]: [f64; 2]| Ring {
            width_m, tension_n, crown_radius_m, crown_offset_m, rq_m, boundary_friction,
        };
        Ok(Self {
            pack: PackSpec {
                bore_m, stroke_m, rod_length_m, compression_ratio,
                rings: [
                    ring(top_width_m, top_tension_n, top_crown_radius_m, top_crown_offset_m, top),
                    ring(second_width_m, second_tension_n, second_crown_radius_m, second_crown_offset_m, second),
                    ring(rail_width_m, 0.5 * oil_ring_tension_n, rail_crown_radius_m, 0.0, rail),
                ],
                top_gap_m, second_gap_m, ring_modulus_pa, bore_modulus_pa, ring_expansion_per_k, bore_expansion_per_k,
                land_clearance_m, second_land_height_m, third_land_height_m, groove_back_clearance_m, piston_tilt_rad,
                full_load_imep_pa, rated_speed_rad_s, exhaust_pressure_pa, liner_rise_k, groove_rise_k,
                oil: Vogel { factor_pa_s, slope_k, pole_k },
                bore,
            },
            cylinders, top_thickness_m, minimum_gap_m,
            faces: [top_wear, second_wear, rail_wear],
            bore: bore_wear,
        })
    }
}

fn short(field: &str, given: usize, expected: usize) -> Vec<Finding> {
    vec![error(
        field,
        given as f64,
        &format!("at least {expected} values, in card order"),
        "give one value for each entry of the card",
    )]
}

fn face_surface(name: &str, surface: &Surface) -> Result<([f64; 2], FaceWear), Vec<Finding>> {
    let values = surface.values.first_chunk::<3>();
    let spreads = surface.ln_sd.first_chunk::<3>();
    let (Some(&[rq_m, friction, wear_coefficient_m2_n]), Some(&[rq_sd, _, wear_sd])) =
        (values, spreads)
    else {
        return Err(short(name, surface.values.len(), 3));
    };
    let wear = FaceWear {
        wear_coefficient_m2_n,
        ln_sd: [wear_sd, rq_sd],
    };
    Ok(([rq_m, friction], wear))
}

#[rustfmt::skip]
fn bore_surface(surface: &Surface) -> Result<(BoreFinish, BoreWear), Vec<Finding>> {
    let values = surface.values.first_chunk::<BORE_PROPERTIES>();
    let spreads = surface.ln_sd.first_chunk::<3>();
    let (
        Some(&[rq_m, rpk_m, wear_coefficient_m2_n, running_in_multiplier, asperity_radius_m, asperity_density_per_m2]),
        Some(&[rq_sd, _, wear_sd]),
    ) = (values, spreads) else {
        return Err(short("bore", surface.values.len(), BORE_PROPERTIES));
    };
    let finish = BoreFinish { rq_m, rpk_m, asperity_radius_m, asperity_density_per_m2 };
    let wear = BoreWear { wear_coefficient_m2_n, running_in_multiplier, ln_sd: [wear_sd, rq_sd] };
    Ok((finish, wear))
}

//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, Specimen, Surface, error};

/// A face that runs on the bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceSurface {
    /// Root-mean-square roughness once run in \[m\].
    pub rq_m: f64,
    /// Friction coefficient of asperity contact on the bore \[1\].
    pub boundary_friction: f64,
    /// Specific wear coefficient once run in \[m²/N\].
    pub wear_coefficient_m2_n: f64,
    /// Spread of ln(wear coefficient) and of ln(Rq).
    pub ln_sd: [f64; 2],
}

/// The bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoreSurface {
    /// Root-mean-square roughness of the plateau \[m\].
    pub rq_m: f64,
    /// Reduced peak height as honed \[m\].
    pub rpk_m: f64,
    /// Specific wear coefficient once run in \[m²/N\].
    pub wear_coefficient_m2_n: f64,
    /// Wear coefficient as honed over that once run in \[1\].
    pub running_in_multiplier: f64,
    /// Radius of asperity summits \[m\].
    pub asperity_radius_m: f64,
    /// Density of asperity summits \[1/m²\].
    pub asperity_density_per_m2: f64,
    /// Spread of ln(wear coefficient) and of ln(Rq).
    pub ln_sd: [f64; 2],
}

/// Geometry of one ring (or rail) and its face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Axial width \[m\].
    pub width_m: f64,
    /// Tangential tension \[N\]; of one rail for the oil ring.
    pub tension_n: f64,
    /// Crown radius of the new face \[m\].
    pub crown_radius_m: f64,
    /// Crown above the middle of the face \[m\], negative below.
    pub crown_offset_m: f64,
    /// The face.
    pub surface: FaceSurface,
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub bore_m: f64,
    pub stroke_m: f64,
    pub rod_length_m: f64,
    pub compression_ratio: f64,
    pub cylinders: f64,
    /// Top ring, second ring, one rail.
    pub rings: [Ring; 3],
    pub top_thickness_m: f64,
    pub top_gap_m: f64,
    pub second_gap_m: f64,
    pub minimum_gap_m: f64,
    pub ring_modulus_pa: f64,
    pub bore_modulus_pa: f64,
    pub ring_expansion_per_k: f64,
    pub bore_expansion_per_k: f64,
    pub land_clearance_m: f64,
    pub second_land_height_m: f64,
    pub third_land_height_m: f64,
    pub groove_back_clearance_m: f64,
    pub piston_tilt_rad: f64,
    pub full_load_imep_pa: f64,
    pub rated_speed_rad_s: f64,
    pub exhaust_pressure_pa: f64,
    pub liner_rise_k: f64,
    pub groove_rise_k: f64,
    pub oil: Vogel,
    pub limit_gap_growth_m: f64,
    pub limit_leak_down_fraction: f64,
    pub limit_tension_loss_fraction: f64,
    pub limit_contact_band_fraction: f64,
    pub bore: BoreSurface,
}

/// How many numbers the card has.
pub const NUMBERS: usize = 41;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let wrong = |field: &str, given: usize, expected: usize| {
            vec![error(
                field,
                given as f64,
                &format!("{expected} values, in card order"),
                "give one value for each entry of the card",
            )]
        };
        let numbers: &[f64; NUMBERS] = specimen
            .numbers
            .as_slice()
            .try_into()
            .map_err(|_| wrong("numbers", specimen.numbers.len(), NUMBERS))?;
        let [top, second, rail, bore] = specimen.surfaces.as_slice() else {
            return Err(wrong("surfaces", specimen.surfaces.len(), 4));
        };
        let faces = [
            face(top).ok_or_else(|| wrong("top_face", top.values.len(), 3))?,
            face(second).ok_or_else(|| wrong("second_face", second.values.len(), 3))?,
            face(rail).ok_or_else(|| wrong("oil_rail_face", rail.values.len(), 3))?,
        ];
        let bore = bore_surface(bore).ok_or_else(|| wrong("bore", bore.values.len(), 6))?;
        Ok(Self::assemble(numbers, faces, bore))
    }

    #[rustfmt::skip]
    fn assemble(numbers: &[f64; NUMBERS], faces: [FaceSurface; 3], bore: BoreSurface) -> Self {
        let [
            bore_m, stroke_m, rod_length_m, compression_ratio, cylinders,
            top_width_m, top_thickness_m, top_tension_n, top_crown_radius_m, top_crown_offset_m, top_gap_m,
            second_width_m, second_tension_n, second_crown_radius_m, second_crown_offset_m, second_gap_m,
            rail_width_m, oil_ring_tension_n, rail_crown_radius_m,
            minimum_gap_m, ring_modulus_pa, bore_modulus_pa, ring_expansion_per_k, bore_expansion_per_k,
            land_clearance_m, second_land_height_m, third_land_height_m, groove_back_clearance_m, piston_tilt_rad,
            full_load_imep_pa, rated_speed_rad_s, exhaust_pressure_pa, liner_rise_k, groove_rise_k,
            factor_pa_s, slope_k, pole_k,
            limit_gap_growth_m, limit_leak_down_fraction, limit_tension_loss_fraction, limit_contact_band_fraction,
        ] = *numbers;
        let [top, second, rail] = faces;
        let ring = |width_m, tension_n, crown_radius_m, crown_offset_m, surface| Ring {
            width_m, tension_n, crown_radius_m, crown_offset_m, surface,
        };
        Self {
            bore_m, stroke_m, rod_length_m, compression_ratio, cylinders,
            rings: [
                ring(top_width_m, top_tension_n, top_crown_radius_m, top_crown_offset_m, top),
                ring(second_width_m, second_tension_n, second_crown_radius_m, second_crown_offset_m, second),
                ring(rail_width_m, 0.5 * oil_ring_tension_n, rail_crown_radius_m, 0.0, rail),
            ],
            top_thickness_m, top_gap_m, second_gap_m, minimum_gap_m,
            ring_modulus_pa, bore_modulus_pa, ring_expansion_per_k, bore_expansion_per_k,
            land_clearance_m, second_land_height_m, third_land_height_m, groove_back_clearance_m, piston_tilt_rad,
            full_load_imep_pa, rated_speed_rad_s, exhaust_pressure_pa, liner_rise_k, groove_rise_k,
            oil: Vogel { factor_pa_s, slope_k, pole_k },
            limit_gap_growth_m, limit_leak_down_fraction, limit_tension_loss_fraction,
            limit_contact_band_fraction, bore,
        }
    }

    /// Swept volume of one cylinder \[m³\].
    pub fn displacement_m3(&self) -> f64 {
        0.25 * std::f64::consts::PI * self.bore_m * self.bore_m * self.stroke_m
    }

    /// Set-back of the edges of a new top face from its crown \[m\], for a crown in the middle.
    pub fn crown_m(&self, ring: usize) -> f64 {
        let ring = &self.rings[ring];
        ring.width_m * ring.width_m / (8.0 * ring.crown_radius_m)
    }

    /// Set-back that piston tilt keeps on a worn face \[m\]: that of a parabola with the slope of the tilt at its
    /// edges, or the new one where that is flatter.
    pub fn kept_crown_m(&self, ring: usize) -> f64 {
        (0.25 * self.rings[ring].width_m * self.piston_tilt_rad).min(0.999 * self.crown_m(ring))
    }

    /// Wear of a ring's bore path over the wear of the top face: the same contact, the two wear coefficients.
    pub fn bore_share(&self) -> f64 {
        self.bore.wear_coefficient_m2_n / self.rings[0].surface.wear_coefficient_m2_n
    }
}

fn face(surface: &Surface) -> Option<FaceSurface> {
    let [rq_m, boundary_friction, wear_coefficient_m2_n] = *surface.values.as_slice() else {
        return None;
    };
    let [rq_sd, _, wear_sd] = *surface.ln_sd.as_slice() else {
        return None;
    };
    Some(FaceSurface {
        rq_m,
        boundary_friction,
        wear_coefficient_m2_n,
        ln_sd: [wear_sd, rq_sd],
    })
}

fn bore_surface(surface: &Surface) -> Option<BoreSurface> {
    let [
        rq_m,
        rpk_m,
        wear_coefficient_m2_n,
        running_in_multiplier,
        asperity_radius_m,
        asperity_density_per_m2,
    ] = *surface.values.as_slice()
    else {
        return None;
    };
    let [rq_sd, _, wear_sd, ..] = *surface.ln_sd.as_slice() else {
        return None;
    };
    Some(BoreSurface {
        rq_m,
        rpk_m,
        wear_coefficient_m2_n,
        running_in_multiplier,
        asperity_radius_m,
        asperity_density_per_m2,
        ln_sd: [wear_sd, rq_sd],
    })
}

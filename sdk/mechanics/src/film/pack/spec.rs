use std::f64::consts::PI;

use crate::oil::Vogel;

/// Share of the oil temperature in the temperature of the film at the cool end of the bore; the rest is
/// the coolant's. Assumed.
pub const OIL_SHARE: f64 = 0.5;
/// Exponent of indicated power in the rise of bore and groove temperature. Assumed.
pub const RISE_EXPONENT: f64 = 0.6;
/// Variance that fresh peaks of height Rpk add to the plateau, over Rpk². Assumed.
pub const PEAK_VARIANCE: f64 = 1.0;
/// Share of the surface that the fresh peaks occupy (Mr1 of ISO 21920-2); half of it times Rpk is their
/// volume over area. Assumed.
pub const PEAK_SHARE: f64 = 0.08;
/// Depth that face and bore have to wear to follow each other's form, beyond the peaks \[m\]. Calibrated: an untreated pack of the
/// default engine is four fifths seated by one 12 s pull.
pub const FORM_DEPTH_M: f64 = 1.0e-8;
/// Crown lost for each depth worn off the middle of the face: the rest wears off all over it as the piston
/// tilts. Assumed.
pub const CROWN_LOSS: f64 = 0.15;
/// Effective leak area round the flanks of each seated compression ring \[m²\]. Calibrated: 85 l/min of blow-by of the default
/// engine at full load.
pub const FLANK_AREA_M2: f64 = 2.4e-7;
/// Effective leak area over each unseated face \[m²\]. Calibrated: twice that blow-by as built.
pub const UNSEATED_AREA_M2: f64 = 2.9e-7;
/// Coolant temperature at which gaps and lands are taken: a warm engine \[K\].
pub const NOMINAL_COOLANT_K: f64 = 363.15;
/// Oil temperature of a warm engine \[K\].
pub const NOMINAL_OIL_K: f64 = 378.15;
/// Temperature at which parts are measured \[K\].
const COLD_K: f64 = 293.15;

/// One ring, or one rail of the oil ring.
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
    /// Root-mean-square roughness of the face once run in \[m\].
    pub rq_m: f64,
    /// Friction coefficient of asperity contact on the bore \[1\].
    pub boundary_friction: f64,
}

/// Finish of the bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoreFinish {
    /// Root-mean-square roughness of the plateau \[m\].
    pub rq_m: f64,
    /// Reduced peak height as honed \[m\].
    pub rpk_m: f64,
    /// Radius of asperity summits \[m\].
    pub asperity_radius_m: f64,
    /// Density of asperity summits \[1/m²\].
    pub asperity_density_per_m2: f64,
}

/// Rings and bore of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackSpec {
    /// Bore \[m\].
    pub bore_m: f64,
    /// Stroke \[m\].
    pub stroke_m: f64,
    /// Connecting-rod length \[m\].
    pub rod_length_m: f64,
    /// Compression ratio \[1\].
    pub compression_ratio: f64,
    /// Top ring, second ring, one of two equal rails.
    pub rings: [Ring; 3],
    /// End gap of the top ring, cold \[m\].
    pub top_gap_m: f64,
    /// End gap of the second ring, cold \[m\].
    pub second_gap_m: f64,
    /// Modulus of the rings \[Pa\].
    pub ring_modulus_pa: f64,
    /// Modulus of the bore \[Pa\].
    pub bore_modulus_pa: f64,
    /// Thermal expansion of the rings \[1/K\].
    pub ring_expansion_per_k: f64,
    /// Thermal expansion of the bore \[1/K\].
    pub bore_expansion_per_k: f64,
    /// Radial clearance of the lands at the gap, hot \[m\].
    pub land_clearance_m: f64,
    /// Height of the land between top and second ring \[m\].
    pub second_land_height_m: f64,
    /// Height of the land between second and oil ring \[m\].
    pub third_land_height_m: f64,
    /// Radial space behind the rings \[m\].
    pub groove_back_clearance_m: f64,
    /// Tilt of the ring face as the piston rocks \[rad\].
    pub piston_tilt_rad: f64,
    /// Net indicated mean effective pressure at full load \[Pa\].
    pub full_load_imep_pa: f64,
    /// Engine speed at full power \[rad/s\].
    pub rated_speed_rad_s: f64,
    /// Absolute exhaust pressure at full load \[Pa\].
    pub exhaust_pressure_pa: f64,
    /// Bore surface over coolant at top-ring reversal, full load \[K\].
    pub liner_rise_k: f64,
    /// Top-ring groove over coolant, full load \[K\].
    pub groove_rise_k: f64,
    /// Oil.
    pub oil: Vogel,
    /// Finish of the bore.
    pub bore: BoreFinish,
}

impl PackSpec {
    /// Swept volume of the cylinder \[m³\].
    pub fn displacement_m3(&self) -> f64 {
        0.25 * PI * self.bore_m * self.bore_m * self.stroke_m
    }

    /// Set-back of the edges of a new face from its crown \[m\], for a crown in the middle.
    pub fn crown_m(&self, ring: usize) -> f64 {
        let ring = &self.rings[ring];
        ring.width_m * ring.width_m / (8.0 * ring.crown_radius_m)
    }

    /// Set-back that piston tilt keeps on a worn face \[m\]: that of a parabola with the slope of the tilt at its
    /// edges, or the new one where that is flatter.
    pub fn kept_crown_m(&self, ring: usize) -> f64 {
        (0.25 * self.rings[ring].width_m * self.piston_tilt_rad).min(0.999 * self.crown_m(ring))
    }

    /// Face wear over which the crown of a ring falls towards the one that tilt keeps by a factor e \[m\].
    pub fn crown_length_m(&self, ring: usize) -> f64 {
        (self.crown_m(ring) - self.kept_crown_m(ring)) / CROWN_LOSS
    }

    /// Wear of the bore at top-ring reversal that seats it to 1 − 1/e \[m\]: peaks, and form.
    pub fn seating_depth_m(&self) -> f64 {
        0.5 * PEAK_SHARE * self.bore.rpk_m + FORM_DEPTH_M
    }

    /// How far the middle of a ring lies below that of the top ring \[m\]; for the oil ring, the middle between its rails, which
    /// stand four rail widths apart over the whole groove.
    pub fn below_top_ring_m(&self, ring: usize) -> f64 {
        let [top, second, rail] = self.rings.map(|ring| ring.width_m);
        let to_second = 0.5 * top + self.second_land_height_m + 0.5 * second;
        match ring {
            0 => 0.0,
            1 => to_second,
            _ => to_second + 0.5 * second + self.third_land_height_m + 2.0 * rail,
        }
    }

    /// Indicated power over that of full load, to the exponent of temperature rise.
    pub fn power_share(&self, speed_rad_s: f64, imep_pa: f64) -> f64 {
        let reference = self.full_load_imep_pa * self.rated_speed_rad_s;
        libm::pow(imep_pa.max(0.0) * speed_rad_s / reference, RISE_EXPONENT)
    }

    /// End gap at running temperature \[m\]: what cold gap is left when ring and bore have grown, at full load.
    pub fn hot_gap_m(&self, cold_m: f64) -> f64 {
        let ring_k = NOMINAL_COOLANT_K + self.groove_rise_k - COLD_K;
        let bore_k = NOMINAL_COOLANT_K + 0.5 * self.liner_rise_k - COLD_K;
        let growth = self.ring_expansion_per_k * ring_k - self.bore_expansion_per_k * bore_k;
        cold_m - PI * self.bore_m * growth
    }
}

/// Viscosity along the bore at one operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmTemperature {
    /// Temperature at the cool end \[K\].
    pub base_k: f64,
    /// Rise at top-ring reversal \[K\].
    pub rise_k: f64,
    /// Factor on viscosity for fuel in the oil.
    pub dilution: f64,
}

impl FilmTemperature {
    /// For coolant and oil temperature \[K\] at an operating point.
    pub fn new(
        spec: &PackSpec,
        coolant_k: f64,
        oil_k: f64,
        speed_rad_s: f64,
        imep_pa: f64,
    ) -> Self {
        Self {
            base_k: coolant_k + OIL_SHARE * (oil_k - coolant_k),
            rise_k: spec.liner_rise_k * spec.power_share(speed_rad_s, imep_pa),
            dilution: 1.0,
        }
    }

    /// For a warm engine.
    pub fn nominal(spec: &PackSpec, speed_rad_s: f64, imep_pa: f64) -> Self {
        Self::new(spec, NOMINAL_COOLANT_K, NOMINAL_OIL_K, speed_rad_s, imep_pa)
    }

    /// Viscosity \[Pa·s\] at top-ring reversal.
    pub fn top_viscosity_pa_s(&self, spec: &PackSpec) -> f64 {
        self.viscosity_pa_s(spec, 0.0)
    }

    /// Viscosity \[Pa·s\] at a share of the stroke below top dead centre. The rise falls with its square.
    pub(super) fn viscosity_pa_s(&self, spec: &PackSpec, depth: f64) -> f64 {
        let left = 1.0 - depth;
        let temp_k = self.base_k + self.rise_k * left * left;
        self.dilution * spec.oil.viscosity_pa_s(temp_k)
    }
}

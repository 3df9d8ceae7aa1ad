//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::clutch::judder::Driveline;
use ringland_mechanics::clutch::torque::{Annulus, capacity_n_m};
use ringland_plugin::{Finding, Specimen, properties, wrong_count};

use crate::constants as c;
use crate::diaphragm::Diaphragm;
use crate::material::Materials;

/// How many numbers the card has.
pub const NUMBERS: usize = 32;
const CHOICES: usize = 1;
const SURFACES: usize = 2;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub discs: usize,
    pub face: Annulus,
    pub pad_share: f64,
    pub lining_m: f64,
    pub core_m: f64,
    pub floater_m: f64,
    pub pressure_plate_m: f64,
    pub flywheel_m: f64,
    pub hot_band_factor: f64,
    pub side_imbalance: f64,
    pub clamp_n: f64,
    pub diaphragm: Diaphragm,
    pub finger_ratio: f64,
    pub engine_torque_n_m: f64,
    pub driveline: Driveline,
    pub cooling_w_m2_k: f64,
    pub cooled_area_m2: f64,
    pub housing_rise_k: f64,
    pub spline_radius_m: f64,
    pub spline_area_m2: f64,
    pub axis_offset_m: f64,
    pub limit_stack_wear_m: f64,
    pub limit_cone_m: f64,
    pub limit_finger_m: f64,
    pub limit_plate_k: f64,
    pub limit_spline_wear_m: f64,
    pub materials: Materials,
    pub friction: f64,
    pub slope_s_m: f64,
    pub wear_m2_n: f64,
    pub running_in: f64,
    /// Spread of ln(stack wear) that comes from the surface.
    pub wear_ln_sd: f64,
    /// Spread of ln(friction).
    pub friction_ln_sd: f64,
    pub spline_wear_m2_n: f64,
    pub coating_m: f64,
    pub spline_ln_sd: f64,
}

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let Ok(numbers) = <&[f64; NUMBERS]>::try_from(specimen.numbers.as_slice()) else {
            return Err(wrong_count("numbers", specimen.numbers.len(), NUMBERS));
        };
        let &[lining] = specimen.choices.as_slice() else {
            return Err(wrong_count("choices", specimen.choices.len(), CHOICES));
        };
        let [friction_face, splines] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), SURFACES));
        };
        let ([friction, slope_s_m, wear_m2_n, running_in], [friction_ln_sd, _, wear_ln_sd, _]) =
            properties("friction_face", friction_face)?;
        let ([spline_wear_m2_n, coating_m], [spline_ln_sd, _]) = properties("lugs", splines)?;
        let &[
            discs,
            outer_diameter_m,
            inner_diameter_m,
            pad_share,
            lining_m,
            core_m,
            floater_m,
            pressure_plate_m,
            flywheel_m,
            hot_band_factor,
            side_imbalance,
            clamp_n,
            height_m,
            thickness_m,
            deflection_m,
            finger_ratio,
            engine_torque_n_m,
            driven_kg_m2,
            load_kg_m2,
            stiffness_n_m,
            damping_n_m_s,
            cooling_w_m2_k,
            cooled_area_m2,
            housing_rise_k,
            spline_radius_m,
            spline_area_m2,
            axis_offset_m,
            limit_stack_wear_m,
            limit_cone_m,
            limit_finger_m,
            limit_plate_k,
            limit_spline_wear_m,
        ] = numbers;
        Ok(Self {
            discs: discs.round().clamp(1.0, 4.0) as usize,
            face: Annulus {
                outer_m: 0.5 * outer_diameter_m,
                inner_m: 0.5 * inner_diameter_m,
            },
            pad_share,
            lining_m,
            core_m,
            floater_m,
            pressure_plate_m,
            flywheel_m,
            hot_band_factor,
            side_imbalance,
            clamp_n,
            diaphragm: Diaphragm {
                height_m,
                thickness_m,
                deflection_m,
            },
            finger_ratio,
            engine_torque_n_m,
            driveline: Driveline {
                driven_kg_m2,
                load_kg_m2,
                stiffness_n_m,
                damping_n_m_s,
            },
            cooling_w_m2_k,
            cooled_area_m2,
            housing_rise_k,
            spline_radius_m,
            spline_area_m2,
            axis_offset_m,
            limit_stack_wear_m,
            limit_cone_m,
            limit_finger_m,
            limit_plate_k,
            limit_spline_wear_m,
            materials: Materials::of(lining),
            friction,
            slope_s_m,
            wear_m2_n,
            running_in,
            wear_ln_sd,
            friction_ln_sd,
            spline_wear_m2_n,
            coating_m,
            spline_ln_sd,
        })
    }

    /// Friction faces.
    pub fn faces(&self) -> f64 {
        2.0 * self.discs as f64
    }

    /// Area of all faces \[m²\], without gaps between pads taken off.
    pub fn area_m2(&self) -> f64 {
        self.faces() * self.face.area_m2()
    }

    /// Volume worn for each unit of heat, cold and run in \[m³/J\]: J. F. Archard's law with the work of friction for load times sliding.
    pub fn wear_m3_j(&self) -> f64 {
        self.wear_m2_n / self.friction
    }

    /// Share of the friction that a dose of glazing leaves.
    pub fn friction_left(&self, glaze_dose: f64) -> f64 {
        1.0 - self.materials.lining.glazing_loss * glazed(glaze_dose)
    }

    /// Clamp load \[N\] of a worn stack.
    pub fn clamp_worn_n(&self, stack_wear_m: f64) -> f64 {
        self.clamp_n * self.diaphragm.clamp_share(stack_wear_m)
    }

    /// Torque that the clutch holds \[N·m\], worn and glazed. Faces are taken to have worn in: uniform wear.
    pub fn capacity_n_m(&self, stack_wear_m: f64, glaze_dose: f64) -> f64 {
        let friction = self.friction * self.friction_left(glaze_dose);
        let radius_m = self.face.uniform_wear_radius_m();
        capacity_n_m(
            self.faces(),
            friction,
            self.clamp_worn_n(stack_wear_m),
            radius_m,
        )
    }

    /// Slope of friction over speed \[s/m\], glazed.
    pub fn glazed_slope_s_m(&self, glaze_dose: f64) -> f64 {
        self.slope_s_m + c::GLAZED_SLOPE_S_M * glazed(glaze_dose)
    }
}

/// How far glazing has gone, 0 to 1.
fn glazed(dose: f64) -> f64 {
    -libm::expm1(-dose)
}

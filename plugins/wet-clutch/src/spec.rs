//! The specimen as named numbers, in the order of the card.

use ringland_plugin::{Finding, Specimen, properties, wrong_count};

/// How many numbers the card has.
pub const NUMBERS: usize = 32;
/// Lining, separator.
const SURFACES: usize = 2;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub faces: f64,
    pub outer_m: f64,
    pub inner_m: f64,
    pub clamp_n: f64,
    pub lining_m: f64,
    pub core_m: f64,
    pub separator_m: f64,
    pub flatness_m: f64,
    pub groove_count: f64,
    pub groove_width_m: f64,
    pub groove_depth_m: f64,
    pub oil_flow_m3_s: f64,
    pub oil_volume_m3: f64,
    pub lining_conductivity_w_m_k: f64,
    pub lining_heat_capacity_j_m3_k: f64,
    pub lining_modulus_pa: f64,
    pub activation_j_mol: f64,
    pub glaze_time_s: f64,
    pub energy_life: f64,
    pub energy_exponent: f64,
    pub launch_share: f64,
    pub shift_share: f64,
    pub judder_torque_n_m: f64,
    pub driven_kg_m2: f64,
    pub load_kg_m2: f64,
    pub stiffness_n_m: f64,
    pub damping_n_m_s: f64,
    pub limit_friction: f64,
    pub limit_wear_m: f64,
    pub limit_flatness_m: f64,
    pub limit_judder: f64,
    pub limit_acid: f64,
    pub friction: f64,
    /// Spread of the logarithm of the friction coefficient.
    pub friction_ln_sd: f64,
    pub slope_s_m: f64,
    pub wear_m2_n: f64,
    /// Spread of the logarithm of the wear coefficient.
    pub wear_ln_sd: f64,
    pub ra_m: f64,
    /// Spread of the logarithm of the separator's roughness.
    pub ra_ln_sd: f64,
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
        let [lining, separator] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), SURFACES));
        };
        let ([friction, slope_s_m, wear_m2_n], [friction_ln_sd, _, wear_ln_sd]) =
            properties("lining", lining)?;
        let ([ra_m], [ra_ln_sd]) = properties("separator", separator)?;
        let [
            faces,
            outer_m,
            inner_m,
            clamp_n,
            lining_m,
            core_m,
            separator_m,
            flatness_m,
            groove_count,
            groove_width_m,
            groove_depth_m,
            oil_flow_m3_s,
            oil_volume_m3,
            lining_conductivity_w_m_k,
            lining_heat_capacity_j_m3_k,
            lining_modulus_pa,
            activation_j_mol,
            glaze_time_s,
            energy_life,
            energy_exponent,
            launch_share,
            shift_share,
            judder_torque_n_m,
            driven_kg_m2,
            load_kg_m2,
            stiffness_n_m,
            damping_n_m_s,
            limit_friction,
            limit_wear_m,
            limit_flatness_m,
            limit_judder,
            limit_acid,
        ] = *numbers;
        Ok(Self {
            faces,
            outer_m,
            inner_m,
            clamp_n,
            lining_m,
            core_m,
            separator_m,
            flatness_m,
            groove_count,
            groove_width_m,
            groove_depth_m,
            oil_flow_m3_s,
            oil_volume_m3,
            lining_conductivity_w_m_k,
            lining_heat_capacity_j_m3_k,
            lining_modulus_pa,
            activation_j_mol,
            glaze_time_s,
            energy_life,
            energy_exponent,
            launch_share,
            shift_share,
            judder_torque_n_m,
            driven_kg_m2,
            load_kg_m2,
            stiffness_n_m,
            damping_n_m_s,
            limit_friction,
            limit_wear_m,
            limit_flatness_m,
            limit_judder,
            limit_acid,
            friction,
            friction_ln_sd,
            slope_s_m,
            wear_m2_n,
            wear_ln_sd,
            ra_m,
            ra_ln_sd,
        })
    }
}

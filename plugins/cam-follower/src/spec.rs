//! The specimen as named numbers, in the order of the card.

use ringland_engine::valvetrain::{self, ValveTrain};
use ringland_engine::{OIL_NUMBERS, oil};
use ringland_mechanics::contact::{GreenwoodTripp, effective_modulus_pa};
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, Specimen, error};

use crate::constants::{PITTING_STRENGTH, POISSON};

/// A running surface.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Face {
    pub rq_m: f64,
    pub hardness_pa: f64,
    pub boundary_friction: f64,
    pub wear_coefficient_m2_n: f64,
    pub running_in_multiplier: f64,
    /// Spread of ln(Rq), ln(hardness), ln(friction), ln(wear coefficient).
    pub ln_sd: [f64; 4],
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub train: ValveTrain,
    pub oil: Vogel,
    pub contact_width_m: f64,
    pub line_load_factor: f64,
    pub modulus_pa: f64,
    pub pressure_viscosity_per_pa: f64,
    pub bulk_rise_k: f64,
    pub roller_bore_radius_m: f64,
    pub needle_friction: f64,
    pub limit_lobe_wear_m: f64,
    pub limit_follower_wear_m: f64,
    pub limit_lash_growth_m: f64,
    pub limit_contact_temp_k: f64,
    pub lobe: Face,
    pub follower: Face,
    pub asperity_radius_m: f64,
    pub asperity_density_per_m2: f64,
    pub coating_thickness_m: f64,
}

/// Numbers of lobe and follower, after those of train and oil.
pub const OWN_NUMBERS: usize = 11;

impl Spec {
    /// Reads a specimen; only the lengths of its lists and the lift table are judged here.
    ///
    /// # Errors
    /// A finding when a list does not have the card's length, or the table is no lift curve.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let wrong = |field: &str, given: usize, expected: usize| {
            vec![error(
                field,
                given as f64,
                &format!("{expected} values, in card order"),
                "give one value for each entry of the card",
            )]
        };
        let train = ValveTrain::read(specimen)?;
        let total = valvetrain::NUMBERS + OIL_NUMBERS + OWN_NUMBERS;
        let given = specimen.numbers.len();
        let rest = specimen
            .numbers
            .get(valvetrain::NUMBERS..)
            .unwrap_or_default();
        let Some((&oil_numbers, own)) = rest.split_first_chunk::<OIL_NUMBERS>() else {
            return Err(wrong("numbers", given, total));
        };
        let &[
            contact_width_m,
            line_load_factor,
            modulus_pa,
            pressure_viscosity_per_pa,
            bulk_rise_k,
            roller_bore_m,
            needle_friction,
            limit_lobe_wear_m,
            limit_follower_wear_m,
            limit_lash_growth_m,
            limit_contact_temp_k,
        ] = own
        else {
            return Err(wrong("numbers", given, total));
        };
        let [lobe_surface, follower_surface] = specimen.surfaces.as_slice() else {
            return Err(wrong("surfaces", specimen.surfaces.len(), 2));
        };
        let (
            Some((lobe, &[asperity_radius_m, asperity_density_per_m2])),
            Some((follower, &[coating_thickness_m])),
        ) = (
            face(&lobe_surface.values, &lobe_surface.ln_sd),
            face(&follower_surface.values, &follower_surface.ln_sd),
        )
        else {
            return Err(wrong("lobe", lobe_surface.values.len(), 7));
        };
        Ok(Self {
            train,
            oil: oil(oil_numbers),
            contact_width_m,
            line_load_factor,
            modulus_pa,
            pressure_viscosity_per_pa,
            bulk_rise_k,
            roller_bore_radius_m: 0.5 * roller_bore_m,
            needle_friction,
            limit_lobe_wear_m,
            limit_follower_wear_m,
            limit_lash_growth_m,
            limit_contact_temp_k,
            lobe,
            follower,
            asperity_radius_m,
            asperity_density_per_m2,
            coating_thickness_m,
        })
    }

    /// Contact of the two surfaces, their composite roughness multiplied.
    pub fn rough(&self, roughness: f64) -> GreenwoodTripp {
        GreenwoodTripp {
            sigma_m: roughness * self.lobe.rq_m.hypot(self.follower.rq_m),
            radius_m: self.asperity_radius_m,
            density_per_m2: self.asperity_density_per_m2,
            modulus_pa: effective_modulus_pa(
                (self.modulus_pa, POISSON),
                (self.modulus_pa, POISSON),
            ),
        }
    }

    /// Friction of asperity contact: that of the face that shears more easily.
    pub fn boundary_friction(&self) -> f64 {
        self.lobe
            .boundary_friction
            .min(self.follower.boundary_friction)
    }

    /// Fall of viscosity with temperature \[Pa·s/K\] where the oil has a viscosity: from Vogel's law.
    pub fn oil_slope_pa_s_k(&self, viscosity_pa_s: f64) -> f64 {
        let log = libm::log(viscosity_pa_s / self.oil.factor_pa_s).max(0.0);
        viscosity_pa_s * log * log / self.oil.slope_k
    }

    /// Wear of the follower at which its life ends \[m\]: its limit, or its coating.
    pub fn follower_limit_m(&self) -> f64 {
        if self.coating_thickness_m > 0.0 {
            self.limit_follower_wear_m.min(self.coating_thickness_m)
        } else {
            self.limit_follower_wear_m
        }
    }
}

impl Face {
    /// Hertz pressure that half of such parts stand for 1e7 turns \[Pa\].
    pub fn pitting_strength_pa(&self) -> f64 {
        PITTING_STRENGTH * self.hardness_pa
    }
}

/// The properties that both surfaces have, and what further ones there are.
fn face<'a, const MORE: usize>(
    values: &'a [f64],
    ln_sd: &[f64],
) -> Option<(Face, &'a [f64; MORE])> {
    let (
        &[
            rq_m,
            hardness_pa,
            boundary_friction,
            wear_coefficient_m2_n,
            running_in_multiplier,
        ],
        more,
    ) = values.split_first_chunk::<5>()?;
    let &[rq_sd, hardness_sd, friction_sd, wear_sd, ..] = ln_sd else {
        return None;
    };
    let face = Face {
        rq_m,
        hardness_pa,
        boundary_friction,
        wear_coefficient_m2_n,
        running_in_multiplier,
        ln_sd: [rq_sd, hardness_sd, friction_sd, wear_sd],
    };
    Some((face, more.try_into().ok()?))
}

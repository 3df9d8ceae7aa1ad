//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::contact::{GreenwoodTripp, effective_modulus_pa};
use ringland_mechanics::fatigue::ResidualProfile;
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, Specimen, error};

use crate::constants::{CASE_RESIDUAL_PA, POISSON, RQ_PER_RA};

/// A running surface.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Face {
    pub ra_m: f64,
    pub boundary_friction: f64,
    pub wear_coefficient_m2_n: f64,
    pub running_in_multiplier: f64,
    pub hardness_pa: f64,
    pub case_depth_m: f64,
    /// Spread of ln(Ra), ln(friction), ln(wear coefficient).
    pub ln_sd: [f64; 3],
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub pinion_teeth: f64,
    pub ring_teeth: f64,
    pub offset_m: f64,
    pub ring_outer_diameter_m: f64,
    pub face_width_m: f64,
    pub pinion_spiral_rad: f64,
    /// Drive, coast.
    pub pressure_angle_rad: [f64; 2],
    pub profile_shift: f64,
    pub thickness_shift: f64,
    pub edge_radius: f64,
    pub face_load_factor: f64,
    pub dynamic_factor: f64,
    pub modulus_pa: f64,
    pub contact_limit_pa: f64,
    pub root_limit_pa: f64,
    pub backlash_m: f64,
    pub drag_n_m: f64,
    pub preload_m: f64,
    pub carrier_settling_m: f64,
    pub settling_turns: f64,
    pub pattern_per_m: f64,
    pub rated_torque_n_m: f64,
    pub oil: Vogel,
    pub pressure_viscosity_per_pa: f64,
    pub limit_backlash_m: f64,
    pub limit_backlash_growth_m: f64,
    pub limit_drag_fraction: f64,
    pub limit_pattern_shift: f64,
    pub limit_contact_temp_k: f64,
    pub pinion: Face,
    pub ring: Face,
    pub asperity_radius_m: f64,
    pub asperity_density_per_m2: f64,
    pub root_ra_m: f64,
    pub root_ra_ln_sd: f64,
    /// Residual stress at the root over that of a case as carburised.
    pub residual: ResidualProfile,
}

/// Numbers of the card.
pub const NUMBERS: usize = 32;

/// The surfaces, read.
struct Surfaces {
    pinion: Face,
    ring: Face,
    /// Radius \[m\] and density \[1/m²\] of asperity summits.
    summits: [f64; 2],
    /// Roughness of the roots \[m\] and spread of its logarithm.
    root_ra: [f64; 2],
    residual: ResidualProfile,
}

impl Spec {
    /// Reads a specimen; only the lengths of its lists and the residual-stress profile are judged here.
    ///
    /// # Errors
    /// A finding when a list does not have the card's length, or depths of the profile do not rise.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let Ok(numbers) = <&[f64; NUMBERS]>::try_from(specimen.numbers.as_slice()) else {
            return Err(wrong("numbers", specimen.numbers.len(), NUMBERS));
        };
        Ok(Self::of(*numbers, surfaces(specimen)?))
    }

    fn of(numbers: [f64; NUMBERS], surfaces: Surfaces) -> Self {
        let [
            pinion_teeth,
            ring_teeth,
            offset_m,
            ring_outer_diameter_m,
            face_width_m,
            pinion_spiral_rad,
            drive_rad,
            coast_rad,
            profile_shift,
            thickness_shift,
            edge_radius,
            face_load_factor,
            dynamic_factor,
            modulus_pa,
            contact_limit_pa,
            root_limit_pa,
            backlash_m,
            drag_n_m,
            preload_m,
            carrier_settling_m,
            settling_turns,
            pattern_per_m,
            rated_torque_n_m,
            factor_pa_s,
            slope_k,
            pole_k,
            pressure_viscosity_per_pa,
            limit_backlash_m,
            limit_backlash_growth_m,
            limit_drag_fraction,
            limit_pattern_shift,
            limit_contact_temp_k,
        ] = numbers;
        Self {
            pinion_teeth,
            ring_teeth,
            offset_m,
            ring_outer_diameter_m,
            face_width_m,
            pinion_spiral_rad,
            pressure_angle_rad: [drive_rad, coast_rad],
            profile_shift,
            thickness_shift,
            edge_radius,
            face_load_factor,
            dynamic_factor,
            modulus_pa,
            contact_limit_pa,
            root_limit_pa,
            backlash_m,
            drag_n_m,
            preload_m,
            carrier_settling_m,
            settling_turns,
            pattern_per_m,
            rated_torque_n_m,
            oil: Vogel {
                factor_pa_s,
                slope_k,
                pole_k,
            },
            pressure_viscosity_per_pa,
            limit_backlash_m,
            limit_backlash_growth_m,
            limit_drag_fraction,
            limit_pattern_shift,
            limit_contact_temp_k,
            pinion: surfaces.pinion,
            ring: surfaces.ring,
            asperity_radius_m: surfaces.summits[0],
            asperity_density_per_m2: surfaces.summits[1],
            root_ra_m: surfaces.root_ra[0],
            root_ra_ln_sd: surfaces.root_ra[1],
            residual: surfaces.residual,
        }
    }

    /// Effective modulus E* of the pair \[Pa\].
    pub fn effective_modulus_pa(&self) -> f64 {
        let gear = (self.modulus_pa, POISSON);
        effective_modulus_pa(gear, gear)
    }

    /// Contact of the two flanks, their composite roughness multiplied.
    pub fn rough(&self, roughness: f64) -> GreenwoodTripp {
        GreenwoodTripp {
            sigma_m: roughness * RQ_PER_RA * self.pinion.ra_m.hypot(self.ring.ra_m),
            radius_m: self.asperity_radius_m,
            density_per_m2: self.asperity_density_per_m2,
            modulus_pa: self.effective_modulus_pa(),
        }
    }

    /// Friction of asperity contact: that of the flank that shears more easily.
    pub fn boundary_friction(&self) -> f64 {
        let ring = self.ring.boundary_friction;
        self.pinion.boundary_friction.min(ring)
    }

    /// Fall of viscosity with temperature \[Pa·s/K\] where the oil has a viscosity: from Vogel's law.
    pub fn oil_slope_pa_s_k(&self, viscosity_pa_s: f64) -> f64 {
        let log = libm::log(viscosity_pa_s / self.oil.factor_pa_s).max(0.0);
        viscosity_pa_s * log * log / self.oil.slope_k
    }

    /// All load factors together.
    pub fn load_factor(&self) -> f64 {
        self.face_load_factor * self.dynamic_factor
    }

    /// Growth of backlash at which its life ends \[m\].
    pub fn backlash_room_m(&self) -> f64 {
        self.limit_backlash_growth_m
            .min(self.limit_backlash_m - self.backlash_m)
    }
}

/// The properties that both flanks have, and what further ones there are.
fn face<'a, const MORE: usize>(
    values: &'a [f64],
    ln_sd: &[f64],
) -> Option<(Face, &'a [f64; MORE])> {
    let (
        &[
            ra_m,
            boundary_friction,
            wear_coefficient_m2_n,
            running_in_multiplier,
            hardness_pa,
            case_depth_m,
        ],
        more,
    ) = values.split_first_chunk::<6>()?;
    let &[ra_sd, friction_sd, wear_sd, ..] = ln_sd else {
        return None;
    };
    let face = Face {
        ra_m,
        boundary_friction,
        wear_coefficient_m2_n,
        running_in_multiplier,
        hardness_pa,
        case_depth_m,
        ln_sd: [ra_sd, friction_sd, wear_sd],
    };
    Some((face, more.try_into().ok()?))
}

fn wrong(field: &str, given: usize, expected: usize) -> Vec<Finding> {
    vec![error(
        field,
        given as f64,
        &format!("{expected} values, in card order"),
        "give one value for each entry of the card",
    )]
}

fn surfaces(specimen: &Specimen) -> Result<Surfaces, Vec<Finding>> {
    let [pinion_surface, ring_surface, root] = specimen.surfaces.as_slice() else {
        return Err(wrong("surfaces", specimen.surfaces.len(), 3));
    };
    let Some((pinion, &summits)) = face(&pinion_surface.values, &pinion_surface.ln_sd) else {
        return Err(wrong("pinion_flank", pinion_surface.values.len(), 8));
    };
    let Some((ring, &[])) = face(&ring_surface.values, &ring_surface.ln_sd) else {
        return Err(wrong("ring_flank", ring_surface.values.len(), 6));
    };
    let (&[ra_m], &[ra_ln_sd]) = (root.values.as_slice(), root.ln_sd.as_slice()) else {
        return Err(wrong("root", root.values.len(), 1));
    };
    // The case's own stress is in the strength: what is over it counts.
    let stresses = root.residual_stress_pa.iter();
    let over: Vec<f64> = stresses
        .map(|stress_pa| stress_pa - CASE_RESIDUAL_PA)
        .collect();
    let residual = ResidualProfile::new(&root.depth_m, &over).map_err(|wrong| {
        let field = format!("root.{}", wrong.field);
        let remedy = "give depths that rise from 0, with one stress each";
        vec![error(&field, wrong.value, wrong.expected, remedy)]
    })?;
    Ok(Surfaces {
        pinion,
        ring,
        summits,
        root_ra: [ra_m, ra_ln_sd],
        residual,
    })
}

//! The specimen as named numbers, in the order of the card.

use ringland_engine::valvetrain::{NUMBERS as TRAIN_NUMBERS, ValveTrain};
use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{Finding, Specimen, Surface, error, properties, wrong_count};

use crate::material::Material;

/// Options of the choice `locks`: keepers that clamp the stem.
pub const GRIPPING: u32 = 0;

/// How many numbers the card has.
pub const NUMBERS: usize = TRAIN_NUMBERS + OWN;
const OWN: usize = 17;
/// Follower, material, locks.
const CHOICES: usize = 3;
/// Taper, keeper, spring seat, body.
const SURFACES: usize = 4;

/// A sliding surface.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Face {
    pub friction: f64,
    pub wear_m2_n: f64,
    /// Spread of the logarithm of the wear coefficient.
    pub wear_ln_sd: f64,
    pub coating_m: f64,
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub train: ValveTrain,
    pub material: Material,
    pub locks: u32,
    pub retainer_mass_kg: f64,
    pub cone_half_angle_rad: f64,
    pub cone_mean_m: f64,
    pub cone_length_m: f64,
    pub stem_m: f64,
    pub tip_height_m: f64,
    pub hub_outer_m: f64,
    pub flange_outer_m: f64,
    pub flange_m: f64,
    pub flange_fillet_m: f64,
    pub load_at: f64,
    pub groove_at: f64,
    pub end_coil_turns: f64,
    pub end_coil_face_m: f64,
    pub coil_clearance_m: f64,
    pub limit_sink_m: f64,
    pub limit_step_m: f64,
    pub taper: Face,
    pub keeper_wear_m2_n: f64,
    pub keeper_ln_sd: f64,
    pub seat: Face,
    pub ra_m: f64,
    pub ra_ln_sd: f64,
    pub residual: ResidualProfile,
}

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length, or what makes the lift table or the residual stress unreadable.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let train = ValveTrain::read(specimen)?;
        let numbers = specimen.numbers.as_slice();
        let own = numbers.get(TRAIN_NUMBERS..).unwrap_or_default();
        let Ok(own) = <&[f64; OWN]>::try_from(own) else {
            return Err(wrong_count("numbers", numbers.len(), NUMBERS));
        };
        let &[_, material, locks] = specimen.choices.as_slice() else {
            return Err(wrong_count("choices", specimen.choices.len(), CHOICES));
        };
        let [taper, keeper, seat, body] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), SURFACES));
        };
        let ([keeper_wear_m2_n], [keeper_ln_sd]) = properties("keeper", keeper)?;
        let ([ra_m], [ra_ln_sd]) = properties("body", body)?;
        let residual = ResidualProfile::new(&body.depth_m, &body.residual_stress_pa);
        let residual = residual.map_err(|found| {
            let field = format!("body.{}", found.field);
            let remedy = "sort the profile by depth";
            vec![error(&field, found.value, found.expected, remedy)]
        })?;
        let [
            retainer_mass_kg,
            cone_half_angle_rad,
            cone_mean_m,
            cone_length_m,
            stem_m,
            tip_height_m,
            hub_outer_m,
            flange_outer_m,
            flange_m,
            flange_fillet_m,
            load_at,
            groove_at,
            end_coil_turns,
            end_coil_face_m,
            coil_clearance_m,
            limit_sink_m,
            limit_step_m,
        ] = *own;
        Ok(Self {
            train,
            material: Material::of(material),
            locks,
            retainer_mass_kg,
            cone_half_angle_rad,
            cone_mean_m,
            cone_length_m,
            stem_m,
            tip_height_m,
            hub_outer_m,
            flange_outer_m,
            flange_m,
            flange_fillet_m,
            load_at,
            groove_at,
            end_coil_turns,
            end_coil_face_m,
            coil_clearance_m,
            limit_sink_m,
            limit_step_m,
            taper: face("taper", taper)?,
            keeper_wear_m2_n,
            keeper_ln_sd,
            seat: face("spring_seat", seat)?,
            ra_m,
            ra_ln_sd,
            residual,
        })
    }
}

fn face(name: &str, surface: &Surface) -> Result<Face, Vec<Finding>> {
    let ([friction, wear_m2_n, coating_m], [_, wear_ln_sd, _]) = properties(name, surface)?;
    Ok(Face {
        friction,
        wear_m2_n,
        wear_ln_sd,
        coating_m,
    })
}

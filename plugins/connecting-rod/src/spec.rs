//! The spec, typed.

use ringland_engine::{Engine, NUMBERS as ENGINE_NUMBERS};
use ringland_mechanics::fatigue::defect::{Place, murakami_limit_pa};
use ringland_mechanics::fatigue::marin::roughness_factor;
use ringland_mechanics::fatigue::mean_stress::sensitivity_of_steel;
use ringland_mechanics::fatigue::notch::{
    fatigue_notch_factor, neuber_root_m, neuber_sensitivity, relative_gradient_per_m,
};
use ringland_mechanics::fatigue::{BelowKnee, NearSurface, ResidualProfile, SnLine};
use ringland_mechanics::range::OutOfRange;
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::constants::{KNEE_CYCLES, RZ_PER_RA};

/// Sites at which a crack may start.
pub const SITES: usize = 3;
/// Indices of the sites.
#[allow(missing_docs, reason = "named on the card")]
pub mod site {
    pub const EYE: usize = 0;
    pub const SHOULDER: usize = 1;
    pub const SPOT_FACE: usize = 2;
}

/// Numbers of the spec that are the rod's own.
const OWN: usize = 32;
/// Numbers of the spec.
pub const NUMBERS: usize = ENGINE_NUMBERS + OWN;

/// A place where stress concentrates.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Section of the nominal stress \[m²\].
    pub section_m2: f64,
    /// Stress concentration.
    pub notch_factor: f64,
    /// Radius of the notch \[m\].
    pub fillet_m: f64,
    /// Share of compression that it carries.
    pub compression_share: f64,
    /// Roughness Ra \[m\].
    pub ra_m: f64,
    /// Spread of ln(Ra).
    pub ra_ln_sd: f64,
    /// Residual stress as made.
    pub residual: ResidualProfile,
    /// Strength over depth, fully reversed, without residual stress: at the surface, in the core.
    pub strength: [(f64, f64); 2],
    /// Stress concentration that counts in fatigue.
    pub fatigue_factor: f64,
    sensitivity: f64,
}

impl Site {
    /// The layer below the notch when a share of the residual stress is retained.
    pub fn near_surface(&self, retained: f64) -> NearSurface<'_> {
        NearSurface {
            gradient_per_m: relative_gradient_per_m(self.fillet_m),
            least_share: 1.0 / self.fatigue_factor,
            strength: &self.strength,
            residual: &self.residual,
            retained,
            sensitivity: self.sensitivity,
        }
    }

    /// Depth over which the surface's strength gives way to the core's \[m\]: an inclusion that does not touch the surface lies at least its
    /// own size deep.
    pub fn layer_m(&self) -> f64 {
        self.strength[1].0
    }
}

/// What the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub small_end_mass_kg: f64,
    pub cap_mass_kg: f64,
    pub section_m2: f64,
    pub swing_gyration_m: f64,
    pub pin_gyration_m: f64,
    pub half_depth_m: f64,
    pub ultimate_strength_pa: f64,
    pub yield_strength_pa: f64,
    pub modulus_pa: f64,
    pub core_hardness_pa: f64,
    pub inclusion_root_area_m: f64,
    pub strength_pa: f64,
    pub slope: f64,
    pub strength_scatter: f64,
    pub prying_factor: f64,
    pub build_bend_ratio: f64,
    pub build_out_of_round_m: f64,
    pub limit_bend_ratio: f64,
    pub limit_out_of_round_m: f64,
    pub limit_length_change_m: f64,
    pub limit_buckling_margin: f64,
    pub limit_speed_rad_s: f64,
    pub sites: [Site; SITES],
}

impl Spec {
    /// Reads a specimen.
    ///
    /// # Errors
    /// Lists of the wrong length, or numbers that the strength is not defined for.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let engine = Engine::read(&specimen.numbers)?;
        let own = specimen.numbers.get(ENGINE_NUMBERS..);
        let own = own.and_then(|own| <&[f64; OWN]>::try_from(own).ok());
        let (Some(own), [eye, shoulder, spot_face]) = (own, specimen.surfaces.as_slice()) else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} numbers and {SITES} surfaces, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        let steel = Steel {
            ultimate_pa: own[6],
            strength_pa: own[11],
            inclusion_m: own[10],
            core_pa: murakami_limit_pa(own[9], own[10], Place::Inside).min(own[11]),
        };
        let [eye_n, shoulder_n, spot_n] = [
            (own[14], own[15], own[16], own[17]),
            (own[18], own[19], own[20], 1.0),
            // A joint in compression carries it across the bearing, past the bolts.
            (own[21], own[22], own[23], 0.0),
        ];
        Ok(Self {
            engine,
            small_end_mass_kg: own[0],
            cap_mass_kg: own[1],
            section_m2: own[2],
            swing_gyration_m: own[3],
            pin_gyration_m: own[4],
            half_depth_m: own[5],
            ultimate_strength_pa: own[6],
            yield_strength_pa: own[7],
            modulus_pa: own[8],
            core_hardness_pa: own[9],
            inclusion_root_area_m: own[10],
            strength_pa: own[11],
            slope: own[12],
            strength_scatter: own[13],
            prying_factor: own[24],
            build_bend_ratio: own[25],
            build_out_of_round_m: own[26],
            limit_bend_ratio: own[27],
            limit_out_of_round_m: own[28],
            limit_length_change_m: own[29],
            limit_buckling_margin: own[30],
            limit_speed_rad_s: own[31],
            sites: [
                steel.site(eye_n, "eye", eye)?,
                steel.site(shoulder_n, "shoulder", shoulder)?,
                steel.site(spot_n, "spot_face", spot_face)?,
            ],
        })
    }

    /// The line of utilisation: 1 lasts to the knee.
    ///
    /// # Errors
    /// A slope out of range.
    pub fn line(&self) -> Result<SnLine, OutOfRange> {
        line(1.0, self.slope)
    }
}

/// S-N line of a strength at the knee, with one slope throughout.
///
/// # Errors
/// A strength or slope out of range.
pub fn line(strength: f64, slope: f64) -> Result<SnLine, OutOfRange> {
    SnLine::new(strength, KNEE_CYCLES, slope, BelowKnee::Elementary)
}

/// Stress concentration that counts in fatigue, by Neuber's length of the steel.
///
/// # Errors
/// An ultimate strength out of range.
pub fn fatigue_factor(
    notch_factor: f64,
    fillet_m: f64,
    ultimate_pa: f64,
) -> Result<f64, OutOfRange> {
    let sensitivity = neuber_sensitivity(neuber_root_m(ultimate_pa)?, fillet_m);
    Ok(fatigue_notch_factor(notch_factor, sensitivity))
}

struct Steel {
    ultimate_pa: f64,
    strength_pa: f64,
    core_pa: f64,
    inclusion_m: f64,
}

impl Steel {
    fn site(
        &self,
        (section_m2, notch_factor, fillet_m, compression_share): (f64, f64, f64, f64),
        name: &str,
        surface: &Surface,
    ) -> Result<Site, Vec<Finding>> {
        let refused = |wrong: OutOfRange| {
            let field = format!("{name}.{}", wrong.field);
            let remedy = "check the surface and the steel against the card";
            vec![error(&field, wrong.value, wrong.expected, remedy)]
        };
        let (&[ra_m], &[ra_ln_sd]) = (surface.values.as_slice(), surface.ln_sd.as_slice()) else {
            let given = surface.values.len() as f64;
            let remedy = "give one value for each property of the card";
            return Err(vec![error(name, given, "1 property: ra_m", remedy)]);
        };
        let residual = ResidualProfile::new(&surface.depth_m, &surface.residual_stress_pa);
        let rough = roughness_factor(RZ_PER_RA * ra_m, self.ultimate_pa).map_err(refused)?;
        let factor = fatigue_factor(notch_factor, fillet_m, self.ultimate_pa).map_err(refused)?;
        Ok(Site {
            section_m2,
            notch_factor,
            fillet_m,
            compression_share,
            ra_m,
            ra_ln_sd,
            residual: residual.map_err(refused)?,
            strength: [
                (0.0, rough * self.strength_pa),
                (self.inclusion_m, self.core_pa),
            ],
            fatigue_factor: factor,
            sensitivity: sensitivity_of_steel(self.ultimate_pa),
        })
    }
}

//! The spec, typed.

use std::f64::consts::PI;

use ringland_engine::valvetrain::{NUMBERS as TRAIN_NUMBERS, ValveTrain};
use ringland_engine::{Engine, NUMBERS as ENGINE_NUMBERS, OIL_NUMBERS, oil};
use ringland_mechanics::fatigue::marin::roughness_factor;
use ringland_mechanics::fatigue::notch::{
    fatigue_notch_factor, neuber_root_m, neuber_sensitivity, relative_gradient_per_m,
};
use ringland_mechanics::fatigue::{BelowKnee, NearSurface, ResidualProfile, SnLine};
use ringland_mechanics::oil::Vogel;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::valve::{HubbedPlate, Stem};
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::constants::{GROOVE_K, KNEE_CYCLES, REFERENCE_RA_M, RZ_PER_RA, Z90};
use crate::material::{Material, at, material, option};

/// Where the valve's own numbers begin.
const FIRST: usize = ENGINE_NUMBERS + TRAIN_NUMBERS + OIL_NUMBERS;
/// Numbers of the spec that are the valve's own.
const OWN: usize = 30;
/// Numbers of the spec.
pub const NUMBERS: usize = FIRST + OWN;
/// Index of the choice `port`: 0 intake, 1 exhaust.
const PORT: usize = 1;
/// Index of the choice `material`.
const MATERIAL: usize = 2;
/// Option of the choice `port`: exhaust.
pub const EXHAUST: u32 = 1;
/// Poisson's ratio of all materials.
const POISSON: f64 = 0.3;

/// The keeper groove.
#[derive(Debug, Clone, PartialEq)]
pub struct Groove {
    /// Net section \[m²\].
    pub area_m2: f64,
    /// Stress concentration that counts in fatigue.
    pub fatigue_factor: f64,
    /// Median strength, fully reversed, at the knee, with the roughness as it is \[Pa\].
    pub strength: [(f64, f64); 1],
    /// Ultimate strength \[Pa\].
    pub ultimate_pa: f64,
    /// Residual stress as made.
    pub residual: ResidualProfile,
    /// Share of it that stays.
    pub retained: f64,
    /// Radius of the groove \[m\].
    pub radius_m: f64,
}

impl Groove {
    /// The layer below the groove's root. Strength falls with mean stress along Goodman's line: by strength over ultimate strength.
    pub fn near_surface(&self) -> NearSurface<'_> {
        NearSurface {
            gradient_per_m: relative_gradient_per_m(self.radius_m),
            least_share: 1.0 / self.fatigue_factor,
            strength: &self.strength,
            residual: &self.residual,
            retained: self.retained,
            sensitivity: self.strength[0].1 / self.ultimate_pa,
        }
    }
}

/// What the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub train: ValveTrain,
    pub oil: Vogel,
    pub exhaust: bool,
    pub titanium: bool,
    pub material: Material,
    pub stem_diameter_m: f64,
    pub stem_length_m: f64,
    pub valve_mass_kg: f64,
    pub retained_mass_kg: f64,
    pub seat_radius_m: f64,
    pub seat_width_m: f64,
    pub seat_angle_rad: f64,
    pub head_thickness_m: f64,
    pub neck_radius_m: f64,
    pub rim_stiffness_n_m: f64,
    pub neck_notch_factor: f64,
    pub strength_scatter: f64,
    pub slope: f64,
    pub guide_length_m: f64,
    pub tip_overhang_m: f64,
    pub bearing_length_m: f64,
    pub port_length_m: f64,
    pub guide_rq_m: f64,
    pub seal_lip_gradient_pa_m: f64,
    pub build_margin_m: f64,
    pub recut_stock_m: f64,
    pub full_load_exhaust_temp_k: f64,
    pub limit_recession_m: f64,
    pub limit_lash_m: f64,
    pub limit_stem_loss_m: f64,
    pub limit_margin_m: f64,
    pub limit_run_s: f64,
    pub fuel_cooling_w: f64,
    pub stem_wear_m2_n: f64,
    pub stem_wear_ln_sd: f64,
    pub stem_rq_m: f64,
    pub coating_thickness_m: f64,
    pub seat_hardness_pa: f64,
    pub seat_wear_m2_n: f64,
    pub seat_ln_sd: [f64; 2],
    pub groove: Groove,
    /// Roughness of the neck over that of the reference, as a factor of strength.
    pub neck_roughness_factor: f64,
}

impl Spec {
    /// Reads a specimen.
    ///
    /// # Errors
    /// Lists of the wrong length, or numbers that strength or lift are not defined for.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let engine = Engine::read(&specimen.numbers)?;
        let train = ValveTrain::read_from(specimen, ENGINE_NUMBERS)?;
        let vogel = specimen.numbers.get(ENGINE_NUMBERS + TRAIN_NUMBERS..);
        let vogel = vogel.and_then(<[f64]>::first_chunk::<OIL_NUMBERS>);
        let own = specimen.numbers.get(FIRST..);
        let own = own.and_then(|own| <&[f64; OWN]>::try_from(own).ok());
        let choice = |index: usize| specimen.choices.get(index).copied();
        let (Some(&vogel), Some(own), Some(port), Some(choice), [stem, seat, groove, neck]) = (
            vogel,
            own,
            choice(PORT),
            choice(MATERIAL),
            specimen.surfaces.as_slice(),
        ) else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} numbers, 3 choices and 4 surfaces, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        let metal = material(choice);
        let ([stem_values, stem_sd], [seat_values, seat_sd]) = (
            properties::<3>("stem", stem)?,
            properties::<2>("seat_face", seat)?,
        );
        let ([[neck_ra], _], [[groove_ra], _]) = (
            properties::<1>("neck", neck)?,
            properties::<1>("groove", groove)?,
        );
        let median = libm::exp(Z90 * own[13]);
        let groove_steel = (metal, median, groove_ra);
        Ok(Self {
            engine,
            train,
            oil: oil(vogel),
            exhaust: port == EXHAUST,
            titanium: choice == option::TITANIUM,
            material: metal,
            stem_diameter_m: own[0],
            stem_length_m: own[1],
            valve_mass_kg: own[2],
            retained_mass_kg: own[3],
            seat_radius_m: own[4],
            seat_width_m: own[5],
            seat_angle_rad: own[6],
            head_thickness_m: own[7],
            neck_radius_m: own[8],
            rim_stiffness_n_m: own[9],
            neck_notch_factor: own[12],
            strength_scatter: own[13],
            slope: own[14],
            guide_length_m: own[15],
            tip_overhang_m: own[16],
            bearing_length_m: own[17],
            port_length_m: own[18],
            guide_rq_m: own[19],
            seal_lip_gradient_pa_m: own[20],
            build_margin_m: own[21],
            recut_stock_m: own[22],
            full_load_exhaust_temp_k: own[23],
            limit_recession_m: own[24],
            limit_lash_m: own[25],
            limit_stem_loss_m: own[26],
            limit_margin_m: own[27],
            limit_run_s: own[28],
            fuel_cooling_w: own[29],
            stem_wear_m2_n: stem_values[0],
            stem_wear_ln_sd: stem_sd[0],
            stem_rq_m: stem_values[1],
            coating_thickness_m: stem_values[2],
            seat_hardness_pa: seat_values[0],
            seat_wear_m2_n: seat_values[1],
            seat_ln_sd: seat_sd,
            groove: read_groove(groove_steel, (own[10], own[11]), groove)?,
            neck_roughness_factor: rough("neck", neck_ra, metal)?,
        })
    }

    /// The stem as a bar between head and tip.
    pub fn stem(&self) -> Stem {
        let area_m2 = 0.25 * PI * self.stem_diameter_m * self.stem_diameter_m;
        let density_kg_m3 = self.material.density_kg_m3;
        let bar_kg = density_kg_m3 * area_m2 * self.stem_length_m;
        Stem {
            area_m2,
            length_m: self.stem_length_m,
            modulus_pa: at(self.material.modulus_pa, GROOVE_K),
            density_kg_m3,
            head_mass_kg: (self.valve_mass_kg - bar_kg).max(0.05 * self.valve_mass_kg),
            seat_stiffness_n_m: self.rim_stiffness_n_m,
            retained_mass_kg: self.retained_mass_kg,
        }
    }

    /// The head as a plate.
    pub fn plate(&self) -> HubbedPlate {
        HubbedPlate {
            edge_m: self.seat_radius_m,
            hub_m: self.neck_radius_m,
            thickness_m: self.head_thickness_m,
            poisson: POISSON,
        }
    }

    /// The line of utilisation: 1 lasts to the knee.
    ///
    /// # Errors
    /// A slope out of range.
    pub fn line(&self) -> Result<SnLine, OutOfRange> {
        SnLine::new(1.0, KNEE_CYCLES, self.slope, BelowKnee::Elementary)
    }

    /// Median fatigue strength of the head at a temperature, with its roughness \[Pa\].
    pub fn head_strength_pa(&self, temp_k: f64) -> f64 {
        let median = libm::exp(Z90 * self.strength_scatter);
        median * self.neck_roughness_factor * at(self.material.fatigue_pa, temp_k)
    }

    /// Loss of the stem's diameter that the coating covers \[m\].
    pub fn coating_loss_m(&self) -> f64 {
        2.0 * self.coating_thickness_m
    }
}

/// Values and spreads of a surface with so many properties.
fn properties<const N: usize>(
    name: &str,
    surface: &Surface,
) -> Result<[[f64; N]; 2], Vec<Finding>> {
    let values = <[f64; N]>::try_from(surface.values.as_slice());
    let spreads = <[f64; N]>::try_from(surface.ln_sd.as_slice());
    match (values, spreads) {
        (Ok(values), Ok(spreads)) => Ok([values, spreads]),
        _ => Err(vec![error(
            name,
            surface.values.len() as f64,
            &format!("{N} properties with a spread each"),
            "give one value for each property of the card",
        )]),
    }
}

/// Roughness factor of a surface over that of the reference.
fn rough(name: &str, ra_m: f64, metal: Material) -> Result<f64, Vec<Finding>> {
    let ultimate_pa = at(metal.ultimate_pa, GROOVE_K);
    let factor = |ra_m: f64| {
        roughness_factor(RZ_PER_RA * ra_m, ultimate_pa).map_err(|wrong| refused(name, wrong))
    };
    Ok(factor(ra_m)? / factor(REFERENCE_RA_M)?)
}

fn refused(name: &str, wrong: OutOfRange) -> Vec<Finding> {
    let field = format!("{name}.{}", wrong.field);
    let remedy = "check the surface and the numbers against the card";
    vec![error(&field, wrong.value, wrong.expected, remedy)]
}

/// Median strength of a groove: material, median over the strength of the table, roughness; section and stress concentration.
fn read_groove(
    (metal, median, ra_m): (Material, f64, f64),
    (area_m2, notch_factor): (f64, f64),
    surface: &Surface,
) -> Result<Groove, Vec<Finding>> {
    let ultimate_pa = at(metal.ultimate_pa, GROOVE_K);
    let wrong = |wrong| refused("groove", wrong);
    let root_m = neuber_root_m(ultimate_pa).map_err(wrong)?;
    let sensitivity = neuber_sensitivity(root_m, GROOVE_RADIUS_M);
    let residual = ResidualProfile::new(&surface.depth_m, &surface.residual_stress_pa);
    let strength_pa = median * at(metal.fatigue_pa, GROOVE_K) * rough("groove", ra_m, metal)?;
    Ok(Groove {
        area_m2,
        fatigue_factor: fatigue_notch_factor(notch_factor, sensitivity),
        strength: [(0.0, strength_pa)],
        ultimate_pa,
        residual: residual.map_err(wrong)?,
        retained: crate::constants::RETAINED,
        radius_m: GROOVE_RADIUS_M,
    })
}

/// Radius at the root of a keeper groove \[m\].
pub const GROOVE_RADIUS_M: f64 = 0.5e-3;

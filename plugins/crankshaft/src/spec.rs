//! The specimen as named numbers, in the order of the card.

use std::f64::consts::PI;

use ringland_engine::{Engine, NUMBERS as ENGINE_NUMBERS, OIL_NUMBERS, oil};
use ringland_mechanics::fatigue::ResidualProfile;
use ringland_mechanics::oil::Vogel;
use ringland_mechanics::shaft::{CrankWeb, polar_moment_m4, torsional_stiffness_n_m_rad};
use ringland_plugin::{Finding, Specimen, error};

/// How many numbers the card has.
pub const NUMBERS: usize = ENGINE_NUMBERS + OIL_NUMBERS + OWN_NUMBERS;
/// How many of them are the crankshaft's own.
const OWN_NUMBERS: usize = 35;
/// Most throws that the model carries.
pub const MOST_THROWS: usize = 8;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub oil: Vogel,
    pub pin_diameter_m: f64,
    pub journal_diameter_m: f64,
    pub web_thickness_m: f64,
    pub web_width_m: f64,
    pub pin_fillet_m: f64,
    pub journal_fillet_m: f64,
    pub pin_length_m: f64,
    pub main_spacing_m: f64,
    pub throw_unbalance_kg_m: f64,
    pub throw_inertia_kg_m2: f64,
    pub nose_diameter_m: f64,
    pub nose_fillet_m: f64,
    pub nose_length_m: f64,
    pub hub_inertia_kg_m2: f64,
    pub flywheel_inertia_kg_m2: f64,
    pub damper_ring_inertia_kg_m2: f64,
    pub damper_frequency_rad_s: f64,
    pub damper_loss_factor: f64,
    pub damper_half_life_s: f64,
    pub shaft_loss_factor: f64,
    pub throw_damping_n_m_s_rad: f64,
    pub shear_modulus_pa: f64,
    pub tensile_strength_pa: f64,
    pub strength_pa: f64,
    pub sn_slope: f64,
    pub strength_ln_sd: f64,
    pub torsion_ln_sd: f64,
    pub bearing_length_m: f64,
    pub bearing_film_m: f64,
    pub bearing_rq_m: f64,
    pub regrind_step_m: f64,
    pub limit_journal_wear_m: f64,
    pub limit_taper_m: f64,
    pub limit_runout_m: f64,
    pub limit_journal_ra_m: f64,
    pub firing_angle_rad: Vec<f64>,
    pub fillet: Fillet,
    pub journal: Journal,
}

/// The fillets' surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Fillet {
    /// Hardness at the surface \[Pa\].
    pub hardness_pa: f64,
    /// Roughness Ra \[m\].
    pub ra_m: f64,
    /// Depth of the hardened case \[m\], 0 for none.
    pub case_depth_m: f64,
    /// Spread of ln(hardness), ln(Ra), ln(case depth).
    pub ln_sd: [f64; 3],
    /// Residual stress over depth, as made.
    pub residual: ResidualProfile,
}

/// The journals' surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Journal {
    /// Hardness \[Pa\].
    pub hardness_pa: f64,
    /// Roughness Ra \[m\].
    pub ra_m: f64,
    /// Specific wear coefficient against the bearing \[m²/N\].
    pub wear_coefficient_m2_n: f64,
    /// Spread of ln(wear coefficient).
    pub wear_ln_sd: f64,
}

impl Spec {
    /// Reads a specimen; only the lengths of its lists and the residual-stress profile are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length or the profile is none.
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
        let [table] = specimen.tables.as_slice() else {
            return Err(wrong("tables", specimen.tables.len(), 1));
        };
        let [angles] = table.columns.as_slice() else {
            return Err(wrong("throws", table.columns.len(), 1));
        };
        let (fillet, journal) = surfaces(specimen).ok_or_else(|| {
            let given = specimen.surfaces.len();
            wrong("surfaces", given, 2)
        })??;
        let engine = Engine::read(numbers)?;
        Ok(Self::assemble(
            numbers,
            engine,
            angles.clone(),
            fillet,
            journal,
        ))
    }

    #[rustfmt::skip]
    fn assemble(numbers: &[f64; NUMBERS], engine: Engine, firing_angle_rad: Vec<f64>, fillet: Fillet, journal: Journal) -> Self {
        let [
            _, _, _, _, _, _, _, _, _, _,
            factor_pa_s, slope_k, pole_k,
            pin_diameter_m, journal_diameter_m, web_thickness_m, web_width_m, pin_fillet_m, journal_fillet_m,
            pin_length_m, main_spacing_m, throw_unbalance_kg_m, throw_inertia_kg_m2,
            nose_diameter_m, nose_fillet_m, nose_length_m, hub_inertia_kg_m2, flywheel_inertia_kg_m2,
            damper_ring_inertia_kg_m2, damper_frequency_rad_s, damper_loss_factor, damper_half_life_s,
            shaft_loss_factor, throw_damping_n_m_s_rad, shear_modulus_pa,
            tensile_strength_pa, strength_pa, sn_slope, strength_ln_sd, torsion_ln_sd,
            bearing_length_m, bearing_film_m, bearing_rq_m, regrind_step_m,
            limit_journal_wear_m, limit_taper_m, limit_runout_m, limit_journal_ra_m,
        ] = *numbers;
        Self {
            engine, oil: oil([factor_pa_s, slope_k, pole_k]),
            pin_diameter_m, journal_diameter_m, web_thickness_m, web_width_m, pin_fillet_m, journal_fillet_m,
            pin_length_m, main_spacing_m, throw_unbalance_kg_m, throw_inertia_kg_m2,
            nose_diameter_m, nose_fillet_m, nose_length_m, hub_inertia_kg_m2, flywheel_inertia_kg_m2,
            damper_ring_inertia_kg_m2, damper_frequency_rad_s, damper_loss_factor, damper_half_life_s,
            shaft_loss_factor, throw_damping_n_m_s_rad, shear_modulus_pa,
            tensile_strength_pa, strength_pa, sn_slope, strength_ln_sd, torsion_ln_sd,
            bearing_length_m, bearing_film_m, bearing_rq_m, regrind_step_m,
            limit_journal_wear_m, limit_taper_m, limit_runout_m, limit_journal_ra_m,
            firing_angle_rad, fillet, journal,
        }
    }

    /// Number of throws.
    pub fn throws(&self) -> usize {
        self.firing_angle_rad.len()
    }

    /// The web, with pin and journals ground by so much \[m\] on the radius, fillets kept.
    pub fn web(&self, ground_m: f64) -> CrankWeb {
        CrankWeb {
            pin_diameter_m: self.pin_diameter_m - 2.0 * ground_m,
            journal_diameter_m: self.journal_diameter_m - 2.0 * ground_m,
            crank_radius_m: 0.5 * self.engine.stroke_m,
            web_thickness_m: self.web_thickness_m,
            web_width_m: self.web_width_m,
            pin_fillet_m: self.pin_fillet_m,
            journal_fillet_m: self.journal_fillet_m,
        }
    }

    /// Length of a main journal between the webs \[m\].
    pub fn journal_length_m(&self) -> f64 {
        self.main_spacing_m - self.pin_length_m - 2.0 * self.web_thickness_m
    }

    /// Distance from the middle of a main bearing to the middle of the next web \[m\].
    pub fn web_arm_m(&self) -> f64 {
        0.5 * (self.journal_length_m() + self.web_thickness_m)
    }

    /// Torsional stiffness from the middle of a throw to that of the next \[N·m/rad\]: lengths in torsion of journal, pin and webs (W. Ker
    /// Wilson, from memory).
    pub fn throw_stiffness_n_m_rad(&self) -> f64 {
        let (pin, journal) = (self.pin_diameter_m, self.journal_diameter_m);
        let arm = 0.5 * self.engine.stroke_m - 0.2 * (pin + journal);
        let lengths = (self.journal_length_m() + 0.4 * journal) / journal.powi(4)
            + (self.pin_length_m + 0.4 * pin) / pin.powi(4)
            + arm / (self.web_thickness_m * self.web_width_m.powi(3));
        self.shear_modulus_pa * PI / 32.0 / lengths
    }

    /// Torsional stiffness of the nose from the hub to the middle of the first throw \[N·m/rad\]: the nose and half a throw in series.
    pub fn nose_stiffness_n_m_rad(&self) -> f64 {
        let polar = polar_moment_m4(self.nose_diameter_m, 0.0);
        let nose = torsional_stiffness_n_m_rad(self.shear_modulus_pa, polar, self.nose_length_m);
        let half = 2.0 * self.throw_stiffness_n_m_rad();
        nose * half / (nose + half)
    }
}

/// `None` when the lists do not have the card's length.
fn surfaces(specimen: &Specimen) -> Option<Result<(Fillet, Journal), Vec<Finding>>> {
    let [fillet, journal] = specimen.surfaces.as_slice() else {
        return None;
    };
    let [hardness_pa, ra_m, case_depth_m] = *fillet.values.as_slice() else {
        return None;
    };
    let [journal_hardness_pa, journal_ra_m, wear_coefficient_m2_n] = *journal.values.as_slice()
    else {
        return None;
    };
    let ln_sd: [f64; 3] = fillet.ln_sd.as_slice().try_into().ok()?;
    let [_, _, wear_ln_sd] = *journal.ln_sd.as_slice() else {
        return None;
    };
    let residual = ResidualProfile::new(&fillet.depth_m, &fillet.residual_stress_pa);
    let read = residual.map(|residual| {
        let fillet = Fillet {
            hardness_pa,
            ra_m,
            case_depth_m,
            ln_sd,
            residual,
        };
        let journal = Journal {
            hardness_pa: journal_hardness_pa,
            ra_m: journal_ra_m,
            wear_coefficient_m2_n,
            wear_ln_sd,
        };
        (fillet, journal)
    });
    Some(read.map_err(|refused| {
        vec![error(
            &format!("fillet.{}", refused.field),
            refused.value,
            refused.expected,
            "sort the profile by depth",
        )]
    }))
}

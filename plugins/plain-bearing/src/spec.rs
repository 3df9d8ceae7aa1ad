//! The specimen as named numbers, in the order of the card.

use ringland_engine::{Engine, NUMBERS, OIL_NUMBERS, oil};
use ringland_mechanics::contact::{GreenwoodTripp, effective_modulus_pa};
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, Specimen, error};

use crate::constants::{POISSON, STEEL_PA};

/// Which bearing of the crank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Big end of a rod.
    Rod,
    /// Main bearing between two throws.
    Main,
}

/// Running surface of the shells.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Shell {
    pub rq_m: f64,
    pub boundary_friction: f64,
    pub wear_coefficient_m2_n: f64,
    pub asperity_radius_m: f64,
    pub asperity_density_per_m2: f64,
    pub coating_thickness_m: f64,
    /// Spread of ln(Rq), ln(friction), ln(wear coefficient).
    pub ln_sd: [f64; 3],
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub oil: Vogel,
    pub position: Position,
    pub journal_diameter_m: f64,
    pub film_width_m: f64,
    pub diametral_clearance_m: f64,
    pub wall_thickness_m: f64,
    pub overlay_thickness_m: f64,
    pub overlay_wear_coefficient_m2_n: f64,
    pub overlay_modulus_pa: f64,
    pub fatigue_strength_pa: f64,
    pub feed_radius_m: f64,
    pub cranking_speed_rad_s: f64,
    pub neighbour_firing_interval_rad: f64,
    pub throw_mass_kg: f64,
    pub counterweight_fraction: f64,
    pub limit_wear_m: f64,
    pub limit_clearance_growth_m: f64,
    pub limit_boundary_heat_w_m2: f64,
    pub shell: Shell,
    pub journal_rq_m: f64,
    /// Spread of ln(Rq) of the journal.
    pub journal_rq_ln_sd: f64,
}

/// Numbers of the bearing itself, after those of engine and oil.
pub const OWN_NUMBERS: usize = 16;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// A finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let wrong = |field: &str, given: usize, expected: usize| {
            vec![error(
                field,
                given as f64,
                &format!("{expected} values, in card order"),
                "give one value for each entry of the card",
            )]
        };
        let engine = Engine::read(&specimen.numbers)?;
        let total = NUMBERS + OIL_NUMBERS + OWN_NUMBERS;
        let rest = specimen.numbers.get(NUMBERS..).unwrap_or_default();
        let Some((&oil_numbers, own)) = rest.split_first_chunk::<OIL_NUMBERS>() else {
            return Err(wrong("numbers", specimen.numbers.len(), total));
        };
        let &[
            journal_diameter_m,
            film_width_m,
            diametral_clearance_m,
            wall_thickness_m,
            overlay_thickness_m,
            overlay_wear_coefficient_m2_n,
            overlay_modulus_pa,
            fatigue_strength_pa,
            feed_radius_m,
            cranking_speed_rad_s,
            neighbour_firing_interval_rad,
            throw_mass_kg,
            counterweight_fraction,
            limit_wear_m,
            limit_clearance_growth_m,
            limit_boundary_heat_w_m2,
        ] = own
        else {
            return Err(wrong("numbers", specimen.numbers.len(), total));
        };
        let position = match specimen.choices.as_slice() {
            [0] => Position::Rod,
            [1] => Position::Main,
            other => return Err(wrong("choices", other.len(), 1)),
        };
        let [shell, journal] = specimen.surfaces.as_slice() else {
            return Err(wrong("surfaces", specimen.surfaces.len(), 2));
        };
        let (&[journal_rq_m], &[journal_rq_ln_sd]) =
            (journal.values.as_slice(), journal.ln_sd.as_slice())
        else {
            return Err(wrong("journal", journal.values.len(), 1));
        };
        let (
            &[
                rq_m,
                boundary_friction,
                wear_coefficient_m2_n,
                asperity_radius_m,
                asperity_density_per_m2,
                coating_thickness_m,
            ],
            &[rq_sd, friction_sd, wear_sd, ..],
        ) = (shell.values.as_slice(), shell.ln_sd.as_slice())
        else {
            return Err(wrong("shell", shell.values.len(), 6));
        };
        Ok(Self {
            engine,
            oil: oil(oil_numbers),
            position,
            journal_diameter_m,
            film_width_m,
            diametral_clearance_m,
            wall_thickness_m,
            overlay_thickness_m,
            overlay_wear_coefficient_m2_n,
            overlay_modulus_pa,
            fatigue_strength_pa,
            feed_radius_m,
            cranking_speed_rad_s,
            neighbour_firing_interval_rad,
            throw_mass_kg,
            counterweight_fraction,
            limit_wear_m,
            limit_clearance_growth_m,
            limit_boundary_heat_w_m2,
            shell: Shell {
                rq_m,
                boundary_friction,
                wear_coefficient_m2_n,
                asperity_radius_m,
                asperity_density_per_m2,
                coating_thickness_m,
                ln_sd: [rq_sd, friction_sd, wear_sd],
            },
            journal_rq_m,
            journal_rq_ln_sd,
        })
    }

    /// Journal radius \[m\].
    pub fn radius_m(&self) -> f64 {
        0.5 * self.journal_diameter_m
    }

    /// Radial clearance \[m\].
    pub fn clearance_m(&self) -> f64 {
        0.5 * self.diametral_clearance_m
    }

    /// Projected area \[m²\].
    pub fn projected_area_m2(&self) -> f64 {
        self.journal_diameter_m * self.film_width_m
    }

    /// Contact of the two surfaces, their composite roughness multiplied.
    pub fn contact(&self, roughness: f64) -> GreenwoodTripp {
        GreenwoodTripp {
            sigma_m: roughness * self.shell.rq_m.hypot(self.journal_rq_m),
            radius_m: self.shell.asperity_radius_m,
            density_per_m2: self.shell.asperity_density_per_m2,
            modulus_pa: effective_modulus_pa(
                (self.overlay_modulus_pa, POISSON),
                (STEEL_PA, POISSON),
            ),
        }
    }

    /// Wear \[m\] after a dose \[Pa·m\] on a shell that has worn so far: the coating first, then the overlay under it. A dose gives the
    /// same wear however it is cut.
    pub fn worn_m(&self, before_m: f64, dose_pa_m: f64) -> f64 {
        let coat_left_m = (self.shell.coating_thickness_m - before_m).max(0.0);
        let coat_dose = coat_left_m / self.shell.wear_coefficient_m2_n;
        if dose_pa_m <= coat_dose {
            return before_m + self.shell.wear_coefficient_m2_n * dose_pa_m;
        }
        let under = if self.shell.coating_thickness_m > 0.0 {
            self.overlay_wear_coefficient_m2_n
        } else {
            self.shell.wear_coefficient_m2_n
        };
        before_m + coat_left_m + under * (dose_pa_m - coat_dose)
    }
}

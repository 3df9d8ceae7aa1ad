//! The spec, typed.

use ringland_engine::valvetrain::{NUMBERS as TRAIN_NUMBERS, ValveTrain};
use ringland_mechanics::fatigue::ResidualProfile;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::spring::{Relaxation, TimeLaw};
use ringland_plugin::{Finding, Specimen, error};

use crate::constants::{RELAXATION_TEST_K, RELAXATION_TEST_PA, RELAXATION_TEST_S};
use crate::wire::{Wire, WireState};

/// Numbers of the spec that are the spring's own.
const OWN: usize = 16;
/// Numbers of the spec.
pub const NUMBERS: usize = TRAIN_NUMBERS + OWN;

/// What the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub train: ValveTrain,
    pub state: WireState,
    pub wire: Wire,
    pub strength_scatter: f64,
    pub springs: f64,
    pub coil_clearance_m: f64,
    pub relaxation: Relaxation,
    pub hysteresis_fraction: f64,
    pub heat_transfer_w_m2_k: f64,
    pub limit_seat_load_loss_fraction: f64,
    pub alarm_seat_load_loss_fraction: f64,
    /// Spread of ln(roughness) and of ln(hardness) of the surface.
    pub surface_ln_sd: [f64; 2],
}

impl Spec {
    /// Reads a specimen.
    ///
    /// # Errors
    /// Lists of the wrong length, or numbers that the strength is not defined for.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let train = ValveTrain::read(specimen)?;
        let own = specimen.numbers.get(TRAIN_NUMBERS..);
        let own = own.and_then(|own| <&[f64; OWN]>::try_from(own).ok());
        let (Some(own), [surface]) = (own, specimen.surfaces.as_slice()) else {
            return Err(wrong_length(specimen));
        };
        let (&[ra_m, hardness_pa], &[ra_ln_sd, hardness_ln_sd]) =
            (surface.values.as_slice(), surface.ln_sd.as_slice())
        else {
            return Err(wrong_length(specimen));
        };
        let residual = ResidualProfile::new(&surface.depth_m, &surface.residual_stress_pa);
        let state = WireState {
            wire_m: train.spring.wire_m,
            tensile_pa: own[0],
            strength_pa: own[1],
            slope: own[2],
            core_hardness_pa: own[4],
            inclusion_root_area_m: own[5],
            ra_m,
            surface_hardness_pa: hardness_pa,
            residual: residual.map_err(|wrong| refused("wire_surface.", wrong))?,
        };
        Ok(Self {
            train,
            wire: Wire::new(&state).map_err(|wrong| refused("", wrong))?,
            state,
            strength_scatter: own[3],
            springs: libm::round(own[6]),
            coil_clearance_m: own[7],
            relaxation: Relaxation {
                lost_share: own[8],
                time_s: RELAXATION_TEST_S,
                temp_k: RELAXATION_TEST_K,
                stress_pa: RELAXATION_TEST_PA,
                law: TimeLaw::Power { exponent: own[9] },
                activation_j_mol: own[10],
                stress_exponent: own[11],
            },
            hysteresis_fraction: own[12],
            heat_transfer_w_m2_k: own[13],
            limit_seat_load_loss_fraction: own[14],
            alarm_seat_load_loss_fraction: own[15],
            surface_ln_sd: [ra_ln_sd, hardness_ln_sd],
        })
    }

    /// Load \[N\] that a spring has lost for good after a reduced time \[s\].
    pub fn relaxed_n(&self, reduced_s: f64) -> f64 {
        let spring = &self.train.spring;
        spring.force_n(self.relaxation.lost_pa(reduced_s))
    }
}

fn refused(at: &str, wrong: OutOfRange) -> Vec<Finding> {
    let field = format!("{at}{}", wrong.field);
    let remedy = "check the surface and the wire against the card";
    vec![error(&field, wrong.value, wrong.expected, remedy)]
}

fn wrong_length(specimen: &Specimen) -> Vec<Finding> {
    vec![error(
        "numbers",
        specimen.numbers.len() as f64,
        &format!("{NUMBERS} numbers and the surface wire_surface of 2 properties, in card order"),
        "give one value for each entry of the card",
    )]
}

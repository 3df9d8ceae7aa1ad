//! The specimen as named numbers, in the order of the card.

use ringland_engine::Engine;
use ringland_mechanics::fatigue::{BelowKnee, SnLine};
use ringland_mechanics::oil::Vogel;
use ringland_mechanics::piston_pin::Pin;
use ringland_plugin::{Finding, Specimen, Surface, error, properties, wrong_count};

use crate::constants::PIN_CYCLES;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub oil: Vogel,
    pub piston_and_pin_mass_kg: f64,
    pub pin: Pin,
    pub bush_clearance_m: f64,
    pub oil_patch_m: f64,
    pub bush_modulus_pa: f64,
    /// S-N line of the pin, the same slope below its knee.
    pub pin_line: SnLine,
    pub pin_tensile_pa: f64,
    pub limit_bush_clearance_m: f64,
    pub limit_pin_wear_m: f64,
    pub limit_scuff_w_m2: f64,
    pub pin_rq_m: f64,
    pub boundary_friction: f64,
    /// Specific wear coefficient and spread of its logarithm.
    pub pin_wear: (f64, f64),
    pub coating_m: f64,
    /// Residual stress at the surface of the pin \[Pa\].
    pub pin_residual_pa: f64,
    pub bush_rq_m: f64,
    /// Specific wear coefficient and spread of its logarithm.
    pub bush_wear: (f64, f64),
    pub summit_radius_m: f64,
    pub summit_density_per_m2: f64,
}

/// How many numbers the card has.
pub const NUMBERS: usize = ringland_engine::NUMBERS + ringland_engine::OIL_NUMBERS + OWN;
const OWN: usize = 16;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let numbers = specimen.numbers.as_slice();
        let engine = Engine::read(numbers)?;
        let rest = &numbers[ringland_engine::NUMBERS..];
        let (Some(oil), Some(own)) = (rest.first_chunk(), rest.last_chunk::<OWN>()) else {
            return Err(wrong_count("numbers", numbers.len(), NUMBERS));
        };
        if numbers.len() != NUMBERS {
            return Err(wrong_count("numbers", numbers.len(), NUMBERS));
        }
        let [pin, bush] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), 2));
        };
        Self::assemble(engine, ringland_engine::oil(*oil), own, (pin, bush))
    }

    fn assemble(
        engine: Engine,
        oil: Vogel,
        own: &[f64; OWN],
        (pin, bush): (&Surface, &Surface),
    ) -> Result<Self, Vec<Finding>> {
        let [
            piston_and_pin_mass_kg,
            outer_m,
            inner_m,
            length_m,
            rod_width_m,
            boss_length_m,
            bush_clearance_m,
            oil_patch_m,
            modulus_pa,
            bush_modulus_pa,
            pin_strength_pa,
            pin_slope,
            pin_tensile_pa,
            limit_bush_clearance_m,
            limit_pin_wear_m,
            limit_scuff_w_m2,
        ] = *own;
        let line = SnLine::new(
            pin_strength_pa,
            PIN_CYCLES,
            pin_slope,
            BelowKnee::Elementary,
        );
        let pin_line = line.map_err(|found| {
            let remedy = "check strength and slope of the pin";
            vec![error(
                "pin_strength_pa",
                found.value,
                found.expected,
                remedy,
            )]
        })?;
        let ([pin_rq_m, boundary_friction, pin_wear, coating_m], pin_sd) = properties("pin", pin)?;
        let ([bush_rq_m, bush_wear, summit_radius_m, summit_density_per_m2], bush_sd) =
            properties("bush", bush)?;
        Ok(Self {
            engine,
            oil,
            piston_and_pin_mass_kg,
            pin: Pin {
                outer_m,
                inner_m,
                length_m,
                rod_width_m,
                boss_length_m,
                modulus_pa,
            },
            bush_clearance_m,
            oil_patch_m,
            bush_modulus_pa,
            pin_line,
            pin_tensile_pa,
            limit_bush_clearance_m,
            limit_pin_wear_m,
            limit_scuff_w_m2,
            pin_rq_m,
            boundary_friction,
            pin_wear: (pin_wear, pin_sd[2]),
            coating_m,
            pin_residual_pa: pin.residual_stress_pa.first().copied().unwrap_or(0.0),
            bush_rq_m,
            bush_wear: (bush_wear, bush_sd[1]),
            summit_radius_m,
            summit_density_per_m2,
        })
    }

    /// Bearing area of one half of the bush \[m²\].
    pub fn bush_area_m2(&self) -> f64 {
        self.pin.rod_width_m * self.pin.outer_m
    }

    /// Wear step at which the pin's life ends \[m\]: the limit, or the coating on both sides where that is thinner.
    pub fn pin_wear_limit_m(&self) -> f64 {
        if self.coating_m > 0.0 {
            self.limit_pin_wear_m.min(2.0 * self.coating_m)
        } else {
            self.limit_pin_wear_m
        }
    }
}

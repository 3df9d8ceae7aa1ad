//! The specimen as named numbers, in the order of the card.

use ringland_engine::rings::{self, Rings};
use ringland_plugin::{Finding, Specimen, error};

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    /// Rings and bore.
    pub rings: Rings,
    pub limit_gap_growth_m: f64,
    pub limit_leak_down_fraction: f64,
    pub limit_tension_loss_fraction: f64,
    pub limit_contact_band_fraction: f64,
}

/// How many numbers the card has.
pub const NUMBERS: usize = rings::NUMBERS + 4;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let rings = Rings::read(specimen)?;
        let limits = specimen.numbers.get(rings::NUMBERS..).unwrap_or_default();
        let &[gap_growth, leak_down, tension_loss, contact_band] = limits else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} values, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        Ok(Self {
            rings,
            limit_gap_growth_m: gap_growth,
            limit_leak_down_fraction: leak_down,
            limit_tension_loss_fraction: tension_loss,
            limit_contact_band_fraction: contact_band,
        })
    }
}

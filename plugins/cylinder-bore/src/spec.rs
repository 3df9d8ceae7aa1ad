//! The specimen as named numbers, in the order of the card.

use ringland_engine::rings::{self, BORE_PROPERTIES, Rings};
use ringland_plugin::{Finding, Specimen, error};

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    /// Rings and bore.
    pub rings: Rings,
    pub clearance_m: f64,
    pub shift_m: f64,
    pub thrust_share: f64,
    pub limit_taper_m: f64,
    pub limit_roundness_m: f64,
    pub limit_oil_retention_m: f64,
    pub limit_clearance_growth_m: f64,
    pub limit_removed_m: f64,
    pub rvk_m: f64,
    pub mr2_fraction: f64,
}

/// How many numbers the card has.
pub const NUMBERS: usize = rings::NUMBERS + 8;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let rings = Rings::read(specimen)?;
        let own = specimen.numbers.get(rings::NUMBERS..).unwrap_or_default();
        let valleys = specimen.surfaces.get(3).map(|bore| bore.values.as_slice());
        let valleys = valleys.and_then(|values| values.get(BORE_PROPERTIES..));
        let (
            &[
                clearance_m,
                shift_m,
                thrust_share,
                limit_taper_m,
                limit_roundness_m,
                limit_oil_retention_m,
                limit_clearance_growth_m,
                limit_removed_m,
            ],
            Some(&[rvk_m, mr2_fraction]),
        ) = (own, valleys)
        else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} values and the valleys of the bore, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        Ok(Self {
            rings,
            clearance_m,
            shift_m,
            thrust_share,
            limit_taper_m,
            limit_roundness_m,
            limit_oil_retention_m,
            limit_clearance_growth_m,
            limit_removed_m,
            rvk_m,
            mr2_fraction,
        })
    }

    /// Oil volume held in the valleys over area \[m\], that is a mean depth, after the plateau has worn by a depth \[m\].
    ///
    /// The valleys of the Abbott curve are a triangle of height Rvk on a base of 1 − Mr2 (ISO 21920-2); wear cuts it off from the
    /// top: similar triangles, so the area goes with the square of what is left of the height.
    pub fn oil_retention_m(&self, wear_m: f64) -> f64 {
        let left = (1.0 - wear_m / self.rvk_m).max(0.0);
        0.5 * (1.0 - self.mr2_fraction) * self.rvk_m * left * left
    }
}

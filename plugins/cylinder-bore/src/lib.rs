//! Life model of a cylinder bore: wear along the stroke, the casting's early shift, the valleys of the hone.
//!
//! The film under every ring is solved over crank angle and its contact laid along the bore for a grid of operating points
//! ([`bore_map`]): the same solution that wears the ring faces in the ring pack's model. A duty record then costs look-ups
//! ([`duty`]); its wear is integrated in closed form ([`condition`]).
//!
//! Knows one cylinder. What it leaves out stands on the card.

pub mod bore_map;
pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod readings;
pub mod spec;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct CylinderBore;

impl Model for CylinderBore {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        bore_map::prepare(&check::accepted(&specimen)?)
    }

    fn begin(
        specimen: Specimen,
        prepared: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let _ = (specimen, prepared);
        condition::begin(&opening)
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        condition::Model::new(&specimen, &prepared)?.advance(&condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        condition::Model::new(&specimen, &prepared)?.rework(&condition, operation)
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        let model = condition::Model::new(&specimen, &prepared)?;
        forecast::forecast(&model, &request)
    }
}

ringland_plugin::export!(CylinderBore);

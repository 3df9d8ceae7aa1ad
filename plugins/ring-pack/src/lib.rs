//! Life model of a piston ring pack: two compression rings and an oil ring with two rails.
//!
//! The film under each ring face is solved over crank angle, with asperity contact, for a grid of operating
//! points ([`operating_map`]). A duty record then costs look-ups ([`duty`]), its wear is integrated in closed
//! form ([`wear_law`]), and a forecast follows the same law ahead (`forecast`).
//!
//! Knows one cylinder, its rings and its bore. What it leaves out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod operating_map;
mod path;
mod readings;
pub mod spec;
pub mod wear_law;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct RingPack;

impl Model for RingPack {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        operating_map::prepare(&check::accepted(&specimen)?)
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
        let model = condition::Model::new(&specimen, &prepared)?;
        model.advance(&condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let _ = (specimen, prepared);
        condition::rework(&condition, operation)
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

ringland_plugin::export!(RingPack);

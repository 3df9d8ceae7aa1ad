//! Life model of the rolling bearings of one shaft: two rows that carry it together, of a gearbox, a pinion or a wheel hub.
//!
//! Loads of the place ([`shaft`]) are balanced over both rows and shared among their elements for a grid of loads and of play ([`operating_map`]). A duty record
//! then costs look-ups ([`duty`]): rated life with film and cleanliness, wear, grease, cage; impacts leave dents.
//!
//! Knows bearings and what loads them. Gears, seals and housings are components of their own or stand on the card under what is left out.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod notes;
pub mod operating_map;
mod readings;
pub mod shaft;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct RollingBearing;

impl Model for RollingBearing {
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
        begin_row(&card::condition(), &opening)
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

ringland_plugin::export!(RollingBearing);

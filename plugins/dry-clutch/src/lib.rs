//! Life model of a dry multi-disc clutch.
//!
//! The heat of an engagement is solved through the whole stack for a grid of durations and shapes of power ([`stack`], [`response_map`]); as conduction
//! is linear, one response serves any energy and any temperature at the start. A duty record is its engagements one after the other, each
//! from the temperature that the last one left ([`duty`]); wear, glazing, the plates' set, heat checks and the splines' wear are sums over them.
//!
//! Knows the clutch. Shifts, launches and their energies are duty; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod diaphragm;
pub mod duty;
pub mod engagement;
mod forecast;
pub mod heat_check;
pub mod material;
mod notes;
pub mod plate_set;
pub mod readings;
pub mod response_map;
pub mod slip;
pub mod spec;
pub mod stack;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct DryClutch;

impl Model for DryClutch {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(response_map::prepare(&check::accepted(&specimen)?))
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
        condition::Model::new(&specimen, &prepared)?;
        condition::reworked(&condition, operation)
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

ringland_plugin::export!(DryClutch);

//! Life model of a plate limited-slip differential with ramps.
//!
//! Ramps press the plates in proportion to the axle's torque, disc springs press them always. Whatever slips wears, heats and works the oil
//! ([`duty`]); worn plates unload the springs, worked oil loses its friction modifier, and friction that then falls faster with speed than the
//! half-shafts damp makes the pack chatter ([`pack`]).
//!
//! Knows the pack. The gears of the differential and the final drive are other components; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod notes;
pub mod pack;
pub mod plate_heat;
pub mod readings;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct LimitedSlip;

impl Model for LimitedSlip {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(plate_heat::prepare(&check::accepted(&specimen)?))
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

ringland_plugin::export!(LimitedSlip);

//! Life model of a poppet valve, intake or exhaust.
//!
//! The motion of the valve (engine crate) gives landings on the seat, acceleration and the dose between stem and guide for a map over speed and seat load; the gas
//! of the cylinder gives pressure and heat transfer for a map over speed and load ([`maps`]). A duty record then costs look-ups, a heat balance and
//! the damage of its temperatures ([`duty`]); all of it adds up, so that a forecast follows a straight path (`forecast`).
//!
//! Knows one valve. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod gas;
pub mod groove;
pub mod head;
pub mod maps;
pub mod material;
mod readings;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct Valve;

impl Model for Valve {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        maps::prepare(&check::accepted(&specimen)?)
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
        let model = condition::Model::new(&specimen, &prepared)?;
        condition::rework(&model.spec, &condition, operation)
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

ringland_plugin::export!(Valve);

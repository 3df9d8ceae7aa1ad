//! Life model of a piston: ring grooves, skirt, alloy and pin boss.
//!
//! Loads over the crank angle are solved for a grid of speed and load ([`solve`]): the flank pressure while the piston crosses its
//! clearance, the flights of the rings, the film under the skirt, the force on the boss. A duty record then costs look-ups ([`duty`]), and
//! what it adds is integrated in closed form ([`law`]).
//!
//! Knows one piston. Rings and bore are other components; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod law;
mod readings;
pub mod solve;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row, error,
};

/// The plugin.
pub struct Piston;

impl Model for Piston {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        solve::prepare(&check::accepted(&specimen)?)
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
        let _ = (specimen, prepared, condition);
        Err(vec![error(
            "operation",
            f64::from(operation),
            "no operation: the card has none",
            "a piston is not reworked: begin a new one",
        )])
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

ringland_plugin::export!(Piston);

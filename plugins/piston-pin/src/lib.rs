//! Life model of a piston pin and its small-end bush, as one component.
//!
//! The force between pin and bush is solved over the crank angle for a grid of speed and load, and with it the squeeze film of the starved
//! bush ([`solve`]). A duty record then costs look-ups ([`duty`]); wear, damage and hazard are sums.
//!
//! Knows pin and bush. The piston's bosses are the piston's; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod readings;
pub mod solve;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row, error,
};

/// The plugin.
pub struct PistonPin;

impl Model for PistonPin {
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
        let _ = (specimen, prepared);
        match operation {
            card::NEW_BUSH => condition::with_new_bush(&condition),
            _ => Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (new_bush)",
                "choose an operation of the card",
            )]),
        }
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

ringland_plugin::export!(PistonPin);

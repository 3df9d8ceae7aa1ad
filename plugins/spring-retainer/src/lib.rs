//! Life model of a valve-spring retainer and its keepers, as one component.
//!
//! The force on the taper, the flange and the spring seat is solved over a turn of the cam for a grid of speeds, with the motion of the whole
//! train and the surge of the spring, and with it what slides on the taper and under the spring ([`turn`]). A duty record then costs
//! look-ups ([`duty`]); wear, damage and hazard are sums.
//!
//! Knows retainer and keepers. The groove is the valve's, the load lost by the sink the spring's; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod joint;
pub mod material;
mod notes;
pub mod operating_map;
mod readings;
pub mod spec;
pub mod turn;
pub mod wear;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct SpringRetainer;

impl Model for SpringRetainer {
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
        let model = condition::Model::new(&specimen, &prepared)?;
        match operation {
            card::NEW_KEEPERS => condition::with_new_keepers(&model.spec, &condition),
            _ => Err(readings::no_operation(operation)),
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

ringland_plugin::export!(SpringRetainer);

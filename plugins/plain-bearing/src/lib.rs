//! Life model of the plain bearings of a crank: the shells of a big end or of a main bearing, bare or coated.
//!
//! The film of the journal is solved in two dimensions and followed over the load cycle with asperity contact, for a grid of operating
//! points, viscosities and fillings of the gap ([`operating_map`]). A duty record then costs look-ups ([`duty`]); wear, fatigue and
//! boundary heat are added to the condition ([`condition`]), and a forecast follows the same law ahead (`forecast`).
//!
//! Knows one bearing: two shells and their journal. What it leaves out stands on the card.

pub mod bearing;
pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod operating_map;
mod readings;
pub mod shell_load;
pub mod spec;
pub mod starting;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct PlainBearing;

impl Model for PlainBearing {
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
        ringland_plugin::begin_row(&card::condition(), &opening)
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

ringland_plugin::export!(PlainBearing);

//! Life model of a steel connecting rod.
//!
//! Forces and bending over the engine cycle give the stress at three sites ([`stress`]); its cycles are counted and compared over depth with
//! a strength that roughness, inclusions and retained residual stress shift ([`cycle_damage`]), for a grid of operating points
//! ([`operating_map`]). A duty record then costs look-ups ([`condition`]), residual stress relaxes in closed form ([`relaxation`]), and
//! a forecast follows the same law ahead (`forecast`).
//!
//! Knows one rod. What it leaves out stands on the card.

pub mod buckling;
pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod cycle_damage;
mod forecast;
pub mod operating_map;
mod readings;
pub mod relaxation;
pub mod spec;
pub mod stress;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct ConnectingRod;

impl Model for ConnectingRod {
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

ringland_plugin::export!(ConnectingRod);

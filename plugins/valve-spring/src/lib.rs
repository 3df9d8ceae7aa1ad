//! Life model of a matched set of valve springs.
//!
//! The motion of the valve train gives the force in the coil at stations along the spring, surge included, over a turn of the cam
//! ([`turn`]). Its stress cycles are counted and compared over depth with the strength of the wire, shifted by residual stress ([`wire`]), for close nodes
//! of engine speed and two seat loads ([`speed_map`]). A duty record then costs look-ups ([`condition`]); the load that the spring has lost goes
//! back into the motion; a forecast follows the same law ahead (`forecast`) for the weakest of the set.
//!
//! Knows one valve's train and springs that are alike. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
mod forecast;
mod readings;
pub mod spec;
pub mod speed_map;
pub mod turn;
pub mod wire;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

/// The plugin.
pub struct ValveSpring;

impl Model for ValveSpring {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        speed_map::prepare(&check::accepted(&specimen)?)
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
        let springs = condition::Springs::new(&specimen, &prepared)?;
        springs.advance(&condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let springs = condition::Springs::new(&specimen, &prepared)?;
        springs.rework(&condition, operation)
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        let springs = condition::Springs::new(&specimen, &prepared)?;
        forecast::forecast(&springs, &request)
    }
}

ringland_plugin::export!(ValveSpring);

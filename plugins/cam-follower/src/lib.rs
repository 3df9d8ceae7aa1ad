//! Life model of a cam lobe and its follower: flat tappet, sliding pad or roller.
//!
//! The valve train's motion at a speed gives the force on the contact round the cam; Hertz pressure, film, load sharing and flash
//! temperature follow at every instant ([`turn`]), for a grid of speeds and viscosities ([`speed_map`]). A duty record then costs look-ups
//! ([`duty`]); wear at stations around the lobe, wear of the follower and pitting of both are added to the condition ([`condition`]), and a
//! forecast follows the same law ahead (`forecast`).
//!
//! Knows one lobe and its follower. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod readings;
pub mod roller;
pub mod spec;
pub mod speed_map;
pub mod turn;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct CamFollower;

impl Model for CamFollower {
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

ringland_plugin::export!(CamFollower);

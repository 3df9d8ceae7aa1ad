//! Life model of the gears of a gearbox: cylindrical pairs on one centre distance, engaged by dogs.
//!
//! Teeth, shifts and centre distance give the mesh ([`spec`]); torque and speed give load factors, contact and root stress, lives,
//! temperatures and film along the path of contact ([`running`]). A duty record adds Miner sums, wear and the rounding of dogs to each
//! gear ([`duty`], [`condition`]); a forecast follows the same law ahead and joins the gears by their weakest link (`forecast`).
//!
//! Knows one box. What it leaves out stands on the card.

pub mod asperities;
pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod readings;
pub mod root_strength;
pub mod running;
pub mod spec;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct GearSet;

impl Model for GearSet {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        check::accepted(&specimen)?;
        Ok(asperities::prepare())
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

ringland_plugin::export!(GearSet);

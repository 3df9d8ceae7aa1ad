//! Life model of the ring gear and pinion of a final drive: spiral bevel or hypoid.
//!
//! Pitch cones and the cylinders that stand for them give the stresses of both flanks and roots ([`gears`]); along the path of contact the
//! film, the asperities' share, the wear of a mesh and the flash temperature follow ([`mesh`]), for a grid of speed, torque and oil
//! temperature ([`mesh_map`]). A duty record then costs look-ups ([`duty`]); pitting, root fatigue, wear, backlash and the settling of
//! the bearings are added to the condition ([`condition`]), and a forecast follows the same law ahead (`forecast`).
//!
//! Knows one pair. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod gears;
pub mod mesh;
pub mod mesh_map;
mod readings;
pub mod spec;
pub mod strength;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct FinalDrive;

impl Model for FinalDrive {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        mesh_map::prepare(&check::accepted(&specimen)?)
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

ringland_plugin::export!(FinalDrive);

//! Life model of a fixed constant-velocity ball joint.
//!
//! The map holds a turn of the joint at each angle (`ringland_mechanics::cv_joint`): what the balls carry, how far they roll and slide. A record
//! (`duty`) becomes turns under torque, the heat that they make and the temperature that follows; pitting, wear, grease and the boot add up in the condition (`condition`).
//! A forecast follows the same ahead (`forecast`).
//!
//! Knows one joint. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod notes;
pub mod readings;
pub mod spec;
pub mod turns;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct CvJoint;

impl Model for CvJoint {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(turns::prepare(&check::accepted(&specimen)?))
    }

    fn begin(
        specimen: Specimen,
        prepared: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        condition::Joint::new(&specimen, &prepared)?.begin(&opening)
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        condition::Joint::new(&specimen, &prepared)?.advance(&condition, &duties)
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
        let joint = condition::Joint::new(&specimen, &prepared)?;
        forecast::forecast(&joint, &request)
    }
}

ringland_plugin::export!(CvJoint);

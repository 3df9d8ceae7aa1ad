//! Life model of a half-shaft.
//!
//! Counted cycles of the axle torque, by the share that this shaft takes of it, give the shear stress at three notches ([`spec`], `site`). The hardest torques so far
//! have set each notch and the shaft itself (the condition, `condition`); about that set each cycle is compared over depth with a strength that roughness and
//! retained residual stress shift (`duty`). A forecast follows the same law ahead (`forecast`).
//!
//! Knows one shaft and the spline on it. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
mod notes;
pub mod readings;
pub mod site;
pub mod spec;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct AxleShaft;

impl Model for AxleShaft {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        condition::prepare(&check::accepted(&specimen)?)
    }

    fn begin(
        specimen: Specimen,
        prepared: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        condition::Shaft::new(&specimen, &prepared)?.begin(&opening)
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        condition::Shaft::new(&specimen, &prepared)?.advance(&condition, &duties)
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
        let shaft = condition::Shaft::new(&specimen, &prepared)?;
        forecast::forecast(&shaft, &request)
    }
}

ringland_plugin::export!(AxleShaft);

//! Life model of the rod bolts of one engine: did they get their preload, and do they keep it?
//!
//! The load on the joint between rod and cap is solved over crank angle from gas and inertia ([`loads`]). A bolt of
//! any preload follows the joint diagram: it opens, yields, embeds and is damaged in closed form ([`bolt`]). The spread of preload between
//! the bolts dominates, so damage is kept for a row of preloads ([`condition`]) and a forecast draws whole sets (`ahead`, `forecast`).
//!
//! Knows the joint, its loads and its tightening. What it leaves out stands on the card.

mod ahead;
pub mod bolt;
pub mod card;
mod check;
pub mod condition;
pub mod constants;
mod forecast;
pub mod loads;
mod readings;
pub mod set;
pub mod spec;

use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen};

/// The plugin.
pub struct RodBolt;

impl Model for RodBolt {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        loads::prepare(&check::accepted(&specimen)?)
    }

    fn begin(
        specimen: Specimen,
        prepared: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        condition::begin(&bound(&specimen, &prepared)?, &opening)
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        bound(&specimen, &prepared)?.advance(&condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        bound(&specimen, &prepared)?.rework(&condition, operation)
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        forecast::forecast(&bound(&specimen, &prepared)?, &request)
    }
}

fn bound<'a>(
    specimen: &Specimen,
    prepared: &'a [f64],
) -> Result<condition::Bolts<'a>, Vec<Finding>> {
    condition::Bolts::new(specimen, prepared)
}

ringland_plugin::export!(RodBolt);

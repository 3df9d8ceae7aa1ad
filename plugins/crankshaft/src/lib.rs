//! Life model of a crankshaft of an in-line engine: fatigue of its fillets and of the shoulder of its nose, wear of its pins, ageing of its
//! damper.
//!
//! For a grid of operating points the gas and inertia forces of a throw are traced over 720°; the torque of all throws in their firing
//! phases drives a torsional model with damper and flywheel ([`torsion`]); bending and torsion become local stress whose cycles are
//! counted ([`stress`], [`operating_map`]). Against that stands the strength over depth of the fillets' surface ([`strength`]). A duty
//! record then costs look-ups ([`duty`]).
//!
//! Knows one crankshaft with one rod on each throw. What it leaves out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod operating_map;
mod readings;
pub mod spec;
pub mod strength;
pub mod stress;
pub mod torsion;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

use crate::operating_map::Resolution;
use crate::spec::Spec;

/// The plugin.
pub struct Crankshaft;

impl Model for Crankshaft {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        operating_map::prepare(&check::accepted(&specimen)?, &Resolution::MAP)
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
        let spec = Spec::read(&specimen)?;
        condition::advance(&spec, &prepared, &condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let _ = prepared;
        condition::rework(&Spec::read(&specimen)?, &condition, operation)
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        let spec = Spec::read(&specimen)?;
        forecast::forecast(&spec, &prepared, &request)
    }
}

ringland_plugin::export!(Crankshaft);

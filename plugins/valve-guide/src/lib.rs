//! Life model of a valve guide.
//!
//! The valve train gives the forces on the valve's tip over a turn of the cam; equilibrium of moments turns them into forces at both ends
//! of the guide ([`solve`]), solved over engine speed. A duty record then costs look-ups, a temperature and an oil film each ([`duty`]);
//! worn volumes are sums, and geometry turns them into clearance and wobble.
//!
//! Knows one guide. The stem that runs in it wears in the valve's model, by the same contact law; what is left out stands on the card.

pub mod card;
mod check;
pub mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod heat;
pub mod materials;
mod readings;
pub mod solve;
pub mod spec;
pub mod wear_limit;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row, error,
};

/// The plugin.
pub struct ValveGuide;

impl Model for ValveGuide {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        solve::prepare(&check::accepted(&specimen)?)
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
        condition::Model::new(&specimen, &prepared)?.advance(&condition, &duties)
    }

    fn rework(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let _ = (specimen, prepared);
        if operation == card::BORE_SEEN {
            condition::with_bore_seen(&condition)
        } else {
            Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (bore_seen)",
                "choose an operation of the card",
            )])
        }
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        forecast::forecast(&condition::Model::new(&specimen, &prepared)?, &request)
    }
}

ringland_plugin::export!(ValveGuide);

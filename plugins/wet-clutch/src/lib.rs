//! Life model of a wet clutch pack of a dual clutch or automatic gearbox.
//!
//! Heat of unit energy through separator, lining and core, cooled by oil in the grooves, is solved for durations and courses of the power
//! ([`heat_map`]). An engagement or shift then costs a look-up and an integral of the lining's ageing over its temperatures ([`duty`]).
//!
//! Knows the pack and its oil. Shafts, gears and the control of the clutch are others'; what is left out stands on the card.

pub mod card;
mod check;
mod condition;
pub mod constants;
pub mod duty;
mod forecast;
pub mod heat_map;
mod notes;
pub mod pack;
mod readings;
pub mod spec;

use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, begin_row,
};

use card::slot;

/// The plugin.
pub struct WetClutch;

impl Model for WetClutch {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check::check(&specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        heat_map::prepare(&check::accepted(&specimen)?)
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
        match operation {
            card::NEW_OIL => condition::renewed(&condition, &[slot::OIL_AGE, slot::OXIDATION]),
            card::NEW_SEPARATORS => {
                condition::renewed(&condition, &[slot::FLATNESS, slot::HOTTEST])
            }
            card::NEW_LININGS => {
                condition::renewed(&condition, &[slot::GLAZE, slot::LINING, slot::WEAR])
            }
            _ => Err(readings::no_operation(operation)),
        }
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

ringland_plugin::export!(WetClutch);

//! Life of the friction plates of a limited-slip differential: plates worn by slip, preload lost
//! with them, the oil's friction modifier used up by friction energy.
//!
//! | file | subject |
//! | --- | --- |
//! | `card.rs` | what the model says of itself |
//! | `pack.rs` | one pack: its spec, locking torque, wear while it slips |
//! | `life.rs` | the way to the limits, drawn lives, readings |

mod card;
mod life;
mod pack;

use pack::{Condition, Pack};
use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, Model, ModelCard, Specimen, check_against_card,
    error, warning,
};
use std::f64::consts::TAU;

/// The model.
pub struct DifferentialClutch;

impl Model for DifferentialClutch {
    fn card() -> ModelCard {
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        let mut findings = check_against_card(&card::card(), &specimen);
        if findings.is_empty() {
            findings = contradictions(&Pack::new(&specimen));
        }
        findings
    }

    /// Nothing is costly here: the few derived numbers are made anew in each call.
    fn prepare(_: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(Vec::new())
    }

    fn begin(
        _: Specimen,
        _: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(opening.iter().map(|known| known.unwrap_or(0.0)).collect())
    }

    fn advance(
        specimen: Specimen,
        _: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let pack = Pack::new(&specimen);
        let mut condition = Condition::from_row(&condition);
        let after = |duty| {
            condition = pack.after(&condition, duty);
            condition.row()
        };
        Ok(duties.iter().map(after).collect())
    }

    fn rework(
        _: Specimen,
        _: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        let mut condition = Condition::from_row(&condition);
        match operation {
            card::OIL_CHANGE => condition.energy_in_oil_j = 0.0,
            card::RESHIM => condition.shimmed_m = condition.stack_loss_m,
            other => {
                let remedy = "name one of the card's operations";
                return Err(vec![error("operation", other, "0 or 1", remedy)]);
            }
        }
        Ok(condition.row())
    }

    fn forecast(
        specimen: Specimen,
        _: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        Ok(life::forecast(&Pack::new(&specimen), &request))
    }
}

/// What is wrong with a spec in itself, each number being in its range.
fn contradictions(pack: &Pack) -> Vec<Finding> {
    let mut findings = Vec::new();
    if pack.preload_limit_n_m >= pack.preload_n_m {
        findings.push(error(
            "preload_limit_n_m",
            pack.preload_limit_n_m,
            &format!("less than the preload of {} N.m", pack.preload_n_m),
            "a pack that starts below its limit has no life: check both",
        ));
    }
    // Faces are rings about the mean radius: wider than it, and the inner radius is negative.
    let width_m = pack.face_area_m2 / (pack.faces * TAU * pack.mean_radius_m);
    if width_m > pack.mean_radius_m {
        findings.push(warning(
            "face_area_m2",
            pack.face_area_m2,
            "the area of all faces, each a ring about the mean radius",
            "check that it is in square metres and not the area of the steels",
        ));
    }
    findings
}

ringland_plugin::export!(DifferentialClutch);

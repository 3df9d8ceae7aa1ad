//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, mechanism};
use crate::condition::{Model, Row, Stretch};
use crate::constants as c;
use crate::readings::{damages, fatigue_sum};

/// Share of the time at a thin film that is told.
const MUCH: f64 = 0.5;

/// Notes on a forecast.
pub fn notes(
    model: &Model<'_>,
    now: &Row,
    event: &Stretch,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let total = &event.total;
    if total.beyond {
        let remedy = "loads beyond the solved ones are extrapolated: raise full_torque_n_m, or treat the life as a guess";
        notes.push(warning(
            "event",
            "off the map",
            "loads on the prepared map",
            remedy,
        ));
    }
    let [thin_s, turning_s] = total.thin_s;
    if thin_s > MUCH * turning_s {
        let expected = format!("a viscosity ratio above {} most of the time", c::THIN_FILM);
        let remedy =
            "cooler or thicker oil, smoother raceways; below that ratio the oil's additives decide";
        notes.push(warning("event.oil", thin_s / turning_s, &expected, remedy));
    }
    if total.fastest > 1.0 {
        let expected = "at most the limiting speed";
        let remedy = "a lighter or machined cage, ceramic balls, or a bearing of another series: follow the bearing's maker";
        notes.push(warning(
            "event.engine_speed_rad_s",
            total.fastest,
            expected,
            remedy,
        ));
    }
    if event.dents.deepest >= c::RATED_DENT {
        let remedy = "impacts beyond the static rating: feel for roughness after the event; a hub with a brinell mark is not used again";
        notes.push(warning(
            "event.impact",
            event.dents.deepest,
            "impacts within the static rating",
            remedy,
        ));
    }
    let sum = fatigue_sum(now);
    if sum >= 1.0 {
        let remedy =
            "one set in ten has spalled by now: replace, or watch the vibration and the magnet";
        notes.push(warning("fatigue", sum, "a rated life used below 1", remedy));
    }
    notes.extend(standing_in(&model.need, &request.event));
    let mut damages = damages(model, now);
    // Hazards have no limit to pass.
    damages[mechanism::FATIGUE] = 0.0;
    damages[mechanism::CAGE] = 0.0;
    notes.extend(past_limits(&card::mechanisms(), &damages));
    notes
}

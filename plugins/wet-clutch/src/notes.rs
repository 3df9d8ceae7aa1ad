//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, mechanism, reading};
use crate::condition::{Model, Row};
use crate::constants as c;
use crate::duty::Parts;
use crate::readings::{damages, readings};

/// Notes on a forecast.
pub fn notes(
    model: &Model<'_>,
    now: &Row,
    parts: &Parts,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let event = parts.total();
    if event.off_the_map {
        let remedy = "held to the map: heat is spread more evenly or over less time than it was";
        let expected = "engagements up to 20 s, peak power up to 4 times the mean";
        notes.push(warning(
            "event.engagements",
            "off the map",
            expected,
            remedy,
        ));
    }
    if event.hottest_k > c::HALF_YIELD_K {
        let expected = format!("an interface below {} K", c::HALF_YIELD_K);
        let remedy = "the pack is too small for this engagement: blue steels and burnt oil; cut its energy, add faces or thicker separators, inspect before further use";
        notes.push(warning("hottest_k", event.hottest_k, &expected, remedy));
    }
    if event.hot_spots > 1.0 {
        let expected = "sliding slower than the speed at which hot spots grow";
        let remedy = "look for blue spots on the separators: less launch speed, a softer lining or thicker separators";
        notes.push(warning(
            "event.hot_spots",
            event.hot_spots,
            expected,
            remedy,
        ));
    }
    let then = readings(&model.spec, now, &[1.0; mechanism::COUNT]);
    let capacity_n_m = then[reading::CAPACITY];
    if capacity_n_m < parts.torque_n_m {
        let expected = format!("at least the engine's {} N.m", parts.torque_n_m);
        let remedy = "the pack slips on under full torque: heat of that slip is in no engagement; more clamp or a new lining";
        notes.push(warning("capacity_n_m", capacity_n_m, &expected, remedy));
    }
    if then[reading::ACID] >= model.spec.limit_acid {
        let expected = format!("a rise below {} kg/kg", model.spec.limit_acid);
        notes.push(warning(
            "acid_rise",
            then[reading::ACID],
            &expected,
            "change the oil",
        ));
    }
    notes.extend(standing_in(&model.need, &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(&model.spec, now)));
    notes
}

//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, slot};
use crate::condition::{Model, Row};
use crate::duty::Added;
use crate::pack::{chatter_index, modifier};
use crate::readings::damages;

/// Temperature of a face beyond which common practice looks at the plates \[K\].
const LOOK_K: f64 = 473.15;

/// Notes on a forecast.
pub fn notes(model: &Model, now: &Row, event: &Added, request: &ForecastRequest) -> Vec<Finding> {
    let spec = &model.spec;
    let mut notes = Vec::new();
    if event.hottest_k > LOOK_K {
        let remedy = "one wheel spins for long or the oil is hot: look at the steels for blue and scores after the event, and change the oil";
        let expected = format!("faces of at most {LOOK_K} K");
        notes.push(warning("event", event.hottest_k, &expected, remedy));
    }
    if event.band_strain > 0.0 {
        let remedy = "a band of the steels gets hot enough to yield: a plate may come out warped from the first such slip";
        notes.push(warning(
            "event",
            event.band_strain,
            "no plastic strain",
            remedy,
        ));
    }
    let left = modifier(spec, now[slot::OIL_DOSE]);
    let index = chatter_index(spec, left, now[slot::GLAZE]);
    if index > 1.0 {
        let remedy = "friction falls faster with speed than the half-shafts damp: expect chatter in slow corners; change the oil, with more friction modifier if it stays";
        notes.push(warning("chatter_index", index, "at most 1", remedy));
    }
    notes.extend(standing_in(&model.need, &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(spec, now)));
    notes
}

//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, slot};
use crate::condition::{Model, Row};
use crate::constants::TRANSFORMS_K;
use crate::duty::Added;
use crate::readings::{damages, judder_index};

/// Notes on a forecast.
pub fn notes(
    model: &Model<'_>,
    now: &Row,
    event: &Added,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let spec = &model.spec;
    let mut notes = Vec::new();
    heat(model, event, &mut notes);
    slip(model, now, event, &mut notes);
    let index = judder_index(spec, now[slot::STACK_WEAR], now[slot::GLAZE]);
    if index > 1.0 {
        let remedy = "friction falls faster with speed than the driveline damps: expect judder as it pulls away; change the lining, or damp the discs' hubs";
        notes.push(warning("judder_index", index, "at most 1", remedy));
    }
    notes.extend(standing_in(&model.need, &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(spec, now)));
    notes
}

/// Heat beyond what the plates or the map bear.
fn heat(model: &Model<'_>, event: &Added, notes: &mut Vec<Finding>) {
    let limit_k = model.spec.limit_plate_k;
    if event.plate_k > limit_k {
        let expected =
            format!("at most {limit_k} K in a plate, the limit of its temperature paint");
        let remedy = "fewer or shorter launches in a row, time to cool between them, or more mass; look at every plate before it runs again";
        notes.push(warning("event", event.plate_k, &expected, remedy));
    }
    if event.band_k > TRANSFORMS_K && model.spec.materials.plate.steel {
        let expected = format!("hot bands below {TRANSFORMS_K} K");
        let remedy = "the steel of the bands turns to brittle martensite, which the model does not count: look for blue and straw bands and for cracks after the event";
        notes.push(warning("event", event.band_k, &expected, remedy));
    }
    if event.effects.iter().any(|effect| effect.off_the_map) {
        let remedy = "log each engagement on its own: longer slip is taken at the response of the longest on the map, on the hot side";
        notes.push(warning(
            "event.duration_s",
            "longer than the map",
            "engagements of up to 23 s",
            remedy,
        ));
    }
}

/// Torque beyond what the clutch holds.
fn slip(model: &Model<'_>, now: &Row, event: &Added, notes: &mut Vec<Finding>) {
    let capacity_n_m = model
        .spec
        .capacity_n_m(now[slot::STACK_WEAR], now[slot::GLAZE]);
    if event.engine_torque_n_m > capacity_n_m {
        let expected = format!("engine torque up to {capacity_n_m:.0} N.m, what the clutch holds");
        let remedy = "it slips under full torque, and what that heats is not in the log's engagements: replace the linings or raise the clamp load";
        notes.push(warning(
            "event.engine_torque_n_m",
            event.engine_torque_n_m,
            &expected,
            remedy,
        ));
    }
    let peak_n_m = event
        .effects
        .iter()
        .map(|effect| effect.torque_n_m)
        .fold(0.0, f64::max);
    if peak_n_m > capacity_n_m {
        let expected = format!("torque while slipping up to {capacity_n_m:.0} N.m");
        let remedy = "the logged torque is more than friction can give: check friction and clamp load of the spec, or the log";
        notes.push(warning(
            "event.peak_torque_n_m",
            peak_n_m,
            &expected,
            remedy,
        ));
    }
}

//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, Spread, past_limits, standing_in, warning};

use crate::card::{self, mechanism, slot};
use crate::condition::{Model, Row};
use crate::constants::JUMP_M;
use crate::duty::Added;
use crate::readings::damages;

/// Notes on a forecast.
pub fn notes(
    model: &Model<'_>,
    now: &Row,
    event: &Added,
    spreads: &[Spread],
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    if event.off_the_map {
        let remedy = "faster than the map: forces are held at those of its fastest speed, treat them as a guess on the low side";
        notes.push(warning(
            "event.engine_speed_rad_s",
            "off the map",
            "speeds on the prepared map",
            remedy,
        ));
    }
    taper(model, event, &mut notes);
    let then = model.after(now, event, 1.0);
    let jump_m = (then[slot::SINK] - now[slot::SINK]) * spreads[mechanism::SINK].at(0.0);
    if jump_m > JUMP_M {
        let expected = format!("at most {JUMP_M} m of sink in one event");
        let remedy = "float or a wrong angle: stop; measure installed height, blue the tapers, check spring load and over-revs before it runs again";
        notes.push(warning("sink_m", jump_m, &expected, remedy));
    }
    notes.extend(standing_in(&model.need, &request.event));
    let mut damages = damages(&model.spec, now);
    // A hazard has no limit to pass.
    damages[mechanism::GALLING] = 0.0;
    notes.extend(past_limits(&card::mechanisms(), &damages));
    notes
}

/// Whether the taper holds as a whole over the event.
fn taper(model: &Model<'_>, event: &Added, notes: &mut Vec<Finding>) {
    if event.came_off > 0.0 {
        let expected = "a force that never turns round";
        let remedy = "the valve lands so hard that the retainer comes off its keepers and jams on again: lower the speed or raise the seat load";
        notes.push(warning("event", "taper comes off", expected, remedy));
        return;
    }
    let slides_back = model.spec.cone().slides_back_share();
    if event.least_share < slides_back {
        let expected = format!("a force on the taper above {slides_back:.3} of its highest");
        let remedy =
            "the whole taper slides at each turn: less force range, a finer angle or a drier taper";
        notes.push(warning("event", event.least_share, &expected, remedy));
    }
}

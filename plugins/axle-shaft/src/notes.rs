//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, slot};
use crate::condition::{Row, Shaft};
use crate::constants::MISSED_LAUNCH;
use crate::duty::ShaftUse;
use crate::readings::{damages, hardest_n_m};

/// Notes on a forecast: the condition now, the one after the next event, the event.
pub fn notes(
    shaft: &Shaft,
    (now, next): (&Row, &Row),
    used: &ShaftUse,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let runs = used
        .points
        .iter()
        .any(|(time_s, torque)| *time_s > 0.0 && *torque != 0.0);
    if used.counted.is_empty() && runs {
        let remedy = "log the axle torque as it runs: without counted cycles the fatigue of an event is not seen";
        let expected = "counted cycles of axle_torque_n_m";
        notes.push(warning("event.cycles", 0.0, expected, remedy));
    }
    let missed = used.launch_n_m > MISSED_LAUNCH * used.highest_n_m;
    if missed && !used.counted.is_empty() && !shaft.spec.launches_by_clutch {
        let expected = format!(
            "launches within the counted cycles, which go to {:.0} N.m on this shaft",
            used.highest_n_m
        );
        let remedy =
            "by the clutch they are harder: measure the torque, or set launch_torque to clutch";
        notes.push(warning("event.launch", used.launch_n_m, &expected, remedy));
    }
    let yield_n_m = shaft.spec.body.yield_torque_n_m();
    let borne_n_m = yield_n_m.max(shaft.spec.preset_torque_n_m);
    if hardest_n_m(next) > borne_n_m {
        let expected = format!("at most {borne_n_m:.0} N.m, beyond which the body twists for good");
        let remedy = "look at the line on the shaft after each run; find out which launch it was";
        let highest = next[slot::HIGHEST].max(next[slot::REVERSE]);
        notes.push(warning("highest_torque_n_m", highest, &expected, remedy));
    }
    notes.extend(standing_in(&shaft.need, &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(shaft, now)));
    notes
}

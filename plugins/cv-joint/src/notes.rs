//! What the reader of a forecast should know.

use ringland_plugin::{Finding, ForecastRequest, past_limits, standing_in, warning};

use crate::card::{self, mechanism};
use crate::condition::{Joint, Row};
use crate::duty::JointUse;
use crate::readings::damages;

/// Notes on a forecast: the condition now, the one after the next event, the event.
pub fn notes(
    joint: &Joint,
    (now, next): (&Row, &Row),
    event: &JointUse,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let steep_rad = joint.spec.joint.steep_rad();
    if event.angle_rad > steep_rad {
        let expected = format!("at most {steep_rad:.2} rad under torque");
        let remedy = "few balls carry all of it there, and friction, which is left out, decides: take the damage as a guess; check ride height and droop";
        notes.push(warning(
            "event.joint_angle_rad",
            event.angle_rad,
            &expected,
            remedy,
        ));
    }
    let turning = event.total[card::slot::TURNS] > 0.0;
    if turning && !event.counted {
        let remedy =
            "log the axle torque as it runs: peaks between operating points leave their set unseen";
        let expected = "counted cycles of axle_torque_n_m";
        notes.push(warning("event.cycles", 0.0, expected, remedy));
    }
    if let Some(surface_k) = event.surface_k {
        heat(joint, surface_k, &mut notes);
    }
    let after = damages(joint, next);
    let before = damages(joint, now);
    let set = mechanism::INDENTATION;
    if after[set] >= 1.0 && before[set] < 1.0 {
        let expected = format!("at most {:.2e} Pa", joint.spec.set_pressure_pa());
        let remedy = "tracks take a set in this event: feel for notches, look at the tracks at 10x; find out which launch it was";
        notes.push(warning(
            "highest_pressure_pa",
            next[card::slot::PRESSURE],
            &expected,
            remedy,
        ));
    }
    notes.extend(standing_in(&joint.need, &request.event));
    let mut damages = before;
    // A hazard has no limit to pass.
    damages[mechanism::BOOT] = 0.0;
    notes.extend(past_limits(&card::mechanisms(), &damages));
    notes
}

fn heat(joint: &Joint, surface_k: f64, notes: &mut Vec<Finding>) {
    let spec = &joint.spec;
    if surface_k > spec.limit_surface_k {
        let expected = format!("at most {} K", spec.limit_surface_k);
        let remedy = "less angle, air over the joint, or a larger joint; measure with an infrared thermometer at once after the run";
        notes.push(warning("surface_temp_k", surface_k, &expected, remedy));
    }
    if surface_k > spec.grease_limit_k {
        let expected = format!("at most {} K, which the grease stands", spec.grease_limit_k);
        let remedy = "the grease runs out of its thickener: replace it, and the joint if its tracks are blue";
        notes.push(warning("grease_limit_k", surface_k, &expected, remedy));
    }
}

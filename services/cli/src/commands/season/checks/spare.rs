//! The spare engine in place of engine A for the long race.

use super::{Answer, Stand, action, advised, damage, mechanism};
use crate::{CliError, numbers::percent};
use ringland_proto::v1::Action;

const BEFORE: &str = "r6";
const SPARE: &str = "engine-s";
/// The long race and the event after it, by their severities in the season.
const RACES: [&str; 2] = ["r7", "r8"];

pub(super) fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    // Predicted by the profile of R7, which all units of the kind share.
    let springs = stand.part(BEFORE, SPARE, "valve_spring")?;
    let rods = stand.part(BEFORE, SPARE, "connecting_rod")?;
    let risk = springs.risk_next_event;
    let told = [springs, rods].map(|one| action(one) >= Action::Replace);
    let severity = |code: &str| {
        let events = &stand.calendar.season.events;
        events
            .iter()
            .find(|one| one.code == code)
            .map_or(0.0, |one| one.severity)
    };
    // A life is counted in events like the first of them.
    let [long, next] = RACES.map(severity);
    let through = (long + next) / long;
    let p05 = springs.life.as_ref().and_then(|life| life.events);
    let p05 = p05.map_or(f64::INFINITY, |events| events.p05);
    let fatigue = mechanism(springs, "fatigue")?;
    Ok(vec![
        Answer::figure(
            "springs",
            100.0 * risk,
            format!(
                "{} of it by fatigue; {}",
                percent(fatigue.risk_next_event),
                advised(springs)
            ),
        ),
        Answer::figure(
            "rods",
            damage(rods, "damage"),
            format!("of their life at the place that has most; {}", advised(rods)),
        ),
        Answer::principle(
            "acceptable",
            told.iter().all(|told| !told),
            format!("springs {} Rods {}", advised(springs), advised(rods)),
        )
        .where_it_differs(
            "a rod that breaks can hurt people: its cap is 0.1 % an event, and used rods of this sum are over it",
        ),
        Answer::principle(
            "then",
            p05 < through,
            format!(
                "the 5 % quantile of their life is {p05:.2} events like R7; R7 and R8 are {through:.2} of them"
            ),
        )
        .where_it_differs("by the model loss of seat load ends these springs, not fatigue, and later"),
    ])
}

//! The missed downshift of engine A.

use super::{Answer, Stand, action, advised, mechanism, reading};
use crate::{
    CliError,
    commands::season::duty::shocks,
    names,
    numbers::{percent, significant},
};
use ringland_proto::v1::Action;
use std::f64::consts::PI;

const EVENT: &str = "r2";
const ENGINE: &str = "engine-a";
/// More than this is not little.
const LITTLE_RISK: f64 = 0.01;

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let record = &stand.log(EVENT, ENGINE)?.record;
    let peaks = shocks(record, "over_rev", "peak_engine_speed_rad_s");
    let peak_rpm = peaks.iter().fold(0.0, |most: f64, peak| most.max(*peak)) * 30.0 / PI;
    let lasted_s: f64 = shocks(record, "over_rev", "duration_s").iter().sum();
    let bolts = stand.part(EVENT, ENGINE, "rod_bolt")?;
    let rods = stand.part(EVENT, ENGINE, "connecting_rod")?;

    let condition = bolts.provenance.clone().unwrap_or_default().condition;
    let peak_n = condition.get("peak_load_n").copied().unwrap_or_default();
    // The event itself as the one to come: the preload below which it opens the joint.
    let duty = record.duty.clone().unwrap_or_default();
    let again = stand.table_as_event("r2-of-a-again", duty).await?;
    let again = stand.predict(&bolts.component, &again, Vec::new()).await?;
    let opens_n = reading(&again, "opening_preload_n")?;

    let worst = rods
        .mechanisms
        .iter()
        .filter(|one| one.mechanism.contains("fatigue"))
        .map(|one| one.risk_next_event)
        .fold(0.0, f64::max);
    let place = format!("units/{ENGINE}");
    let round = stand.round(EVENT)?;
    let told = |wanted: Action| {
        let own = round.ran.iter().filter(|one| one.unit == place);
        let told = own.filter(|one| action(one) == wanted);
        told.map(|one| names::id(&one.component))
            .collect::<Vec<_>>()
    };
    let (stopped, replaced) = (told(Action::Stop), told(Action::Replace));
    let opening = mechanism(bolts, "opening")?;
    let said_of_stretch = bolts
        .notes
        .iter()
        .map(|note| format!("{} {}", note.field, note.remedy))
        .chain([advised(bolts)])
        .find(|text| text.contains("stretch"));
    Ok(vec![
        Answer::figure(
            "in-the-log",
            peak_rpm,
            format!(
                "{} over-rev, {} s in all above the threshold",
                peaks.len(),
                significant(lasted_s, 2)
            ),
        ),
        Answer::figure(
            "load",
            peak_n / 1e3,
            "highest external load of a bolt since it was tightened",
        )
        .where_it_differs("the model's prying and masses are those on its card"),
        Answer::figure(
            "opens-below",
            opens_n / 1e3,
            format!(
                "the same event again opens the joint below this preload; risk that it opens in the next event {}",
                percent(opening.risk_next_event)
            ),
        ),
        Answer::principle(
            "rods",
            worst < LITTLE_RISK,
            format!(
                "highest fatigue risk of the rods in the next event {}; {}",
                percent(worst),
                advised(rods)
            ),
        ),
        Answer::principle(
            "no-panic-strip",
            stopped.is_empty(),
            format!(
                "told to stop: {}; to be replaced at the next opportunity: {}",
                listed(&stopped),
                listed(&replaced)
            ),
        ),
        Answer::principle(
            "stretch",
            said_of_stretch.is_some(),
            said_of_stretch.unwrap_or_else(|| format!("stretch is not named; {}", advised(bolts))),
        )
        .where_it_differs("the maker's limit is not passed and the model computes no stretch for good, so nothing asks for a look; the card's caution is stricter: more than 10 % above the redline is scrap"),
    ])
}

fn listed(names: &[&str]) -> String {
    if names.is_empty() {
        return "none".into();
    }
    names.join(", ")
}

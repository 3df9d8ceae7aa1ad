//! What happens behind the engines: a twisted axle, a torn boot, a first pit.

use super::{Answer, Stand, advised, damage, is_overruled, mechanism, reading};
use crate::{
    CliError,
    numbers::{percent, significant},
};
use ringland_proto::v1::Prediction;

const SCALE: &str = "a sum of 1 means half of such parts here, one in ten or in a hundred where the figure comes from";
const JOINED: &str = "risks of pitting forecast before each event, joined";

pub(super) async fn twisted_axle(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let found = stand.measured("r3", "driveline-b", "axle_shaft")?;
    let before = stand.part("r3", "driveline-b", "axle_shaft")?;
    let component = found.inspection().component;
    let correction = stand.correction(&component).await?;
    let mut told = correction.comparisons.iter();
    let twist = told.find(|one| one.reading == "twist_rad");
    let learnt = twist.is_none_or(|one| one.learnt);
    let fatigue = worst_fatigue(before);
    Ok(vec![
        Answer::principle("replace", is_overruled(&found.after), advised(&found.after)),
        Answer::figure(
            "damage",
            damage(before, "damage"),
            format!(
                "highest fatigue risk in the next event {}",
                percent(fatigue)
            ),
        )
        .where_it_differs(SCALE),
        Answer::principle(
            "not-fatigue",
            !learnt && fatigue < 0.01,
            format!(
                "{}; the highest torque in its logs is {} of what twists it for good",
                twist.map_or("", |one| one.text.as_str()),
                percent(reading(before, "yield_share")?)
            ),
        ),
    ])
}

pub(super) fn torn_boot(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let found = stand.measured("r8", "driveline-b", "cv_joint")?;
    let before = stand.part("r8", "driveline-b", "cv_joint")?;
    Ok(vec![
        Answer::principle("replace", is_overruled(&found.after), advised(&found.after)),
        Answer::figure(
            "damage",
            damage(before, "pitting"),
            "highest pitting damage of flanks and balls",
        )
        .where_it_differs(SCALE),
    ])
}

pub(super) fn first_pit(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let found = stand.measured("r8", "driveline-a", "gear_set")?;
    let before = stand.part("r8", "driveline-a", "gear_set")?;
    // What was forecast before each event for that event, joined: the first was not forecast.
    let place = "units/driveline-a";
    let mut sound = 1.0;
    for round in &stand.rounds {
        let mut ready = round.ready.iter();
        let gears = ready.find(|one| one.unit == place && one.component_type == "gear_set");
        if let Some(gears) = gears {
            sound *= 1.0 - mechanism(gears, "pitting")?.risk_next_event;
        }
    }
    let percent_by_now = 100.0 * (1.0 - sound);
    let said = advised(&found.after);
    let notes = found.answer.findings.iter().chain(&found.after.notes);
    let looks = notes
        .map(|note| note.remedy.as_str())
        .chain([said.as_str()])
        .find(|text| text.contains("fork") || text.contains("pattern"));
    let second = reading(before, "gear_2_pitting_sum")?;
    Ok(vec![
        Answer::figure("probability", percent_by_now, JOINED).where_it_differs(SCALE),
        Answer::principle("unlikely", percent_by_now < 1.0, JOINED),
        Answer::figure(
            "damage",
            second,
            format!(
                "{} of the whole set",
                significant(reading(before, "pitting_sum")?, 2)
            ),
        )
        .where_it_differs(SCALE),
        Answer::principle(
            "overrules",
            is_overruled(&found.after),
            advised(&found.after),
        ),
        Answer::principle(
            "look",
            looks.is_some(),
            looks.unwrap_or("neither fork nor pattern is named"),
        ),
    ])
}

fn worst_fatigue(prediction: &Prediction) -> f64 {
    let fatigue = prediction.mechanisms.iter();
    fatigue
        .filter(|one| one.mechanism.contains("fatigue") || one.label.contains("fatigue"))
        .map(|one| one.risk_next_event)
        .fold(0.0, f64::max)
}

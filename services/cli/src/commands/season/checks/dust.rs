//! Dust past the filter of engine A.

use super::{Answer, Stand, micrometres};
use crate::{
    CliError,
    commands::season::duty::{growth, with_channel},
};

const EVENT: &str = "t1";
const BEFORE: &str = "r4";
const ENGINE: &str = "engine-a";
/// What is asked, of which part, by which of its readings.
const WORN: [(&str, &str, &str); 3] = [
    ("rings", "ring_pack", "end_gap_m"),
    ("bore", "cylinder_bore", "taper_m"),
    ("bearings", "plain_bearing", "overlay_left_m"),
];

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let duty = stand.log(EVENT, ENGINE)?.record.duty.clone();
    let duty = duty.unwrap_or_default();
    let clean = with_channel(&duty, "contamination_factor", |_| 1.0);
    let dusty = stand.table_as_event("t1-of-a-again", duty).await?;
    let clean = stand.table_as_event("t1-of-a-clean", clean).await?;
    let mut answers = Vec::new();
    for (statement, part, reading) in WORN {
        let component = &stand.part(EVENT, ENGINE, part)?.component;
        let with = growth(stand, component, &dusty, reading).await?;
        let without = growth(stand, component, &clean, reading).await?;
        let said = format!(
            "the same test again: {} with the dust, {} without",
            micrometres(with),
            micrometres(without)
        );
        let answer = Answer::figure(statement, with / without, said)
            .where_it_differs("part of that wear does not come of running contact and is not multiplied, or the reading is not proportional to it");
        answers.push(answer);
    }
    answers.push(spare(stand).await?);
    Ok(answers)
}

/// The same question before and after the test.
async fn spare(stand: &Stand<'_>) -> Result<Answer, CliError> {
    let before = stand.part(BEFORE, "engine-s", "ring_pack")?;
    let after = stand
        .predict(&before.component, &before.profile, Vec::new())
        .await?;
    let same = before.life == after.life && before.readings == after.readings;
    let said = if same {
        "life and readings of its rings are the same before and after"
    } else {
        "the prediction of its rings has changed"
    };
    Ok(Answer::principle("spare", same, said))
}

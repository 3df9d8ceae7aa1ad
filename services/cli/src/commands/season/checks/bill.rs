//! What the season cost.

use super::{Answer, Stand};
use crate::{CliError, commands::season::cost::bills};

const ENGINES: [&str; 3] = ["engine-a", "engine-b", "engine-s"];

pub(super) fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let bills = bills(&stand.calendar.season, &stand.done);
    let total = |unit: &str| {
        let found = bills.iter().find(|bill| bill.unit == unit);
        found
            .map(|bill| (bill.total_usd(), bill.lines.len()))
            .ok_or_else(|| CliError::Failed(format!("nothing was done to {unit}")))
    };
    let mut answers = Vec::new();
    for engine in ENGINES {
        let (usd, lines) = total(engine)?;
        answers.push(Answer::figure(
            engine,
            usd,
            format!("lines of its bill: {lines}"),
        ));
    }
    let apart = total("engine-a")?.0 - total("engine-b")?.0;
    let smallest = stand
        .calendar
        .season
        .prices
        .iter()
        .filter(|price| price.code == "springs" || price.code == "bearings")
        .map(|price| price.usd)
        .sum::<f64>();
    answers.push(Answer::principle(
        "honest",
        apart.abs() < smallest,
        format!(
            "B costs ${apart:.0} less than A, and one spring set with one bearing set is ${smallest:.0}: with one engine each way \
             about break-even, no proof"
        ),
    ));
    Ok(answers)
}

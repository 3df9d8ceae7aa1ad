//! What the freshening of engine A taught.

use super::{Answer, Stand, is_unexplained, rate, rate_words};
use crate::{CliError, numbers::significant};

const EVENT: &str = "r6";
const ENGINE: &str = "engine-a";
/// What is asked, of which part and mechanism.
const RATES: [(&str, &str, &str); 6] = [
    ("ring", "ring_pack", "end_gap"),
    ("bearing", "plain_bearing", "overlay_wear"),
    ("bore", "cylinder_bore", "taper"),
    ("cam", "cam_follower", "lobe_wear"),
    ("valve", "valve", "seat_recession"),
    ("groove", "piston", "groove"),
];

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let mut answers = Vec::new();
    for (statement, part, mechanism) in RATES {
        let component = &stand.part(EVENT, ENGINE, part)?.component;
        let correction = stand.correction(component).await?;
        let believed = rate(&correction, mechanism)?;
        let readings = correction.comparisons.iter();
        let beside: Vec<String> = readings
            .filter(|one| one.mechanism == mechanism && one.inspection.starts_with(component))
            .map(|one| one.text.clone())
            .collect();
        let said = format!("{}; {}", rate_words(&believed), beside.join(" "));
        answers.push(Answer::figure(statement, believed.median, said).where_it_differs(
            "the model predicts another growth for the same use than the rough one that the figure comes from",
        ));
        if statement == "ring" {
            let said = rate_words(&believed);
            answers.push(Answer::figure("ring-spread", believed.ln_sd, said));
        }
    }
    answers.push(bolt(stand)?);
    answers.push(batch(stand)?);
    Ok(answers)
}

fn bolt(stand: &Stand<'_>) -> Result<Answer, CliError> {
    let bolts = stand.measured(EVENT, ENGINE, "rod_bolt")?;
    let unexplained = bolts
        .answer
        .comparisons
        .iter()
        .find(|one| is_unexplained(one));
    let asked = bolts
        .answer
        .findings
        .iter()
        .find(|one| one.remedy.contains("explain"));
    let said = match (unexplained, asked) {
        (Some(one), Some(finding)) => format!(
            "{} standard deviations from everything known; {}",
            significant(one.surprise.unwrap_or_default(), 2),
            finding.remedy
        ),
        _ => {
            let texts = bolts.answer.comparisons.iter().map(|one| one.text.as_str());
            texts.collect::<Vec<_>>().join(" ")
        }
    };
    Ok(Answer::principle(
        "bolt",
        unexplained.is_some() && asked.is_some(),
        said,
    ))
}

fn batch(stand: &Stand<'_>) -> Result<Answer, CliError> {
    let bolts = stand.measured(EVENT, ENGINE, "rod_bolt")?;
    let findings = bolts.answer.findings.iter();
    let named = findings
        .map(|one| one.remedy.as_str())
        .chain(bolts.after.notes.iter().map(|note| note.remedy.as_str()))
        .find(|text| text.contains("batch"));
    Ok(Answer::principle(
        "batch",
        named.is_some(),
        named.unwrap_or("no word of the batch"),
    )
    .where_it_differs("a finding at one part does not yet reach the others of its batch"))
}

//! What the freshening of engine A taught.

use super::{Answer, ROUGH, Stand, is_unexplained, rate, rate_words};
use crate::{CliError, names, numbers::significant};
use ringland_proto::v1::{Finding, ReadingComparison};

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
        let own: Vec<&ReadingComparison> = correction
            .comparisons
            .iter()
            .filter(|one| one.mechanism == mechanism && one.inspection.starts_with(component))
            .collect();
        let beside = own.iter().map(|one| one.text.as_str());
        let beside = beside.collect::<Vec<_>>().join("; ");
        // A rate that nothing was learnt of is the model's own: it agrees with nobody.
        if !own.iter().any(|one| one.learnt) {
            let said = format!("no rate was learnt: {beside}");
            answers.push(Answer::principle(statement, false, said).where_it_differs(
                "the model expects so little growth that the reading says nothing of its rate, and the reading is not asked about",
            ));
            continue;
        }
        let said = format!("{}; {beside}", rate_words(&believed));
        answers.push(Answer::figure(statement, believed.median, said).where_it_differs(ROUGH));
        if statement == "ring" {
            let said = rate_words(&believed);
            answers.push(Answer::figure("ring-spread", believed.ln_sd, said));
        }
    }
    answers.push(bolt(stand)?);
    answers.push(batch(stand).await?);
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
    let said = if let (Some(one), Some(finding)) = (unexplained, asked) {
        format!(
            "{} standard deviations from everything known; {}",
            significant(one.surprise.unwrap_or_default(), 2),
            finding.remedy
        )
    } else {
        let texts = bolts.answer.comparisons.iter().map(|one| one.text.as_str());
        texts.collect::<Vec<_>>().join(" ")
    };
    Ok(Answer::principle(
        "bolt",
        unexplained.is_some() && asked.is_some(),
        said,
    )
    .where_it_differs(
        "what is not learnt because its mechanism has not begun to answer is not asked about, however far off it reads",
    ))
}

async fn batch(stand: &Stand<'_>) -> Result<Answer, CliError> {
    let bolts = stand.measured(EVENT, ENGINE, "rod_bolt")?;
    let of_batch = |one: &Finding| one.field.starts_with("batch.");
    let named = bolts.answer.findings.iter().find(|one| of_batch(one));
    let profile = stand.profile(EVENT, ENGINE)?;
    let others = stand.round(EVENT)?.ran.iter().filter(|one| {
        one.component_type == "rod_bolt" && one.component != bolts.inspection().component
    });
    // As they are predicted now, after what was measured at these bolts.
    let mut told = Vec::new();
    for other in others {
        let now = stand
            .predict(&other.component, &profile, Vec::new())
            .await?;
        if now.notes.iter().any(of_batch) {
            told.push(names::id(&other.component));
        }
    }
    let said = named.map_or_else(
        || "no word of the batch".to_owned(),
        |finding| {
            format!(
                "{}: {}; of the batch the predictions of {} say so too",
                finding.value,
                finding.remedy,
                if told.is_empty() {
                    "none".to_owned()
                } else {
                    told.join(", ")
                }
            )
        },
    );
    Ok(Answer::principle(
        "batch",
        named.is_some() && !told.is_empty(),
        said,
    ))
}

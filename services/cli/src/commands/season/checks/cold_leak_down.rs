//! A leak-down of which nobody knows whether it was hot.

use super::{Answer, Stand};
use crate::CliError;

const EVENT: &str = "r6";
const ENGINE: &str = "engine-a";

pub(super) fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let cold = stand.measured(EVENT, ENGINE, "ring_pack")?;
    let asked: Vec<&str> = cold
        .answer
        .findings
        .iter()
        .map(|finding| finding.remedy.as_str())
        .filter(|remedy| remedy.contains("hot"))
        .collect();
    let before = stand.part(EVENT, ENGINE, "ring_pack")?;
    let learnt = cold.answer.comparisons.iter().any(|one| one.learnt);
    let same = before.life == cold.after.life && before.mechanisms == cold.after.mechanisms;
    let said = match (learnt, same) {
        (false, true) => "not learnt; life, mechanisms and rates are as before",
        (true, _) => "it was learnt",
        (false, false) => "not learnt, and yet the prediction has changed",
    };
    Ok(vec![
        Answer::principle("repeat", !asked.is_empty(), asked.join("; ")),
        Answer::principle("not-learnt", same && !learnt, said),
    ])
}

//! The owner runs against the advice.

use super::{Answer, Stand, action, advised};
use crate::CliError;
use ringland_proto::v1::{Action, Prediction};

/// What is kept of an owner who runs the next event with the shells that are in, and what is taken of the same decision once a
/// shell has been measured over its limit.
pub(super) async fn run_anyway(
    stand: &Stand<'_>,
    event: &str,
    shells: &Prediction,
) -> Result<Vec<Answer>, CliError> {
    let mut decisions = stand.calendar.season.decisions.iter();
    let decision = decisions.find(|one| one.event == event);
    let decision = decision
        .ok_or_else(|| CliError::Failed(format!("nobody decides anything after {event}")))?;
    let kept = stand.decided(&shells.component).await?;
    let found = kept
        .iter()
        .find(|one| one.decided_by == decision.by && one.reason == decision.reason);
    let said = found.map_or_else(
        || "no override is kept".to_owned(),
        |one| {
            format!(
                "kept: {} decided to {}, because {}; the advice stays: {}",
                one.decided_by,
                one.decision,
                one.reason,
                advised(shells)
            )
        },
    );
    let stays = action(shells) >= Action::Replace;
    let again = stand.decide(decision).await;
    let refused = again.as_ref().err();
    Ok(vec![
        Answer::principle("override", found.is_some() && stays, said),
        Answer::principle(
            "limit",
            refused.is_some_and(|status| status.message().contains("limit")),
            refused.map_or("it was taken once more", |status| status.message()),
        ),
    ])
}

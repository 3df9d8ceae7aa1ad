//! What the season of engine B says of its treatment.

use super::{Answer, ROUGH, Stand, rate, rate_words};
use crate::{CliError, numbers::significant};

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let found = stand.measured("r10", "engine-b", "ring_pack")?;
    let correction = stand.correction(&found.inspection().component).await?;
    let believed = rate(&correction, "end_gap")?;
    let layer = believed
        .layers
        .iter()
        .find(|layer| layer.layer == "treatment");
    let Some(layer) = layer else {
        return Err(CliError::Failed(
            "the rate has no layer for the treatment".into(),
        ));
    };
    let said = format!(
        "{}: {} readings of {} units; spread {} where it was {} before",
        layer.key,
        layer.observations,
        layer.units,
        significant(layer.ln_sd, 2),
        significant(layer.prior_ln_sd, 2)
    );
    Ok(vec![
        Answer::figure("rate", believed.median, rate_words(&believed)).where_it_differs(ROUGH),
        Answer::figure("layer", layer.median, said.clone()),
        Answer::figure("layer-spread", layer.ln_sd, said),
        Answer::principle(
            "nothing-proven",
            !believed.unproven.is_empty(),
            believed.unproven.clone(),
        ),
    ])
}

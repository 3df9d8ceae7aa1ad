//! The coated shells of engine B.

use super::{Answer, ROUGH, Stand, rate, rate_words};
use crate::{CliError, numbers::significant};

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let found = stand.measured("r8", "engine-b", "plain_bearing")?;
    let correction = stand.correction(&found.inspection().component).await?;
    let believed = rate(&correction, "overlay_wear")?;
    let coat = believed
        .layers
        .iter()
        .find(|layer| layer.layer == "treatment");
    // Within the spread that was there before: the belief has not been overturned.
    let stands = coat.is_some_and(|coat| coat.median.ln().abs() < coat.prior_ln_sd);
    let said = coat.map_or_else(
        || "no layer for the coat".to_owned(),
        |coat| {
            format!(
                "what is learnt of the coat: {} times, spread {} where it was {} before; {}",
                significant(coat.median, 3),
                significant(coat.ln_sd, 2),
                significant(coat.prior_ln_sd, 2),
                believed.unproven
            )
        },
    );
    Ok(vec![
        Answer::figure("rate", believed.median, rate_words(&believed)).where_it_differs(ROUGH),
        Answer::principle("coat", stands, said),
    ])
}

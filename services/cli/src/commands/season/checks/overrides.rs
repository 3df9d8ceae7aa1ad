//! The owner runs against the advice.

use super::{Answer, advised};
use ringland_proto::v1::Prediction;

/// What is kept of an owner who runs R6 with shells over their limit.
pub(super) fn run_anyway(shells: &Prediction) -> Answer {
    Answer::principle(
        "override",
        false,
        format!("not recorded; the advice stays: {}", advised(shells)),
    )
    .where_it_differs("this server has no call to record an override")
}

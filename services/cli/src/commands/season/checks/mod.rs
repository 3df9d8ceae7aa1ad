//! What is asked of the ledger for each thing that is planted, one file a subject.

mod bearings;
mod bill;
mod cold_leak_down;
mod driveline;
mod dust;
mod freshening;
mod hot_oil;
mod missed_shift;
mod overrides;
mod spare;
mod testers;
mod treatment;

use super::{judge::Answer, stand::Stand};
use crate::{CliError, numbers, show::action_word};
use ringland_proto::v1::{
    Action, Advice, Correction, Explanation, MechanismPrediction, Prediction, RateBelief,
    ReadingComparison,
};

/// Why rates differ.
const ROUGH: &str = "the model expects another growth for the same use than the rough one that the figure was worked out with";

/// Asks about one planted thing.
pub(super) async fn answers(planted: &str, stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    match planted {
        "missed-shift" => missed_shift::answers(stand).await,
        "twisted-axle" => driveline::twisted_axle(stand).await,
        "dust" => dust::answers(stand).await,
        "hot-oil" => hot_oil::answers(stand).await,
        "cold-leak-down" => cold_leak_down::answers(stand),
        "freshening" => freshening::answers(stand).await,
        "spare-for-a" => spare::answers(stand),
        "torn-boot" => driveline::torn_boot(stand),
        "first-pit" => driveline::first_pit(stand),
        "coated-bearings" => bearings::answers(stand).await,
        "two-testers" => testers::answers(stand).await,
        "season-of-b" => treatment::answers(stand).await,
        "cost" => bill::answers(stand),
        other => Err(CliError::Failed(format!(
            "nobody knows how to ask about {other}"
        ))),
    }
}

/// What is advised, in words.
fn advised(prediction: &Prediction) -> String {
    let advice = prediction.advice.clone().unwrap_or_default();
    format!("{}: {}", action_word(&advice), advice.text)
}

/// The advice's action.
fn action(prediction: &Prediction) -> Action {
    let advice = prediction.advice.as_ref();
    advice.map_or(Action::Unspecified, Advice::action)
}

/// Whether something found at the part overrules its computed life, and it is told to be replaced or to stop.
fn is_overruled(prediction: &Prediction) -> bool {
    !prediction.overruled_by.is_empty() && action(prediction) >= Action::Replace
}

fn mechanism<'a>(
    prediction: &'a Prediction,
    name: &str,
) -> Result<&'a MechanismPrediction, CliError> {
    let found = prediction
        .mechanisms
        .iter()
        .find(|one| one.mechanism == name);
    found.ok_or_else(|| {
        CliError::Failed(format!("{} has no mechanism {name}", prediction.component))
    })
}

/// The median of a reading now.
fn reading(prediction: &Prediction, name: &str) -> Result<f64, CliError> {
    let found = prediction.readings.iter().find(|one| one.reading == name);
    let now = found.and_then(|one| one.now);
    now.map(|now| now.p50)
        .ok_or_else(|| CliError::Failed(format!("{} has no reading {name}", prediction.component)))
}

/// The largest of a part's damages whose name has a word in it.
fn damage(prediction: &Prediction, word: &str) -> f64 {
    let condition = prediction
        .provenance
        .iter()
        .flat_map(|made| &made.condition);
    condition
        .filter(|(name, _)| name.contains(word))
        .map(|(_, value)| *value)
        .fold(0.0, f64::max)
}

/// What is believed of a mechanism's rate.
fn rate(correction: &Correction, name: &str) -> Result<RateBelief, CliError> {
    let found = correction
        .mechanisms
        .iter()
        .find(|one| one.mechanism == name);
    let rate = found.and_then(|one| one.rate.clone());
    rate.ok_or_else(|| CliError::Failed(format!("{} has no rate of {name}", correction.component)))
}

/// A rate with its spread, as 5 % and 95 % quantiles.
fn rate_words(rate: &RateBelief) -> String {
    let at = |z: f64| numbers::significant(rate.median * (z * rate.ln_sd).exp(), 2);
    format!(
        "{} times the model's ({} to {}, spread {})",
        numbers::significant(rate.median, 3),
        at(-1.645),
        at(1.645),
        numbers::significant(rate.ln_sd, 2)
    )
}

/// What a comparison was taken as.
fn is_unexplained(comparison: &ReadingComparison) -> bool {
    comparison.explanation() == Explanation::Unexplained && !comparison.learnt
}

fn micrometres(metres: f64) -> String {
    format!("{} um", numbers::significant(metres * 1e6, 3))
}

//! Two spring testers that do not agree.

use super::{Answer, Stand, rate};
use crate::{CliError, numbers::percent};

const EVENT: &str = "r9";
const ENGINES: [&str; 2] = ["engine-a", "engine-b"];

pub(super) async fn answers(stand: &Stand<'_>) -> Result<Vec<Answer>, CliError> {
    let springs = stand.measured(EVENT, "engine-a", "valve_spring")?;
    let correction = stand.correction(&springs.inspection().component).await?;
    let believed = rate(&correction, "load_loss")?;
    let bias = |which: &str| {
        let mut known = believed.instrument_biases.iter();
        let found = known.find(|one| one.instrument_id.starts_with(which));
        found.ok_or_else(|| CliError::Failed(format!("no bias of the {which} spring tester")))
    };
    let (first, second) = (bias("first")?, bias("second")?);
    let shown = |one: &ringland_proto::v1::InstrumentBias| {
        format!(
            "{} {:+.1} % (spread {:.1} %)",
            one.instrument_id,
            100.0 * one.mean,
            100.0 * one.sd
        )
    };
    // What was forecast for the event just run, before it.
    let before = stand.rounds.iter().rev().nth(1);
    let forecast = before.and_then(|round| {
        let mut ready = round.ready.iter();
        ready.find(|one| one.component == springs.inspection().component)
    });
    let Some(forecast) = forecast else {
        return Err(CliError::Failed(
            "the springs were not predicted before R9".into(),
        ));
    };
    let mut overruled = Vec::new();
    let mut past: f64 = 0.0;
    for engine in ENGINES {
        let entered = stand.measured(EVENT, engine, "valve_spring")?;
        overruled.extend(
            entered
                .after
                .overruled_by
                .iter()
                .map(|one| one.text.clone()),
        );
        let lines = entered.answer.comparisons.iter();
        past = lines
            .filter_map(|one| one.probability_past_limit)
            .fold(past, f64::max);
    }
    let said = if overruled.is_empty() {
        format!("past the limit with at most {}", percent(past))
    } else {
        overruled.join(" ")
    };
    Ok(vec![
        Answer::figure(
            "bias",
            100.0 * (second.mean - first.mean),
            format!("{}; {}", shown(second), shown(first)),
        ),
        Answer::figure(
            "risk",
            100.0 * forecast.risk_next_event,
            "forecast before the event, for it",
        ),
        Answer::principle("not-the-reading", overruled.is_empty() && past < 0.5, said),
    ])
}

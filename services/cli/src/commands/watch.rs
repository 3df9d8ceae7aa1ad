//! `ringland watch`.

use super::{Session, predict};
use crate::{
    CliError,
    error::describe,
    json, names, numbers,
    out::Out,
    show::{action_word, life_in_events},
};
use clap::Args;
use ringland_proto::v1::{
    Prediction, WatchPredictionsRequest, WatchPredictionsResponse,
    watch_predictions_response::Change,
};
use serde_json::json;

/// `ringland watch`
#[derive(Debug, Args)]
pub struct WatchArgs {
    /// Units, or components written components/ID; none watches everything that is installed
    targets: Vec<String>,
    /// Stop once the predictions of now have been sent
    #[arg(long)]
    once: bool,
}

pub(super) async fn run(arguments: WatchArgs, session: &Session) -> Result<(), CliError> {
    let targets = arguments
        .targets
        .iter()
        .map(|target| names::unit(target))
        .collect();
    let request = WatchPredictionsRequest { targets };
    let mut changes = session
        .api
        .predictions()
        .watch_predictions(request)
        .await?
        .into_inner();
    while let Some(response) = changes.message().await? {
        let caught_up = matches!(response.change, Some(Change::CaughtUp(_)));
        show(response, session.out)?;
        if caught_up && arguments.once {
            return Ok(());
        }
    }
    Err(tonic::Status::unavailable("the server ended the watch").into())
}

/// One line a change, in JSON too.
fn show(response: WatchPredictionsResponse, out: Out) -> Result<(), CliError> {
    let Some(change) = response.change else {
        return Ok(());
    };
    if out.json {
        let value = match change {
            Change::Prediction(prediction) => {
                json!({ "prediction": json::to_json("Prediction", &prediction)? })
            }
            Change::Error(error) => {
                let status = error
                    .status
                    .map(|status| json::status(&predict::status(status)));
                json!({ "error": { "component": error.component, "status": status } })
            }
            Change::CaughtUp(_) => json!({ "caught_up": {} }),
            Change::Resync(_) => json!({ "resync": {} }),
        };
        return out.text(&value.to_string());
    }
    match change {
        Change::Prediction(prediction) => out.text(&line(&prediction)),
        Change::Error(error) => {
            let status = error.status.map(|status| describe(&predict::status(status)));
            let why = status.unwrap_or_default();
            out.text(&format!("{} has no prediction: {why}", names::id(&error.component)))
        }
        Change::CaughtUp(_) => out.text(
            "These are the predictions of now (ringland predict prints their cautions); changes follow.",
        ),
        Change::Resync(_) => out.text("Changes came too fast for this watch; everything is sent again."),
    }
}

fn line(prediction: &Prediction) -> String {
    format!(
        "{}: {} events left, P50 (P05 to P95); {} risk in the next; {}",
        names::id(&prediction.component),
        life_in_events(prediction),
        numbers::percent(prediction.risk_next_event),
        prediction.advice.as_ref().map_or("no advice", action_word)
    )
}

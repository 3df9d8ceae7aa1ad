//! `ringland prediction`: predictions made before.

use super::{Session, predict};
use crate::{
    CliError, connect::all_pages, json, names, numbers, show::life_in_events, table::table, times,
};
use clap::Subcommand;
use ringland_proto::v1::{GetPredictionRequest, ListPredictionsRequest};

/// `ringland prediction`
#[derive(Debug, Subcommand)]
pub enum PredictionCommand {
    /// List a component's stored predictions, newest first
    List {
        /// Which component
        component: String,
    },
    /// Show a stored prediction
    Show {
        /// COMPONENT/PREDICTION
        prediction: String,
        /// Besides the usual: condition, provenance, what the model leaves out
        #[arg(long)]
        full: bool,
    },
}

pub(super) async fn run(command: PredictionCommand, session: &Session) -> Result<(), CliError> {
    match command {
        PredictionCommand::List { component } => list(&names::component(&component), session).await,
        PredictionCommand::Show { prediction, full } => {
            let request = GetPredictionRequest {
                name: names::prediction(&prediction),
            };
            let answer = session
                .api
                .predictions()
                .get_prediction(request)
                .await?
                .into_inner();
            predict::show(&answer, full, session)
        }
    }
}

async fn list(component: &str, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.predictions();
    let predictions = all_pages(async |page_token| {
        let request = ListPredictionsRequest {
            parent: component.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_predictions(request).await?.into_inner();
        Ok((page.predictions, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("predictions", "Prediction", &predictions)?);
    }
    let rows = predictions.iter().map(|prediction| {
        let version = prediction
            .provenance
            .as_ref()
            .map(|from| from.model_version.clone());
        vec![
            names::short(&prediction.name),
            times::show(prediction.create_time.as_ref()),
            times::show(prediction.as_of_time.as_ref()),
            names::id(&prediction.profile).to_owned(),
            version.unwrap_or_default(),
            life_in_events(prediction),
            numbers::percent(prediction.risk_next_event),
        ]
    });
    let header = [
        "prediction",
        "made",
        "duty until",
        "profile",
        "model",
        ">events left, P50 (P05 to P95)",
        ">next event",
    ];
    out.text(&table(&out.look, &header, rows.collect()))?;
    out.text("A prediction advises; ringland prediction show prints its cautions.")
}

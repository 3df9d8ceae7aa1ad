//! `ringland predict`.

use super::Session;
use crate::{
    CliError,
    connect::all_pages,
    error::describe,
    json, names,
    show::{Detail, all_cautions, of_batches, prediction, summary, worst_first},
};
use clap::Args;
use ringland_proto::v1::{
    BatchPredictRequest, ListComponentsRequest, PredictRequest, Prediction,
    batch_predict_result::Result as Answer,
};
use serde_json::json;
use tonic::Status;

/// Most requests in one call.
const BATCH: usize = 100;

/// `ringland predict`
#[derive(Debug, Args)]
pub struct PredictArgs {
    /// Which components
    #[arg(required_unless_present = "unit")]
    components: Vec<String>,
    /// Whatever is installed in this UNIT or UNIT/BUILD
    #[arg(long, value_name = "PLACE", conflicts_with = "components")]
    unit: Option<String>,
    /// Profile of each event to come [default: the unit's]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PROFILE"
    )]
    profile: String,
    /// Digest of an installed model to compare with [default: the active one]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "SHA256"
    )]
    model: String,
    /// Readings at these numbers of events ahead [default: 1,2,4,8,16]
    #[arg(long, value_delimiter = ',', value_name = "EVENTS")]
    ahead: Vec<f64>,
    /// Besides the usual: condition, provenance, what the model leaves out; each of several in full
    #[arg(long)]
    full: bool,
}

impl PredictArgs {
    fn request(&self, component: &str) -> PredictRequest {
        PredictRequest {
            component: names::component(component),
            profile: names::profile(&self.profile),
            model_digest: self.model.trim_start_matches("models/").to_owned(),
            ahead_events: self.ahead.clone(),
        }
    }
}

pub(super) async fn run(arguments: PredictArgs, session: &Session) -> Result<(), CliError> {
    if let [component] = arguments.components.as_slice() {
        let request = arguments.request(component);
        let answer = session
            .api
            .predictions()
            .predict(request)
            .await?
            .into_inner();
        return show(&answer, arguments.full, session);
    }
    let components = match &arguments.unit {
        Some(place) => installed_in(&names::place(place), session).await?,
        None => arguments.components.clone(),
    };
    let requests = components
        .iter()
        .map(|component| arguments.request(component))
        .collect();
    let answers = predict_all(requests, session).await?;
    show_all(&answers, arguments.full, session)?;
    match answers.into_iter().find_map(|(_, answer)| answer.err()) {
        Some(status) => Err(status.into()),
        None => Ok(()),
    }
}

async fn installed_in(place: &str, session: &Session) -> Result<Vec<String>, CliError> {
    let mut client = session.api.components();
    let components = all_pages(async |page_token| {
        let request = ListComponentsRequest {
            installed_in: place.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_components(request).await?.into_inner();
        Ok((page.components, page.next_page_token))
    })
    .await?;
    Ok(components
        .into_iter()
        .map(|component| component.name)
        .collect())
}

/// Each component with its prediction or the reason why it has none.
pub(super) type Answers = Vec<(String, Result<Prediction, Status>)>;

pub(super) async fn predict_all(
    requests: Vec<PredictRequest>,
    session: &Session,
) -> Result<Answers, CliError> {
    let mut answers = Vec::with_capacity(requests.len());
    for batch in requests.chunks(BATCH) {
        let request = BatchPredictRequest {
            requests: batch.to_vec(),
        };
        let results = session
            .api
            .predictions()
            .batch_predict(request)
            .await?
            .into_inner()
            .results;
        if results.len() != batch.len() {
            let text = format!(
                "the server gave {} answers to {} requests",
                results.len(),
                batch.len()
            );
            return Err(CliError::Failed(text));
        }
        let named = batch.iter().zip(results).map(|(request, result)| {
            let answer = match result.result {
                Some(Answer::Prediction(prediction)) => Ok(prediction),
                Some(Answer::Error(error)) => Err(status(error)),
                None => Err(Status::internal(
                    "the server gave neither a prediction nor an error",
                )),
            };
            (request.component.clone(), answer)
        });
        answers.extend(named);
    }
    Ok(answers)
}

/// A `google.rpc.Status` as the status of a call.
pub(super) fn status(error: tonic_types::pb::Status) -> Status {
    use prost::Message;
    let details = error.encode_to_vec();
    Status::with_details(error.code.into(), error.message, details.into())
}

/// One prediction in full.
pub(super) fn show(answer: &Prediction, full: bool, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Prediction", answer)?);
    }
    let detail = if full { Detail::Full } else { Detail::Usual };
    out.text(&prediction(answer, &out.look, detail))
}

fn show_all(answers: &Answers, full: bool, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        let results = answers.iter().map(|(_, answer)| match answer {
            Ok(prediction) => Ok(json!({ "prediction": json::to_json("Prediction", prediction)? })),
            Err(status) => Ok(json!({ "error": json::status(status) })),
        });
        let results = results.collect::<Result<Vec<_>, CliError>>()?;
        return out.json(&json!({ "results": results }));
    }
    let predictions: Vec<Prediction> = answers
        .iter()
        .filter_map(|(_, answer)| answer.clone().ok())
        .collect();
    if full {
        for prediction in &predictions {
            show(prediction, full, session)?;
            out.text("")?;
        }
    } else {
        let predictions = worst_first(predictions);
        out.text(&summary(&predictions, &out.look))?;
        if let Some(text) = of_batches(&predictions, &out.look) {
            out.text(&text)?;
        }
        out.text(&all_cautions(&predictions, &out.look))?;
    }
    for (component, answer) in answers {
        if let Err(status) = answer {
            out.text(&format!(
                "{component} has no prediction: {}",
                describe(status)
            ))?;
        }
    }
    Ok(())
}

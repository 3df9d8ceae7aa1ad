//! `ringland override`.

use super::{RequestId, Session};
use crate::{CliError, connect::all_pages, json, names, show, times};
use clap::{Args, Subcommand};
use prost_types::Timestamp;
use ringland_proto::v1::{ListOverridesRequest, Override, RecordOverrideRequest};

/// `ringland override`
#[derive(Debug, Subcommand)]
pub enum OverrideCommand {
    /// Record that the owner does other than was advised; it changes no number and passes no limit
    Record(Box<RecordArgs>),
    /// List what owners decided other than advised
    List {
        /// Of this component, or of a unit and what is in it: units/engine-a [default: all]
        #[arg(default_value = "", hide_default_value = true)]
        subject: String,
    },
}

/// `ringland override record`
#[derive(Debug, Args)]
pub struct RecordArgs {
    /// A component, or a unit: units/engine-a
    subject: String,
    /// What was advised
    #[arg(long, value_name = "TEXT")]
    advice: String,
    /// What is done instead
    #[arg(long, value_name = "TEXT")]
    decision: String,
    /// Who decided: a role or initials
    #[arg(long, value_name = "TEXT")]
    by: String,
    /// Why
    #[arg(long, value_name = "TEXT")]
    reason: String,
    /// When it was decided
    #[arg(long, value_name = "TIME", value_parser = times::read)]
    at: Timestamp,
    /// The prediction whose advice it is about: rings/17
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PREDICTION"
    )]
    prediction: String,
    /// The calendar of the plan that it is about
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "CALENDAR"
    )]
    calendar: String,
    /// The event that it is about
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "CODE"
    )]
    event: String,
    #[command(flatten)]
    request: RequestId,
}

pub(super) async fn run(command: OverrideCommand, session: &Session) -> Result<(), CliError> {
    match command {
        OverrideCommand::Record(arguments) => record(*arguments, session).await,
        OverrideCommand::List { subject } => list(&subject, session).await,
    }
}

/// Components by their id; units in full.
fn subject_name(text: &str) -> String {
    if text.is_empty() || text.starts_with("units/") {
        text.to_owned()
    } else {
        names::component(text)
    }
}

async fn record(arguments: RecordArgs, session: &Session) -> Result<(), CliError> {
    let prediction = match arguments.prediction.as_str() {
        "" => String::new(),
        prediction => names::prediction(prediction),
    };
    let given = Override {
        subject: subject_name(&arguments.subject),
        prediction,
        calendar: names::calendar(&arguments.calendar),
        event: arguments.event,
        advice: arguments.advice,
        decision: arguments.decision,
        decided_by: arguments.by,
        reason: arguments.reason,
        decision_time: Some(arguments.at),
        ..Default::default()
    };
    let request = RecordOverrideRequest {
        r#override: Some(given),
        request_id: arguments.request.request_id,
    };
    let answer = session.api.plans().record_override(request).await?;
    let row = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Override", &row)?);
    }
    out.text(&show::overrides(std::slice::from_ref(&row), &out.look))
}

async fn list(subject: &str, session: &Session) -> Result<(), CliError> {
    let subject = subject_name(subject);
    let mut client = session.api.plans();
    let rows = all_pages(async |page_token| {
        let request = ListOverridesRequest {
            subject: subject.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_overrides(request).await?.into_inner();
        Ok((page.overrides, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("overrides", "Override", &rows)?);
    }
    out.text(&show::overrides(&rows, &out.look))
}

//! `ringland treatment`.

use super::{RequestId, Session, component_file::ComponentFields};
use crate::{CliError, connect::all_pages, json, names, out::heading, show, times};
use clap::{Args, Subcommand};
use prost_types::Timestamp;
use ringland_proto::v1::{
    ApplyTreatmentsRequest, CheckTreatmentsRequest, GetTreatmentRequest, ListTreatmentsRequest,
    PutTreatmentRequest, TreatmentUse, check_treatments_request::Subject,
};
use std::{fs, path::PathBuf};

/// `ringland treatment`
#[derive(Debug, Subcommand)]
pub enum TreatmentCommand {
    /// List the catalogue: what is built in and the shop's own
    List {
        /// Only what changes a surface of this type, and steps of work on any part
        #[arg(
            long = "type",
            default_value = "",
            hide_default_value = true,
            value_name = "TYPE"
        )]
        component_type: String,
    },
    /// Show a treatment
    Show {
        /// Which
        treatment: String,
        /// As this revision of the shop's own was
        #[arg(long, default_value_t = 0, hide_default_value = true, value_name = "N")]
        revision: u32,
        /// Print it as it is written: a start for one of the shop's own
        #[arg(long)]
        toml: bool,
    },
    /// Say what treatments would do and what speaks against them; changes nothing
    Check {
        #[command(flatten)]
        done: Done,
        /// A component of the ledger; without it, the one that is described
        #[arg(long, value_name = "COMPONENT")]
        component: Option<String>,
        /// As the component is at this time
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        at: Option<Timestamp>,
        #[command(flatten)]
        fields: Box<ComponentFields>,
    },
    /// Record treatments that were done to a component
    Apply {
        /// Which component
        component: String,
        #[command(flatten)]
        done: Done,
        /// From when they hold
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        from: Timestamp,
        /// Process sheet, intensity, who did it
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        note: String,
        #[command(flatten)]
        request: RequestId,
    },
    /// Put a treatment of the shop's own into the catalogue, or a new revision of one
    Put {
        /// TOML with one [[treatments]]; `ringland treatment show ID --toml` prints one
        file: PathBuf,
        /// Only if this is still the present revision's etag
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "ETAG"
        )]
        etag: String,
        #[command(flatten)]
        request: RequestId,
    },
}

/// Treatments in the order of work.
#[derive(Clone, Debug, Args)]
pub struct Done {
    /// Treatments in their order: shot-peen, or superfinish:flank,root for some surfaces only
    #[arg(
        long = "do",
        required = true,
        num_args = 1..,
        value_name = "TREATMENT[:SURFACES]",
        value_parser = treatment_use
    )]
    treatments: Vec<TreatmentUse>,
}

fn treatment_use(text: &str) -> Result<TreatmentUse, String> {
    let (treatment, surfaces) = match text.split_once(':') {
        None => (text, Vec::new()),
        Some((treatment, surfaces)) => {
            let surfaces = surfaces.split(',').map(str::trim).map(str::to_owned);
            (treatment, surfaces.collect())
        }
    };
    if treatment.is_empty() || surfaces.iter().any(String::is_empty) {
        return Err(format!("{text:?}: expected ID or ID:SURFACE,SURFACE"));
    }
    Ok(TreatmentUse {
        treatment: names::treatment(treatment),
        surfaces,
    })
}

pub(super) async fn run(command: TreatmentCommand, session: &Session) -> Result<(), CliError> {
    match command {
        TreatmentCommand::List { component_type } => list(component_type, session).await,
        TreatmentCommand::Show {
            treatment,
            revision,
            toml,
        } => get(&treatment, revision, toml, session).await,
        TreatmentCommand::Check {
            done,
            component,
            at,
            fields,
        } => {
            let subject = match component {
                Some(component) => Subject::Component(names::component(&component)),
                None => Subject::Described(fields.read()?),
            };
            let request = CheckTreatmentsRequest {
                treatments: done.treatments,
                effective_time: at,
                subject: Some(subject),
            };
            check(request, session).await
        }
        TreatmentCommand::Apply {
            component,
            done,
            from,
            note,
            request,
        } => {
            let request = ApplyTreatmentsRequest {
                component: names::component(&component),
                treatments: done.treatments,
                effective_time: Some(from),
                note,
                request_id: request.request_id,
            };
            apply(request, session).await
        }
        TreatmentCommand::Put {
            file,
            etag,
            request,
        } => put(file, etag, request.request_id, session).await,
    }
}

async fn list(component_type: String, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.treatments();
    let treatments = all_pages(async |page_token| {
        let request = ListTreatmentsRequest {
            component_type: component_type.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_treatments(request).await?.into_inner();
        Ok((page.treatments, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("treatments", "Treatment", &treatments)?);
    }
    out.text(&show::treatments(&treatments, &out.look))
}

async fn get(
    treatment: &str,
    revision: u32,
    toml: bool,
    session: &Session,
) -> Result<(), CliError> {
    let request = GetTreatmentRequest {
        name: names::treatment(treatment),
        revision,
    };
    let answer = session.api.treatments().get_treatment(request).await?;
    let treatment = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Treatment", &treatment)?);
    }
    if toml {
        return out.text(&treatment.text);
    }
    out.text(&show::treatment(&treatment, &out.look))
}

async fn check(request: CheckTreatmentsRequest, session: &Session) -> Result<(), CliError> {
    let answer = session.api.treatments().check_treatments(request).await?;
    let answer = answer.into_inner();
    let out = session.out;
    if out.json {
        out.json(&json::to_json("CheckTreatmentsResponse", &answer)?)?;
    } else {
        out.text(&show::treatment_check(&answer, &out.look))?;
    }
    let refused = answer
        .findings
        .iter()
        .filter(|finding| show::is_error(finding))
        .count();
    if refused == 0 {
        return Ok(());
    }
    let text = format!("the treatments would be refused: {refused} of the findings are errors");
    Err(tonic::Status::invalid_argument(text).into())
}

async fn apply(request: ApplyTreatmentsRequest, session: &Session) -> Result<(), CliError> {
    let answer = session.api.treatments().apply_treatments(request).await?;
    let answer = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("ApplyTreatmentsResponse", &answer)?);
    }
    let revision = answer.revision.unwrap_or_default();
    out.text(&format!(
        "{} from {}: {}",
        revision.name,
        times::show(revision.effective_time.as_ref()),
        revision.reason
    ))?;
    out.text(&heading("To know and to do"))?;
    out.text(&show::findings(&answer.findings, &out.look))
}

async fn put(
    file: PathBuf,
    etag: String,
    request_id: String,
    session: &Session,
) -> Result<(), CliError> {
    let text = fs::read_to_string(&file).map_err(|source| CliError::File { path: file, source })?;
    let request = PutTreatmentRequest {
        text,
        etag,
        request_id,
    };
    let answer = session.api.treatments().put_treatment(request).await?;
    let treatment = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Treatment", &treatment)?);
    }
    out.text(&format!(
        "{}, revision {}",
        treatment.name, treatment.revision
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_treatment_is_of_some_surfaces_or_of_all() {
        let all = treatment_use("shot-peen").unwrap();
        assert_eq!(
            (all.treatment.as_str(), all.surfaces.len()),
            ("treatments/shot-peen", 0)
        );
        let some = treatment_use("treatments/superfinish:flank, root").unwrap();
        assert_eq!(some.treatment, "treatments/superfinish");
        assert_eq!(some.surfaces, ["flank", "root"]);
        for text in ["", ":flank", "superfinish:", "superfinish:flank,"] {
            assert!(treatment_use(text).is_err(), "{text}");
        }
    }
}

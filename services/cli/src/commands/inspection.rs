//! `ringland inspection`.

use super::{RequestId, Session, inspection_file::InspectionFields};
use crate::{CliError, connect::all_pages, json, names, show, table::table, times};
use clap::{Subcommand, ValueEnum};
use ringland_proto::v1::{
    CheckInspectionRequest, ExplainInspectionRequest, Explanation, Finding, GetCorrectionRequest,
    GetInspectionRequest, Inspection, ListInspectionsRequest, ReadingComparison,
    RecordInspectionRequest,
};

/// `ringland inspection`
#[derive(Debug, Subcommand)]
pub enum InspectionCommand {
    /// Record what was measured and looked for
    Record {
        #[command(flatten)]
        fields: Box<InspectionFields>,
        #[command(flatten)]
        request: RequestId,
    },
    /// Say what recording would say, without recording anything
    Check {
        #[command(flatten)]
        fields: Box<InspectionFields>,
    },
    /// List a component's inspections, oldest first
    List {
        /// Which component
        component: String,
    },
    /// Show an inspection
    Show {
        /// COMPONENT/INSPECTION
        inspection: String,
    },
    /// Say why a reading is as it is; only wear is learnt as a rate
    Explain {
        /// COMPONENT/INSPECTION
        inspection: String,
        /// Which reading
        #[arg(long, value_name = "NAME")]
        reading: String,
        /// Which of its lines [default: all]
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        position: String,
        /// Why
        #[arg(value_enum)]
        explanation: Why,
        /// Who says so: a role or initials
        #[arg(long, value_name = "TEXT")]
        by: String,
        /// On what ground
        #[arg(long, value_name = "TEXT")]
        reason: String,
        #[command(flatten)]
        request: RequestId,
    },
    /// Show how inspections have moved the model for a component
    Correction {
        /// Which component
        component: String,
    },
}

/// Why a reading is as it is.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Why {
    /// Learnt as a rate
    Wear,
    /// A casting that settled: the part is as measured and goes on at the normal rate
    CastingShift,
    /// As a casting shift
    Abuse,
    /// As a casting shift
    AssemblyError,
    /// Counts for the instrument's bias only
    InstrumentBias,
}

impl Why {
    fn message(self) -> Explanation {
        match self {
            Self::Wear => Explanation::Wear,
            Self::CastingShift => Explanation::CastingShift,
            Self::Abuse => Explanation::Abuse,
            Self::AssemblyError => Explanation::AssemblyError,
            Self::InstrumentBias => Explanation::InstrumentBias,
        }
    }
}

pub(super) async fn run(command: InspectionCommand, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.inspections();
    let out = session.out;
    match command {
        InspectionCommand::Record { fields, request } => {
            let request = RecordInspectionRequest {
                inspection: Some(fields.read()?),
                request_id: request.request_id,
            };
            let answer = client.record_inspection(request).await?.into_inner();
            if out.json {
                return out.json(&json::to_json("RecordInspectionResponse", &answer)?);
            }
            let inspection = answer.inspection.unwrap_or_default();
            out.text(&format!("{} recorded", names::short(&inspection.name)))?;
            said(&answer.findings, &answer.comparisons, session)
        }
        InspectionCommand::Check { fields } => check(fields.read()?, session).await,
        InspectionCommand::List { component } => list(names::component(&component), session).await,
        InspectionCommand::Show { inspection } => {
            let request = GetInspectionRequest {
                name: names::inspection(&inspection),
            };
            let inspection = client.get_inspection(request).await?.into_inner();
            if out.json {
                return out.json(&json::to_json("Inspection", &inspection)?);
            }
            out.text(&show::inspection(&inspection, &out.look))
        }
        InspectionCommand::Explain {
            inspection,
            reading,
            position,
            explanation,
            by,
            reason,
            request,
        } => {
            let request = ExplainInspectionRequest {
                name: names::inspection(&inspection),
                reading,
                position,
                explanation: explanation.message().into(),
                by,
                reason,
                request_id: request.request_id,
            };
            let answer = client.explain_inspection(request).await?.into_inner();
            if out.json {
                return out.json(&json::to_json("ExplainInspectionResponse", &answer)?);
            }
            said(&[], &answer.comparisons, session)
        }
        InspectionCommand::Correction { component } => {
            let request = GetCorrectionRequest {
                component: names::component(&component),
            };
            let answer = client.get_correction(request).await?.into_inner();
            if out.json {
                return out.json(&json::to_json("Correction", &answer)?);
            }
            out.text(&show::correction(&answer, &out.look))
        }
    }
}

async fn check(inspection: Inspection, session: &Session) -> Result<(), CliError> {
    let request = CheckInspectionRequest {
        inspection: Some(inspection),
    };
    let mut client = session.api.inspections();
    let answer = client.check_inspection(request).await?.into_inner();
    let out = session.out;
    if out.json {
        out.json(&json::to_json("CheckInspectionResponse", &answer)?)?;
    } else {
        if answer.findings.is_empty() {
            out.text("nothing found")?;
        }
        said(&answer.findings, &answer.comparisons, session)?;
    }
    let refused = answer.findings.iter().filter(|f| show::is_error(f)).count();
    if refused == 0 {
        return Ok(());
    }
    let text = format!("the inspection would be refused: {refused} of the findings are errors");
    Err(tonic::Status::invalid_argument(text).into())
}

fn said(
    findings: &[Finding],
    comparisons: &[ReadingComparison],
    session: &Session,
) -> Result<(), CliError> {
    let out = session.out;
    if !comparisons.is_empty() {
        out.text(&show::comparisons(comparisons, &out.look))?;
    }
    if !findings.is_empty() {
        out.text(&show::findings(findings, &out.look))?;
    }
    Ok(())
}

async fn list(parent: String, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.inspections();
    let inspections = all_pages(async |page_token| {
        let request = ListInspectionsRequest {
            parent: parent.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_inspections(request).await?.into_inner();
        Ok((page.inspections, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("inspections", "Inspection", &inspections)?);
    }
    let rows = inspections.iter().map(|inspection| {
        vec![
            names::short(&inspection.name),
            times::show(inspection.inspection_time.as_ref()),
            inspection.inspected_by.clone(),
            inspection.readings.len().to_string(),
            inspection.crack_checks.len().to_string(),
            inspection.notes.clone(),
        ]
    });
    let header = [
        "inspection",
        "at",
        "by",
        ">readings",
        ">crack checks",
        "notes",
    ];
    out.text(&table(&out.look, &header, rows.collect()))
}

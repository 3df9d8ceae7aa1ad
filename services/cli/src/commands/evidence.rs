//! `ringland evidence`.

use super::{Session, labels, notebook};
use crate::{CliError, json, names, plot, show::evidence as show};
use clap::{Args, Subcommand};
use ringland_proto::v1::{
    AgeMeasure, AnalyzeLivesRequest, AnalyzeReplacementsRequest, CompareGroupsRequest, GivenLives,
    LifeQuery, analyze_lives_request, analyze_replacements_request, compare_groups_request,
};
use std::path::PathBuf;

/// `ringland evidence`
#[derive(Debug, Subcommand)]
pub enum EvidenceCommand {
    /// Fit the lives of like parts: ended ones, and those that are still running
    Lives {
        #[command(flatten)]
        source: SourceArgs,
        #[command(flatten)]
        plot: PlotArgs,
    },
    /// Hold treated parts against untreated ones, or any group against another
    Groups {
        #[command(flatten)]
        source: SourceArgs,
        /// The group that the other is held against
        #[arg(long, default_value = "untreated", value_name = "GROUP")]
        base: String,
        /// The other [default: all that are not in the base]
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "GROUP"
        )]
        other: String,
        #[command(flatten)]
        plot: PlotArgs,
    },
    /// Count the replacements of a part over the age of units
    Replacements {
        /// Type of the parts
        #[arg(
            long = "type",
            required_unless_present = "file",
            conflicts_with = "file",
            value_name = "TYPE"
        )]
        component_type: Option<String>,
        /// Instead of the ledger: CSV with columns unit, age, replaced (1; 0 for the age when last seen)
        #[arg(long, value_name = "FILE.csv")]
        file: Option<PathBuf>,
        /// In what the file counts ages
        #[arg(long, default_value = "h", value_name = "UNIT")]
        age_unit: String,
        #[command(flatten)]
        plot: PlotArgs,
    },
}

/// Where lives come from.
#[derive(Debug, Args)]
pub struct SourceArgs {
    /// Type of the parts
    #[arg(
        long = "type",
        required_unless_present = "file",
        conflicts_with = "file",
        value_name = "TYPE"
    )]
    component_type: Option<String>,
    /// Instead of the ledger, the shop's notebook: CSV with columns age, ended (1 or 0) and, where they are known, part, group, unit
    #[arg(long, value_name = "FILE.csv")]
    file: Option<PathBuf>,
    /// In what the file counts ages
    #[arg(long, default_value = "h", value_name = "UNIT")]
    age_unit: String,
    /// Count ages in events of this profile [default: hours of duty]
    #[arg(long, value_name = "PROFILE", conflicts_with = "revolutions")]
    events_of: Option<String>,
    /// Count ages in turns of the crank
    #[arg(long)]
    revolutions: bool,
    /// Ends by this mechanism only; ends by others count as suspensions
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "MECHANISM"
    )]
    mechanism: String,
    /// Only of this batch
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "BATCH"
    )]
    batch: String,
    /// Only with this label; may be given several times
    #[arg(long = "label", value_name = "NAME=VALUE", value_parser = labels::read)]
    labels: Vec<(String, String)>,
    /// Only those that were last in this unit
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "UNIT"
    )]
    unit: String,
}

/// Where a plot goes.
#[derive(Debug, Args)]
pub struct PlotArgs {
    /// Draw it too: a file ending in .svg or .png
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
}

/// Lives out of the ledger or of a file.
enum Source {
    Query(LifeQuery),
    Given(GivenLives),
}

impl SourceArgs {
    fn source(&self) -> Result<Source, CliError> {
        if let Some(file) = &self.file {
            return Ok(Source::Given(GivenLives {
                lives: notebook::lives(file)?,
                age_unit: self.age_unit.clone(),
            }));
        }
        let measure = match (&self.events_of, self.revolutions) {
            (Some(_), _) => AgeMeasure::Events,
            (None, true) => AgeMeasure::CrankRevolutions,
            (None, false) => AgeMeasure::Hours,
        };
        Ok(Source::Query(LifeQuery {
            component_type: self.component_type.clone().unwrap_or_default(),
            measure: measure.into(),
            profile: names::profile(self.events_of.as_deref().unwrap_or_default()),
            mechanism: self.mechanism.clone(),
            batch: self.batch.clone(),
            labels: self.labels.iter().cloned().collect(),
            unit: names::unit(&self.unit),
        }))
    }
}

pub(super) async fn run(command: EvidenceCommand, session: &Session) -> Result<(), CliError> {
    match command {
        EvidenceCommand::Lives { source, plot } => lives(&source, &plot, session).await,
        EvidenceCommand::Groups {
            source,
            base,
            other,
            plot,
        } => groups(&source, (base, other), &plot, session).await,
        EvidenceCommand::Replacements {
            component_type,
            file,
            age_unit,
            plot,
        } => {
            use analyze_replacements_request::Source;
            let source = match (component_type, file) {
                (_, Some(file)) => Source::Given(notebook::replacements(&file, age_unit)?),
                (kind, None) => Source::ComponentType(kind.unwrap_or_default()),
            };
            let request = AnalyzeReplacementsRequest {
                source: Some(source),
            };
            let mut client = session.api.evidence();
            let found = client.analyze_replacements(request).await?.into_inner();
            if let Some(file) = &plot.plot {
                plot::draw(file, &plot::of_replacements(&found))?;
            }
            if session.out.json {
                return session
                    .out
                    .json(&json::to_json("ReplacementAnalysis", &found)?);
            }
            session
                .out
                .text(&show::replacements(&found, &session.out.look))
        }
    }
}

async fn lives(source: &SourceArgs, plot: &PlotArgs, session: &Session) -> Result<(), CliError> {
    use analyze_lives_request::Source as Api;
    let request = AnalyzeLivesRequest {
        source: Some(match source.source()? {
            Source::Query(query) => Api::Query(query),
            Source::Given(given) => Api::Given(given),
        }),
    };
    let mut client = session.api.evidence();
    let found = client.analyze_lives(request).await?.into_inner();
    if let Some(file) = &plot.plot {
        plot::draw(file, &plot::of_lives(&found))?;
    }
    if session.out.json {
        return session.out.json(&json::to_json("LifeAnalysis", &found)?);
    }
    session.out.text(&show::lives(&found, &session.out.look))
}

async fn groups(
    source: &SourceArgs,
    (base, other): (String, String),
    plot: &PlotArgs,
    session: &Session,
) -> Result<(), CliError> {
    use compare_groups_request::Source as Api;
    let request = CompareGroupsRequest {
        source: Some(match source.source()? {
            Source::Query(query) => Api::Query(query),
            Source::Given(given) => Api::Given(given),
        }),
        base,
        other,
    };
    let mut client = session.api.evidence();
    let found = client.compare_groups(request).await?.into_inner();
    if let Some(file) = &plot.plot {
        plot::draw(file, &plot::of_groups(&found))?;
    }
    if session.out.json {
        return session.out.json(&json::to_json("GroupComparison", &found)?);
    }
    session.out.text(&show::groups(&found, &session.out.look))
}

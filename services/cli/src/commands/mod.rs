//! The commands, one file a noun.

mod alternative;
mod ask;
mod build;
mod calendar_file;
mod compare;
mod compare_unit;
mod component;
mod component_file;
mod demo;
mod duty;
mod evidence;
mod history;
mod inspection;
mod inspection_file;
mod labels;
mod ledger;
mod model;
mod notebook;
mod overrides;
mod plan;
mod power;
mod predict;
mod prediction;
mod profile;
mod record;
mod season;
mod seating;
mod sheet;
mod template;
mod treatment;
mod unit;
mod watch;

pub use ask::AskCommand;
pub use build::BuildCommand;
pub use compare::CompareArgs;
pub use compare_unit::CompareUnitArgs;
pub use component::ComponentCommand;
pub use demo::DemoArgs;
pub use duty::DutyCommand;
pub use evidence::EvidenceCommand;
pub use inspection::InspectionCommand;
pub use ledger::LedgerCommand;
pub use model::ModelCommand;
pub use overrides::OverrideCommand;
pub use plan::PlanCommand;
pub use power::PowerArgs;
pub use predict::PredictArgs;
pub use prediction::PredictionCommand;
pub use profile::ProfileCommand;
pub use season::SeasonArgs;
pub use seating::SeatingArgs;
pub use sheet::SheetCommand;
pub use treatment::TreatmentCommand;
pub use unit::UnitCommand;
pub use watch::WatchArgs;

use crate::{Arguments, CliError, Command, connect::Api, out::Out};
use clap::{Args, CommandFactory};

/// What a command works with.
pub(crate) struct Session {
    /// The server.
    pub api: Api,
    /// Where answers go.
    pub out: Out,
}

/// The id under which a call can be sent again.
#[derive(Clone, Debug, Default, Args)]
pub struct RequestId {
    /// Client-chosen id, 1 to 64 characters: sending the same call again with it changes nothing
    #[arg(long, default_value = "", hide_default_value = true, value_name = "ID")]
    pub request_id: String,
}

/// Does what the command line says.
pub(crate) async fn run(arguments: Arguments, out: Out) -> Result<(), CliError> {
    match arguments.command {
        Command::Completions { shell } => return completions(shell, out),
        Command::Man => return manual(out),
        Command::Demo(demo) => return demo::run(demo, out).await,
        Command::Season(season) => return season::run(season, out).await,
        _ => {}
    }
    let session = Session {
        api: Api::connect(&arguments.connect).await?,
        out,
    };
    match arguments.command {
        Command::Unit(command) => unit::run(command, &session).await,
        Command::Build(command) => build::run(command, &session).await,
        Command::Component(command) => component::run(command, &session).await,
        Command::Treatment(command) => treatment::run(command, &session).await,
        Command::Duty(command) => duty::run(command, &session).await,
        Command::Inspection(command) => inspection::run(*command, &session).await,
        Command::Profile(command) => profile::run(command, &session).await,
        Command::Compare(command) => compare::run(command, &session).await,
        Command::CompareUnit(command) => compare_unit::run(command, &session).await,
        Command::Plan(command) => plan::run(command, &session).await,
        Command::Override(command) => overrides::run(command, &session).await,
        Command::Predict(command) => predict::run(command, &session).await,
        Command::Prediction(command) => prediction::run(command, &session).await,
        Command::Ask(command) => ask::run(*command, &session).await,
        Command::Seating(command) => seating::run(command, &session).await,
        Command::Sheet(command) => sheet::run(command, &session).await,
        Command::Power(command) => power::run(command, &session).await,
        Command::Evidence(command) => evidence::run(command, &session).await,
        Command::Watch(command) => watch::run(command, &session).await,
        Command::Model(command) => model::run(command, &session).await,
        Command::Ledger(command) => ledger::run(command, &session).await,
        Command::Channels => duty::channels(&session).await,
        Command::Completions { .. } | Command::Man | Command::Demo(_) | Command::Season(_) => {
            Ok(())
        }
    }
}

fn completions(shell: clap_complete::Shell, out: Out) -> Result<(), CliError> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "ringland", &mut script);
    out.bytes(&script)
}

fn manual(out: Out) -> Result<(), CliError> {
    let mut page = Vec::new();
    clap_mangen::Man::new(Arguments::command())
        .render(&mut page)
        .map_err(CliError::Output)?;
    out.bytes(&page)
}

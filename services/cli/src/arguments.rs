//! The command line.

use crate::{commands, connect::ConnectArgs, error::EXIT_CODES, measures::System};
use clap::{Parser, Subcommand};
use clap_complete::Shell;

/// The life ledger of a race-engine and driveline shop: logs in, remaining life out
#[derive(Debug, Parser)]
#[command(
    name = "ringland",
    version,
    propagate_version = true,
    after_help = "Short names do: engine-a for units/engine-a, engine-a/b-1 for units/engine-a/builds/b-1.\n\
                  Times are RFC 3339 (2026-04-18T09:30:00Z); without an offset they are UTC.",
    after_long_help = EXIT_CODES
)]
pub struct Arguments {
    /// The connection.
    #[command(flatten)]
    pub connect: ConnectArgs,
    /// Answer in JSON: protobuf JSON with the field names of the proto files, in SI
    #[arg(long, global = true)]
    pub json: bool,
    /// Units of measure in text
    #[arg(
        long,
        global = true,
        value_enum,
        default_value_t,
        env = "RINGLAND_UNITS"
    )]
    pub units: System,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Engines, gearboxes, final drives, clutches
    #[command(subcommand)]
    Unit(commands::UnitCommand),
    /// Lives of units from assembly to teardown
    #[command(subcommand)]
    Build(commands::BuildCommand),
    /// Serialised parts and matched sets
    #[command(subcommand)]
    Component(commands::ComponentCommand),
    /// Shop processes that change surfaces: the catalogue, what they would do, what was done
    #[command(subcommand)]
    Treatment(commands::TreatmentCommand),
    /// What the shop's own parts tell: their lives, treated against untreated, repeated replacements
    #[command(subcommand)]
    Evidence(commands::EvidenceCommand),
    /// Logs in, duty records out
    #[command(subcommand)]
    Duty(commands::DutyCommand),
    /// What was measured and looked for at a part, and how it moves predictions
    #[command(subcommand)]
    Inspection(Box<commands::InspectionCommand>),
    /// The duty of one event
    #[command(subcommand)]
    Profile(commands::ProfileCommand),
    /// Predict how much life is left, what ends it and how sure that is
    Predict(commands::PredictArgs),
    /// Compare alternatives of a component: does a treatment pay, and what becomes the limit instead
    Compare(commands::CompareArgs),
    /// Tell what limits a unit, and which change moves its earliest limit
    CompareUnit(commands::CompareUnitArgs),
    /// What to replace at which teardown, the risk at every event, what to look at first
    #[command(subcommand)]
    Plan(commands::PlanCommand),
    /// What owners decided other than advised, with who and why
    #[command(subcommand)]
    Override(commands::OverrideCommand),
    /// Ask what a shop asks between events: run one more or pull it, what a shock cost, more speed, a move, a spare
    #[command(subcommand)]
    Ask(Box<commands::AskCommand>),
    /// Predictions made before
    #[command(subcommand)]
    Prediction(commands::PredictionCommand),
    /// Say from blow-by or leak-down over the pulls of a break-in how far rings are seated: stop, or one more pull
    Seating(commands::SeatingArgs),
    /// Say how much power a unit has lost since it was seated, as measured and by its parts' models
    Power(commands::PowerArgs),
    /// Sheets to hand over or fill in: build sheet, life card, check list, teardown sheet, season review
    #[command(subcommand)]
    Sheet(commands::SheetCommand),
    /// Follow predictions as duty, revisions, inspections and models change them
    Watch(commands::WatchArgs),
    /// Plugins: installed versions, the active one, templates of their inputs
    #[command(subcommand)]
    Model(commands::ModelCommand),
    /// The ledger as a whole
    #[command(subcommand)]
    Ledger(commands::LedgerCommand),
    /// Channels, kinds of shock and units that logs may have
    Channels,
    /// Run a season of an invented shop and predict the parts of its engines and drivelines; needs no server
    Demo(commands::DemoArgs),
    /// Replay the invented season event by event and hold what is said of each planted event against what should be; needs no server
    Season(commands::SeasonArgs),
    /// Print the completion script of a shell
    Completions {
        /// Which shell
        shell: Shell,
    },
    /// Print the manual page
    Man,
}

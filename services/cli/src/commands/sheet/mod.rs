//! `ringland sheet`: what a shop hands over or fills in, from what the ledger has. Nothing is stored.

mod advised;
mod alike;
mod build_sheet;
mod check_list;
mod coverage;
mod digits;
mod gather;
mod groups;
mod life_card;
mod prices;
mod season_review;
mod teardown;
mod teardown_lines;
mod week;
mod words;
mod write;

use super::Session;
use crate::CliError;
use clap::{Args, Subcommand, ValueEnum};
use ringland_sheets::Paper;
use std::path::PathBuf;

/// `ringland sheet`
#[derive(Debug, Subcommand)]
pub enum SheetCommand {
    /// What was put together and measured at assembly, with what is missing or looks copied
    Build {
        /// UNIT/BUILD, or UNIT for its latest build
        place: String,
        #[command(flatten)]
        to: SheetTo,
    },
    /// For the customer: what is left, what to watch, when to bring it back
    LifeCard {
        /// Which unit
        unit: String,
        #[command(flatten)]
        to: SheetTo,
    },
    /// Between events: what to look at, expected beside the limit, with room for what is measured
    CheckList {
        /// Which unit
        unit: String,
        /// Calendar by which looks are put in the order of what they are worth for their minutes
        #[arg(
            long,
            value_name = "CALENDAR",
            default_value = "",
            hide_default_value = true
        )]
        calendar: String,
        /// Minutes that there are: what fits, best first, and what does not with its risk
        #[arg(long, value_name = "MINUTES", allow_negative_numbers = true)]
        minutes: Option<f64>,
        #[command(flatten)]
        to: SheetTo,
    },
    /// At the teardown: expected beside measured and limit
    Teardown {
        /// UNIT/BUILD, or UNIT for its latest build
        place: String,
        #[command(flatten)]
        to: SheetTo,
    },
    /// Of the units, or of all: use, what was predicted beside what was found, what treatments showed, what was fitted
    Season {
        /// Which units [default: all]
        #[arg(id = "of_units", value_name = "UNITS")]
        units: Vec<String>,
        /// TOML with a price for each component type fitted, such as ring_pack = 320.0
        #[arg(long, value_name = "FILE")]
        prices: Option<PathBuf>,
        #[command(flatten)]
        to: SheetTo,
    },
}

/// Where a sheet goes.
#[derive(Debug, Args)]
pub struct SheetTo {
    /// A file ending in .html or .pdf
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Paper of a PDF
    #[arg(long, value_enum, default_value_t)]
    paper: OnPaper,
    /// The shop's name, at the head
    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    shop: String,
    /// The date at the head [default: a line to write it on]
    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    date: String,
}

/// Paper by name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum OnPaper {
    /// 210 mm x 297 mm.
    #[default]
    A4,
    /// 8.5 in x 11 in.
    Letter,
}

impl From<OnPaper> for Paper {
    fn from(paper: OnPaper) -> Self {
        match paper {
            OnPaper::A4 => Self::A4,
            OnPaper::Letter => Self::Letter,
        }
    }
}

pub(super) async fn run(command: SheetCommand, session: &Session) -> Result<(), CliError> {
    let (sheet, to) = match command {
        SheetCommand::Build { place, to } => (build_sheet::of(&place, session).await?, to),
        SheetCommand::LifeCard { unit, to } => (life_card::of(&unit, session).await?, to),
        SheetCommand::CheckList {
            unit,
            calendar,
            minutes,
            to,
        } => {
            let week = check_list::Week {
                calendar: &calendar,
                minutes,
            };
            (check_list::of(&unit, &week, session).await?, to)
        }
        SheetCommand::Teardown { place, to } => (teardown::of(&place, session).await?, to),
        SheetCommand::Season { units, prices, to } => {
            let sheet = season_review::of(&units, prices.as_deref(), session).await?;
            (sheet, to)
        }
    };
    write::to_file(sheet, &to, session)
}

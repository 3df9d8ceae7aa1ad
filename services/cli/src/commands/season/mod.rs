//! `ringland season`: the invented season event by event through the real API, and what is planted in it beside what is said of it.

mod checks;
mod cost;
mod duty;
mod judge;
mod play;
mod report;
mod stand;

use super::demo::{
    PLUGINS, SOURCES,
    calendar::Calendar,
    failed, parts,
    served::{Folder, Server},
};
use crate::{
    CliError,
    demo::{SEED, Season},
    out::Out,
};
use clap::Args;
use std::path::PathBuf;

/// `ringland season`
#[derive(Debug, Args)]
pub struct SeasonArgs {
    /// Keep ledger, logs and channel maps in this folder; it must be new or empty
    #[arg(long, value_name = "FOLDER")]
    keep: Option<PathBuf>,
    /// Fail when anything that is said differs from what was stated
    #[arg(long)]
    strict: bool,
    /// The folder with the built plugins
    #[arg(long, value_name = "FOLDER", default_value = PLUGINS)]
    plugins: PathBuf,
    /// The folder with a folder for each component type, where its demo files are
    #[arg(long, value_name = "FOLDER", default_value = SOURCES)]
    sources: PathBuf,
}

pub(super) async fn run(arguments: SeasonArgs, out: Out) -> Result<(), CliError> {
    let folder = Folder::open(arguments.keep.clone())?;
    let server = Server::start(folder.path()).await?;
    let done = tokio::select! {
        done = replay(&arguments, &folder, &server, out) => done,
        _ = tokio::signal::ctrl_c() => Err(CliError::Failed("stopped".into())),
    };
    let stopped = server.stop().await;
    let differ = done?;
    stopped?;
    if arguments.strict && differ > 0 {
        let text = format!("{differ} of the statements differ, and --strict was given");
        return Err(CliError::Failed(text));
    }
    Ok(())
}

/// Plays the season, tells what came out, counts what differs.
async fn replay(
    arguments: &SeasonArgs,
    folder: &Folder,
    server: &Server,
    out: Out,
) -> Result<usize, CliError> {
    let session = server.session(out).await?;
    let calendar = Calendar::of(Season::load().map_err(failed)?, false, SEED);
    let parts = parts::install_all(&arguments.plugins, &arguments.sources, &session).await?;
    let played = play::play(&calendar, &parts, folder, &session).await?;
    report::show(&played, &calendar, out)?;
    if let Some(kept) = arguments.keep.as_ref().filter(|_| !out.json) {
        out.text(&report::farewell(kept))?;
    }
    Ok(played.differ())
}

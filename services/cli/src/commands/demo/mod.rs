//! `ringland demo`: a season of the invented shop through the real API, served from this process.

pub(super) mod calendar;
pub(super) mod inspections;
pub(super) mod logs;
pub(super) mod parts;
mod report;
pub(super) mod served;
pub(super) mod shop;

use crate::{
    CliError,
    demo::{SEED, Season},
    out::{Out, heading},
};
use calendar::Calendar;
use clap::Args;
use served::{Folder, Server};
use std::path::PathBuf;

/// Where `cargo build` puts the plugins.
pub(super) const PLUGINS: &str = "target/wasm32-wasip2/release";
/// Where the component types have their demo files.
pub(super) const SOURCES: &str = "plugins";

/// `ringland demo`
#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Keep ledger, logs and channel maps in this folder; it must be new or empty
    #[arg(long, value_name = "FOLDER")]
    keep: Option<PathBuf>,
    /// Three events in place of the whole season
    #[arg(long)]
    quick: bool,
    /// Say everything of every component, not only what is worst in each engine
    #[arg(long)]
    full: bool,
    /// The folder with the built plugins
    #[arg(long, value_name = "FOLDER", default_value = PLUGINS)]
    plugins: PathBuf,
    /// The folder with a folder for each component type, where its demo files are
    #[arg(long, value_name = "FOLDER", default_value = SOURCES)]
    sources: PathBuf,
}

pub(super) async fn run(arguments: DemoArgs, out: Out) -> Result<(), CliError> {
    let folder = Folder::open(arguments.keep.clone())?;
    let server = Server::start(folder.path()).await?;
    let done = tokio::select! {
        done = play(&arguments, &folder, &server, out) => done,
        _ = tokio::signal::ctrl_c() => Err(CliError::Failed("stopped".into())),
    };
    let stopped = server.stop().await;
    done?;
    stopped?;
    farewell(&arguments, out)
}

/// The whole story, in the order in which a shop lives it.
async fn play(
    arguments: &DemoArgs,
    folder: &Folder,
    server: &Server,
    out: Out,
) -> Result<(), CliError> {
    let session = server.session(out).await?;
    let season = Season::load().map_err(failed)?;
    let calendar = Calendar::of(season, arguments.quick, SEED);
    if !out.json {
        out.text(&report::opening(&calendar, &out.look))?;
    }
    let parts = parts::install_all(&arguments.plugins, &arguments.sources, &session).await?;
    shop::open(&calendar, &parts, &session).await?;
    let records = logs::record_all(&calendar, folder, &session).await?;
    shop::plan_events(&records, &calendar, &session).await?;
    let inspected = inspections::record_all(&calendar, &session).await?;
    inspections::show(&inspected, &session)?;
    let predictions = shop::predict(&calendar, &session).await?;
    report::show(&calendar, &records, &predictions, arguments.full, out)
}

fn farewell(arguments: &DemoArgs, out: Out) -> Result<(), CliError> {
    let Some(folder) = arguments.keep.as_ref().filter(|_| !out.json) else {
        return Ok(());
    };
    let text = format!(
        "{}\n  ringland-server --data-dir {folder} --cache-dir {cache}\n  \
         ringland predict --unit engine-a --full\n  ringland component history ring-pack-a-1",
        heading("Look further"),
        folder = folder.join("ledger").display(),
        cache = folder.join("cache").display(),
    );
    out.text(&text)
}

pub(super) fn failed(error: impl std::fmt::Display) -> CliError {
    CliError::Failed(error.to_string())
}

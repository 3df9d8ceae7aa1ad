//! `ringland demo`: a season of the invented shop through the real API, served from this process.

mod calendar;
mod inspections;
mod logs;
mod parts;
mod report;
mod shop;

use super::Session;
use crate::{
    CliError,
    connect::{Api, ConnectArgs},
    demo::{SEED, Season},
    out::{Out, heading},
};
use calendar::Calendar;
use clap::Args;
use ringland_server::{Running, ServeError, Settings};
use std::{
    fs, io,
    path::{Path, PathBuf},
};
use tempfile::TempDir;
use tokio::sync::oneshot;

/// Where `cargo build` puts the plugins.
const PLUGINS: &str = "target/wasm32-wasip2/release";
/// Where the component types have their demo files.
const SOURCES: &str = "plugins";

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
    let connect = ConnectArgs {
        server: server.address(),
        token_file: None,
        ca_file: None,
    };
    let session = Session {
        api: Api::connect(&connect).await?,
        out,
    };
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

fn failed(error: impl std::fmt::Display) -> CliError {
    CliError::Failed(error.to_string())
}

/// Where the demo lives: a folder that is kept, or one that goes away with it.
enum Folder {
    Kept(PathBuf),
    Passing(TempDir),
}

impl Folder {
    fn open(keep: Option<PathBuf>) -> Result<Self, CliError> {
        let Some(path) = keep else {
            let folder = TempDir::with_prefix("ringland-demo-").map_err(failed)?;
            return Ok(Self::Passing(folder));
        };
        let failed = |source: io::Error| CliError::File {
            path: path.clone(),
            source,
        };
        fs::create_dir_all(&path).map_err(failed)?;
        if fs::read_dir(&path).map_err(failed)?.next().is_some() {
            let text = format!(
                "--keep {}: the folder is not empty; name a new one",
                path.display()
            );
            return Err(CliError::Usage(text));
        }
        Ok(Self::Kept(path))
    }

    fn path(&self) -> &Path {
        match self {
            Self::Kept(path) => path,
            Self::Passing(folder) => folder.path(),
        }
    }

    fn is_kept(&self) -> bool {
        matches!(self, Self::Kept(_))
    }
}

/// The server in this process.
struct Server {
    running: Running,
    stop: oneshot::Sender<()>,
}

impl Server {
    async fn start(folder: &Path) -> Result<Self, CliError> {
        let settings = Settings {
            listen: ([127, 0, 0, 1], 0).into(),
            data_dir: folder.join("ledger"),
            cache_dir: folder.join("cache"),
            ..Settings::default()
        };
        let (stop, stopped) = oneshot::channel();
        // Told to stop, or the sender is gone, which means the same.
        let stopped = async move { drop(stopped.await) };
        let running = ringland_server::serve(settings, stopped)
            .await
            .map_err(|error| not_served(&error))?;
        Ok(Self { running, stop })
    }

    fn address(&self) -> String {
        format!("http://{}", self.running.address())
    }

    async fn stop(self) -> Result<(), CliError> {
        drop(self.stop);
        self.running
            .finished()
            .await
            .map_err(|error| not_served(&error))
    }
}

fn not_served(error: &ServeError) -> CliError {
    CliError::Failed(format!("the demo's server: {error}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_with_something_in_it_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        assert!(
            Folder::open(Some(folder.path().to_path_buf()))
                .unwrap()
                .is_kept()
        );
        fs::write(folder.path().join("precious"), "x").unwrap();
        let error = Folder::open(Some(folder.path().to_path_buf()))
            .err()
            .unwrap();
        assert_eq!(error.exit_code(), 2);
        assert!(error.to_string().contains("not empty"), "{error}");
    }
}

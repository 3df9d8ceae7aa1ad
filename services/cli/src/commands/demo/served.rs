//! Where a demo lives and the server that it plays on.

use super::failed;
use crate::{
    CliError,
    commands::Session,
    connect::{Api, ConnectArgs},
    out::Out,
};
use ringland_server::{Running, ServeError, Settings};
use std::{
    fs, io,
    path::{Path, PathBuf},
};
use tempfile::TempDir;
use tokio::sync::oneshot;

/// A folder that is kept, or one that goes away with it.
pub(in crate::commands) enum Folder {
    Kept(PathBuf),
    Passing(TempDir),
}

impl Folder {
    pub(in crate::commands) fn open(keep: Option<PathBuf>) -> Result<Self, CliError> {
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

    pub(in crate::commands) fn path(&self) -> &Path {
        match self {
            Self::Kept(path) => path,
            Self::Passing(folder) => folder.path(),
        }
    }

    pub(in crate::commands) fn is_kept(&self) -> bool {
        matches!(self, Self::Kept(_))
    }
}

/// The server in this process.
pub(in crate::commands) struct Server {
    running: Running,
    stop: oneshot::Sender<()>,
}

impl Server {
    pub(in crate::commands) async fn start(folder: &Path) -> Result<Self, CliError> {
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

    /// A session with it.
    pub(in crate::commands) async fn session(&self, out: Out) -> Result<Session, CliError> {
        let connect = ConnectArgs {
            server: format!("http://{}", self.running.address()),
            token_file: None,
            ca_file: None,
        };
        Ok(Session {
            api: Api::connect(&connect).await?,
            out,
        })
    }

    pub(in crate::commands) async fn stop(self) -> Result<(), CliError> {
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

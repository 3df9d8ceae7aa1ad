//! Plugins from a folder, installed at the start.

use ringland_ledger::{Ledger, LedgerError, Model, PageRequest};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// What went wrong with the folder or a file in it.
#[derive(Debug, thiserror::Error)]
pub enum PluginsError {
    /// The folder or a file cannot be read.
    #[error("plugins_dir: {path}: {source}")]
    Unreadable {
        /// Which.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The ledger cannot say which models it has.
    #[error("plugins_dir: {0}")]
    Ledger(#[from] LedgerError),
}

/// Installs every `*.wasm` in a folder, in the order of their names; one that is installed already
/// changes nothing. One that is refused is logged and passed over: it must not keep the others, and
/// the ledger, from being served.
///
/// With `activate_new`, a plugin is activated when its component type has no active model: a fresh
/// ledger works at once, and one in use never changes its answers because a file was put in a folder.
///
/// # Errors
/// When the folder or a file cannot be read, or the ledger fails.
pub fn install(ledger: &Ledger, folder: &Path, activate_new: bool) -> Result<(), PluginsError> {
    for path in plugin_files(folder)? {
        let bytes = fs::read(&path).map_err(unreadable(&path))?;
        match ledger.install_model(&bytes) {
            Ok(model) if activate_new => activate_if_first(ledger, &model)?,
            Ok(model) => log(&model, "plugin is installed"),
            Err(error) => {
                tracing::error!(file = %path.display(), %error, "plugin was not installed");
            }
        }
    }
    Ok(())
}

fn plugin_files(folder: &Path) -> Result<Vec<PathBuf>, PluginsError> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable(folder))? {
        let path = entry.map_err(unreadable(folder))?.path();
        if path
            .extension()
            .is_some_and(|extension| extension == "wasm")
        {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

fn unreadable(path: &Path) -> impl FnOnce(io::Error) -> PluginsError + use<> {
    let path = path.to_owned();
    move |source| PluginsError::Unreadable { path, source }
}

fn activate_if_first(ledger: &Ledger, model: &Model) -> Result<(), PluginsError> {
    if has_active(ledger, &model.component_type)? {
        log(
            model,
            "plugin is installed; its type has an active model, which stays",
        );
        return Ok(());
    }
    match ledger.activate_model(model.name, "") {
        Ok(_) => log(model, "plugin is installed and active"),
        Err(error) => tracing::error!(model = %model.name, %error, "plugin was not activated"),
    }
    Ok(())
}

fn has_active(ledger: &Ledger, component_type: &str) -> Result<bool, LedgerError> {
    let mut page = PageRequest::default();
    loop {
        let found = ledger.list_models(component_type, &page)?;
        if found.items.iter().any(|model| model.active) {
            return Ok(true);
        }
        if found.next_page_token.is_empty() {
            return Ok(false);
        }
        page.page_token = found.next_page_token;
    }
}

fn log(model: &Model, message: &str) {
    let component_type = &model.component_type;
    tracing::info!(model = %model.name, component_type, version = model.version, "{message}");
}

//! Log lines on standard error.

use crate::settings::{LogFormat, LogSettings};
use std::io::{self, IsTerminal};
use tracing_subscriber::{EnvFilter, fmt};

/// Starts logging for this process. Only the binary calls it: who embeds the server has a log of
/// its own.
///
/// # Errors
/// When the filter cannot be read or a log was started before.
pub fn start(settings: &LogSettings) -> Result<(), String> {
    let filter = EnvFilter::try_new(&settings.filter).map_err(|error| error.to_string())?;
    let log = fmt()
        .with_env_filter(filter)
        .with_writer(io::stderr)
        .with_ansi(io::stderr().is_terminal())
        .with_target(false);
    let started = match settings.format {
        LogFormat::Text => log.try_init(),
        LogFormat::Json => log.json().flatten_event(true).try_init(),
    };
    started.map_err(|error| error.to_string())
}

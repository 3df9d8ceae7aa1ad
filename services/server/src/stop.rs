//! When to stop.

use std::{future::Future, io};
use tokio::signal::unix::{SignalKind, signal};

/// Completes on the first SIGINT or SIGTERM. Must be called inside a runtime.
///
/// # Errors
/// When the system refuses the handlers.
pub fn stop_signal() -> io::Result<impl Future<Output = ()> + Send + 'static> {
    let mut interrupt = signal(SignalKind::interrupt())?;
    let mut terminate = signal(SignalKind::terminate())?;
    Ok(async move {
        let name = tokio::select! {
            _ = interrupt.recv() => "SIGINT",
            _ = terminate.recv() => "SIGTERM",
        };
        tracing::info!(signal = name, "told to stop");
    })
}

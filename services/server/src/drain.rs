//! The end of a server: no new calls, the calls under way finished, everything on disk.

use crate::{calls::CallLayer, error::ServeError, health};
use ringland_store::{Batch, Store};
use std::{fs, future::Future, io, path::PathBuf, pin::pin, sync::Arc, time::Duration};
use tokio::time::timeout;
use tokio_util::sync::CancellationToken;
use tonic_health::{ServingStatus, server::HealthReporter};

/// What takes part in the end.
pub struct Drain {
    /// Set when no new calls are taken; ends watchers, and the listening with them.
    pub draining: CancellationToken,
    /// Calls under way.
    pub calls: CallLayer,
    /// Who asks is told.
    pub health: HealthReporter,
    /// Time for calls under way.
    pub limit: Duration,
    /// Everything is on disk before the end.
    pub store: Arc<dyn Store>,
    /// Removed: nothing listens there any more.
    pub address_file: PathBuf,
}

impl Drain {
    /// Serves until `stop`, then drains.
    ///
    /// # Errors
    /// When the transport or the last write fails.
    pub async fn after(
        self,
        stop: impl Future<Output = ()>,
        serving: impl Future<Output = Result<(), tonic::transport::Error>>,
    ) -> Result<(), ServeError> {
        let mut serving = pin!(serving);
        tokio::select! {
            // It ends by itself only when it fails.
            ended = &mut serving => ended?,
            () = stop => {}
        }
        tracing::info!(limit_s = self.limit.as_secs(), "draining");
        health::report(&self.health, ServingStatus::NotServing).await;
        self.draining.cancel();
        let mut health = self.health.clone();
        let calls = self.calls.clone();
        let idle = async move {
            calls.idle().await;
            health::forget(&mut health).await;
        };
        let drained = timeout(self.limit, async { tokio::join!(serving, idle).0 }).await;
        if let Ok(ended) = drained {
            ended?;
        } else {
            tracing::warn!("the drain limit has passed; calls under way are cut");
        }
        self.finish().await
    }

    async fn finish(self) -> Result<(), ServeError> {
        // An empty batch returns when all that was written is on disk.
        let store = self.store;
        let flushed = tokio::task::spawn_blocking(move || store.commit(&Batch::new()));
        flushed.await.map_err(io::Error::other)??;
        if crate::settings::is_set(&self.address_file) {
            // It may be gone already, and then that is what was wanted.
            let _ = fs::remove_file(&self.address_file);
        }
        tracing::info!("stopped");
        Ok(())
    }
}

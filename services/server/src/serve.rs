//! From settings to a server that accepts calls.

use crate::{
    calls::CallLayer,
    drain::Drain,
    error::ServeError,
    health, open,
    routes::routes,
    rpc::Front,
    settings::{Settings, is_set},
    watch::WatchHub,
};
use ringland_host::contract::Models;
use ringland_store::Store;
use std::{fs, future::Future, io, net::SocketAddr, path::Path, sync::Arc, time::Duration};
use tokio::task::{JoinHandle, spawn_blocking};
use tokio_util::sync::CancellationToken;
use tonic::transport::{Server, server::TcpIncoming};
use tonic_health::{ServingStatus, server::health_reporter};

/// A connection that answers no ping for this long is gone; with it go its watchers.
const KEEPALIVE: Duration = Duration::from_secs(30);

/// A server that accepts calls.
#[derive(Debug)]
pub struct Running {
    address: SocketAddr,
    task: JoinHandle<Result<(), ServeError>>,
}

impl Running {
    /// The bound address.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Waits until the server was stopped, has finished its calls and has written everything.
    ///
    /// # Errors
    /// When the transport or the last write failed.
    pub async fn finished(self) -> Result<(), ServeError> {
        self.task.await.map_err(io::Error::other)?
    }
}

/// Serves the ledger in `data_dir` with sandboxed plugins. Returns once calls are accepted; `stop` ends it.
///
/// # Errors
/// Whatever is wrong with settings, folders, ledger or plugins, before any port is bound.
pub async fn serve(
    settings: Settings,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<Running, ServeError> {
    settings.check()?;
    let opening = settings.clone();
    let open = move || Ok::<_, ServeError>((open::store(&opening)?, open::models(&opening)?));
    let (store, models) = spawn_blocking(open).await.map_err(io::Error::other)??;
    serve_with(settings, store, models, stop).await
}

/// Serves a ledger in a store and with plugins given by the caller.
///
/// # Errors
/// As [`serve`].
pub async fn serve_with(
    settings: Settings,
    store: Arc<dyn Store>,
    models: Arc<dyn Models>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<Running, ServeError> {
    settings.check()?;
    let auth = open::auth(&settings)?;
    let tls = open::tls(&settings)?;
    let lanes = open::lanes(&settings)?;
    let hub = WatchHub::new(settings.watch.clone());
    let opening = (settings.clone(), Arc::clone(&store), hub.listener());
    let open = move || open::ledger(&opening.0, opening.1, models, opening.2);
    let ledger = spawn_blocking(open).await.map_err(io::Error::other)??;

    let draining = CancellationToken::new();
    let desk = hub.desk(Arc::clone(&ledger), lanes.bulk.clone(), draining.clone());
    let front = Front::new(ledger, lanes, desk.clone(), &settings);
    let calls = CallLayer::new(&settings, draining.clone());
    let (health, health_service) = health_reporter();
    let routes = routes(&front, &auth, &settings.limits, health_service)?;
    let mut server = Server::builder()
        .max_concurrent_streams(settings.limits.calls_per_connection)
        .http2_keepalive_interval(Some(KEEPALIVE))
        .layer(calls.clone());
    if let Some(tls) = tls {
        server = server.tls_config(tls)?;
    }

    let bind = |source| ServeError::Bind {
        address: settings.listen,
        source,
    };
    let listener = TcpIncoming::bind(settings.listen)
        .map_err(bind)?
        .with_nodelay(Some(true));
    let address = listener.local_addr().map_err(bind)?;
    health::report(&health, ServingStatus::Serving).await;
    let serving = server
        .add_routes(routes)
        .serve_with_incoming_shutdown(listener, draining.clone().cancelled_owned());
    write_address(&settings.address_file, address)?;
    tracing::info!(%address, version = env!("CARGO_PKG_VERSION"), "listening");
    tokio::spawn(desk.work());
    let (limit, address_file) = (settings.drain_limit(), settings.address_file);
    let drain = Drain {
        draining,
        calls,
        health,
        limit,
        store,
        address_file,
    };
    let task = tokio::spawn(drain.after(stop, serving));
    Ok(Running { address, task })
}

/// Whoever waits for the file sees all of the address or nothing.
fn write_address(file: &Path, address: SocketAddr) -> Result<(), ServeError> {
    if !is_set(file) {
        return Ok(());
    }
    let beside = file.with_extension("new");
    fs::write(&beside, format!("{address}\n"))
        .and_then(|()| fs::rename(&beside, file))
        .map_err(|source| ServeError::File {
            key: "address_file",
            path: file.into(),
            source,
        })
}

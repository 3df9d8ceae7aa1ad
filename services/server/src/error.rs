//! Why the server cannot start, or did not end well.

use crate::{plugins::PluginsError, settings::SettingsError};
use ringland_host::contract::ModelError;
use ringland_ledger::LedgerError;
use ringland_store::{OpenError, StoreError};
use std::{io, net::SocketAddr, path::PathBuf};

/// Why the server cannot start, or did not end well.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// Settings that cannot be used.
    #[error("{0}")]
    Settings(#[from] SettingsError),
    /// The log cannot be started.
    #[error("log: {0}")]
    Log(String),
    /// A file or folder of the settings cannot be used.
    #[error("{key} = {path:?}: {source}")]
    File {
        /// Which setting.
        key: &'static str,
        /// Its value.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The plugin host cannot be started.
    #[error("cache_dir: {0}")]
    Host(#[from] ModelError),
    /// The store cannot be opened.
    #[error("data_dir: {0}")]
    Open(#[from] OpenError),
    /// The store cannot be written.
    #[error("{0}")]
    Store(#[from] StoreError),
    /// The ledger cannot be opened.
    #[error("ledger: {0}")]
    Ledger(#[from] LedgerError),
    /// The plugin folder cannot be read.
    #[error("{0}")]
    Plugins(#[from] PluginsError),
    /// The address cannot be bound.
    #[error("listen = {address}: {source}; choose another address, or stop what listens there")]
    Bind {
        /// Which.
        address: SocketAddr,
        /// Why.
        source: io::Error,
    },
    /// The transport failed.
    #[error("transport: {0}")]
    Transport(#[from] tonic::transport::Error),
    /// The contract's descriptors cannot be read.
    #[error("reflection: {0}")]
    Reflection(#[from] tonic_reflection::server::Error),
    /// The system refused threads, signals or standard streams.
    #[error("{0}")]
    System(#[from] io::Error),
}

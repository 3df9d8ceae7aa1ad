//! Settings: what they are, where they come from, what they must satisfy.

mod check;
mod limits;
mod ranges;
mod sources;

pub(crate) use check::is_set;
pub use check::{Problem, SettingsError};
pub use limits::{Limits, PredictionSettings, RiskCaps, WatchLimits};
pub use sources::Flags;

use serde::{Deserialize, Serialize};
use std::{net::SocketAddr, path::PathBuf, time::Duration};

/// Everything that can be set. Unknown keys are refused wherever they come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// Address to listen on; port 0 takes a free one.
    pub listen: SocketAddr,
    /// The bound address is written here once calls are accepted; empty for none.
    pub address_file: PathBuf,
    /// The ledger. Back this folder up.
    pub data_dir: PathBuf,
    /// Compiled plugins and prepared tables; may be deleted at any time.
    pub cache_dir: PathBuf,
    /// Every `*.wasm` in this folder is installed at the start if it is new; empty for none.
    pub plugins_dir: PathBuf,
    /// Whether a plugin that is new from `plugins_dir` is activated when its component type has no
    /// active model yet. An active model is never replaced this way: that is a decision for people.
    pub activate_new: bool,
    /// File with the bearer token that calls must carry; empty for none.
    pub token_file: PathBuf,
    /// Whether to listen on more than this machine without a token.
    pub allow_open: bool,
    /// Certificate chain and key for TLS; both empty for none.
    pub tls: TlsSettings,
    /// What is logged and how.
    pub log: LogSettings,
    /// Limits on calls.
    pub limits: Limits,
    /// Limits on watchers.
    pub watch: WatchLimits,
    /// Limits on plugins.
    pub host: ringland_host::Limits,
    /// How predictions are drawn.
    pub prediction: PredictionSettings,
}

/// TLS by files in PEM form.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TlsSettings {
    /// Certificate chain, the server's own first.
    pub certificate_file: PathBuf,
    /// Private key.
    pub key_file: PathBuf,
}

/// What is logged and how.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogSettings {
    /// One line of text or one JSON object an event, on standard error.
    pub format: LogFormat,
    /// Level, or directives by module: `info`, `warn,ringland_server=debug`.
    pub filter: String,
}

/// Form of a log line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum LogFormat {
    /// For people.
    Text,
    /// For collectors.
    Json,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            listen: SocketAddr::from(([127, 0, 0, 1], 7420)),
            address_file: PathBuf::new(),
            data_dir: PathBuf::from("ringland-data"),
            cache_dir: PathBuf::from("ringland-cache"),
            plugins_dir: PathBuf::new(),
            activate_new: true,
            token_file: PathBuf::new(),
            allow_open: false,
            tls: TlsSettings::default(),
            log: LogSettings {
                format: LogFormat::Text,
                filter: "info".into(),
            },
            limits: Limits::default(),
            watch: WatchLimits::default(),
            host: ringland_host::Limits::default(),
            prediction: PredictionSettings::default(),
        }
    }
}

impl Settings {
    /// How long a call may take that sends one message and waits for one.
    pub fn call_limit(&self) -> Duration {
        Duration::from_secs(self.limits.call_s)
    }

    /// How long an upload or a batch may take.
    pub fn stream_limit(&self) -> Duration {
        Duration::from_secs(self.limits.stream_s)
    }

    /// How long calls under way may still take once the server was told to stop.
    pub fn drain_limit(&self) -> Duration {
        Duration::from_secs(self.limits.drain_s)
    }
}

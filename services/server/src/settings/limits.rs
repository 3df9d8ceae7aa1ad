//! A limit on everything, with the default that suits a shop's own machine.

use serde::{Deserialize, Serialize};

/// Limits on calls. Sizes in bytes, times in seconds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Largest message taken in.
    pub request_bytes: usize,
    /// Largest message sent.
    pub response_bytes: usize,
    /// Largest log taken in one `RecordDuty`, all messages together.
    pub log_bytes: u64,
    /// Most cycles and shocks together in one duty record.
    pub duty_rows: usize,
    /// Most numbers in one duty record.
    pub duty_values: usize,
    /// Memory for the store's pages.
    pub store_cache_bytes: u64,
    /// Longest plain call.
    pub call_s: u64,
    /// Longest upload or batch.
    pub stream_s: u64,
    /// Time for calls under way once the server was told to stop.
    pub drain_s: u64,
    /// Calls under way at once, streams included.
    pub calls: usize,
    /// Calls under way at once on one connection.
    pub calls_per_connection: u32,
    /// Logs and plugins being received at once.
    pub uploads: usize,
    /// Threads for light calls.
    pub light_threads: usize,
    /// Light calls that may wait for a thread.
    pub light_queue: usize,
    /// Threads for single predictions.
    pub predict_threads: usize,
    /// Single predictions that may wait for a thread.
    pub predict_queue: usize,
    /// Threads for heavy work.
    pub bulk_threads: usize,
    /// Heavy calls that may wait for a thread.
    pub bulk_queue: usize,
    /// Largest page of a list.
    pub page_size: u32,
    /// Largest batch of predictions.
    pub batch: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            request_bytes: 4 << 20,
            response_bytes: 16 << 20,
            log_bytes: 2 << 30,
            duty_rows: 100_000,
            duty_values: 2_000_000,
            store_cache_bytes: 256 << 20,
            call_s: 30,
            stream_s: 600,
            drain_s: 20,
            calls: 1024,
            calls_per_connection: 256,
            uploads: 8,
            light_threads: 4,
            light_queue: 512,
            predict_threads: 2,
            predict_queue: 256,
            bulk_threads: 2,
            bulk_queue: 32,
            page_size: 1000,
            batch: 1000,
        }
    }
}

/// Limits on watchers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WatchLimits {
    /// Watchers at once.
    pub watchers: usize,
    /// Targets of one watcher.
    pub targets: usize,
    /// Changes kept for a slow watcher before it is sent everything again.
    pub queue: usize,
}

impl Default for WatchLimits {
    fn default() -> Self {
        Self {
            watchers: 64,
            targets: 1000,
            queue: 256,
        }
    }
}

/// How predictions are drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PredictionSettings {
    /// Lives drawn for each mechanism.
    pub samples: u32,
    /// Longest life of interest, in events.
    pub horizon_events: f64,
    /// When the ledger no longer advises to run on.
    pub risk_caps: RiskCaps,
}

/// The probability of an end within the next event at which the ledger no longer advises to run on,
/// by what the end would cost. The defaults are the ledger's: assumed, no source; a shop sets its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RiskCaps {
    /// A nuisance.
    pub nuisance: f64,
    /// Loss of power.
    pub power_loss: f64,
    /// Loss of the unit.
    pub unit_loss: f64,
    /// People can be hurt.
    pub hazard: f64,
}

impl Default for PredictionSettings {
    fn default() -> Self {
        let usual = ringland_ledger::RiskCaps::default();
        let risk_caps = RiskCaps {
            nuisance: usual.nuisance,
            power_loss: usual.power_loss,
            unit_loss: usual.unit_loss,
            hazard: usual.hazard,
        };
        Self {
            samples: 512,
            horizon_events: 200.0,
            risk_caps,
        }
    }
}

//! The ledger as a whole.

use crate::errors;
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use std::time::Duration;

/// To a message, with what the server knows itself.
pub fn status_to_message(
    status: domain::LedgerStatus,
    bytes_on_disk: u64,
    uptime: Duration,
) -> api::LedgerStatus {
    api::LedgerStatus {
        server_version: env!("CARGO_PKG_VERSION").into(),
        units: status.units,
        components: status.components,
        duty_records: status.duty_records,
        predictions: status.predictions,
        bytes_on_disk: i64::try_from(bytes_on_disk).unwrap_or(i64::MAX),
        uptime_s: uptime.as_secs_f64(),
    }
}

/// To a message.
pub fn progress_to_message(progress: domain::RebuildProgress) -> api::RebuildConditionsResponse {
    let error = progress
        .error
        .map(|error| errors::from_ledger(&error).message().to_owned());
    api::RebuildConditionsResponse {
        component: progress.component.to_string(),
        done: progress.done,
        total: progress.total,
        error: error.unwrap_or_default(),
    }
}

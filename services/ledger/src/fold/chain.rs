//! The rows of a chain and their digests.

use crate::{ComponentName, DutyRecordName, keys, rows};
use jiff::Timestamp;
use ringland_host::contract::Digest;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A place in the order of a component's history: time, then kind (shop operations come before
/// duty that starts at the same time), then what is left to tell two apart.
pub(crate) type StepKey = Vec<u8>;

pub(crate) const REWORK: u8 = 0;
pub(crate) const DUTY: u8 = 1;

pub(crate) fn step_key(time: Timestamp, kind: u8, rest: &[u8]) -> StepKey {
    let mut key = keys::time(time).to_vec();
    key.push(kind);
    key.extend_from_slice(rest);
    key
}

/// Use so far and what had to be assumed about it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Tally {
    pub(crate) duty_records: u64,
    pub(crate) hours: f64,
    pub(crate) crank_revolutions: f64,
    /// Records without an optional channel, by channel.
    pub(crate) defaulted_channels: BTreeMap<String, u64>,
    /// Records without a mate, by `component type/slot`.
    pub(crate) defaulted_mates: BTreeMap<String, u64>,
}

/// The condition after one step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct ChainRow {
    pub(crate) condition: Vec<f64>,
    /// Of everything that made it: model, specimen, the row before, the step.
    pub(crate) digest: Digest,
    pub(crate) tally: Tally,
    pub(crate) last_record: Option<DutyRecordName>,
    pub(crate) last_end: Option<Timestamp>,
}

/// How far a chain is.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct ChainState {
    /// The last row and its place; `None` before the first step.
    pub(crate) head: Option<(StepKey, ChainRow)>,
    /// Everything before this place is in the chain: the head's, or later where a mate asked for
    /// the condition at a time without a step.
    pub(crate) folded_to: StepKey,
    /// Rows from this place on are stale.
    pub(crate) dirty_from: Option<StepKey>,
    /// Active models of the mates' types when it was made; with others it starts again.
    pub(crate) mate_models: BTreeMap<String, Option<Digest>>,
}

pub(crate) fn state_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&["s", component.component()])
}

pub(crate) fn state_key(component: &ComponentName, model: Digest) -> Vec<u8> {
    keys::with(&["s", component.component()], &model.0)
}

/// Below it are the rows of one chain, by [`StepKey`].
pub(crate) fn row_prefix(component: &ComponentName, model: Digest) -> Vec<u8> {
    keys::with(&["c", component.component()], &model.0)
}

pub(crate) fn row_key(component: &ComponentName, model: Digest, step: &[u8]) -> Vec<u8> {
    let mut key = row_prefix(component, model);
    key.extend_from_slice(step);
    key
}

/// Counts changes to what a component has been through; folds require that it has not moved.
pub(crate) fn generation_key(component: &ComponentName) -> Vec<u8> {
    keys::with(&["g"], component.component().as_bytes())
}

/// Digest of the condition before the first step.
pub(crate) fn begin_digest(specimen: Digest, opening: &[Option<f64>]) -> Digest {
    let mut bytes = Vec::new();
    for slot in opening {
        bytes.push(u8::from(slot.is_some()));
        bytes.extend_from_slice(&slot.unwrap_or(0.0).to_bits().to_be_bytes());
    }
    rows::digest_of(&[b"begin", &specimen.0, &bytes])
}

/// Digest after a duty record. The specimen's digest covers the plugin's.
pub(crate) fn duty_digest(before: Digest, specimen: Digest, duty: Digest, mates: &[f64]) -> Digest {
    let mates: Vec<u8> = mates
        .iter()
        .flat_map(|value| value.to_bits().to_be_bytes())
        .collect();
    rows::digest_of(&[b"duty", &specimen.0, &before.0, &duty.0, &mates])
}

/// Digest after a shop operation.
pub(crate) fn rework_digest(before: Digest, specimen: Digest, operation: &str) -> Digest {
    rows::digest_of(&[b"rework", &specimen.0, &before.0, operation.as_bytes()])
}

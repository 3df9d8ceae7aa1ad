//! The life ledger: units, builds, components, duty, predictions.
//!
//! This crate knows the shop's rules: what may be installed where and when, which duty a component
//! has seen, how conditions follow from the log, how lives combine into a prediction. It never knows
//! gRPC, WebAssembly, a store's engine or an async runtime: it is called from any thread and blocks.
//!
//! The log (units, builds, components, revisions, installations, shop operations, duty, profiles,
//! plugins, activations, answers to request ids) is the truth. Conditions and predictions are derived from it
//! and can be dropped at any time: they come back bit for bit.

mod domain;
mod error;
mod names;
mod options;
mod page;
mod rows;

pub use domain::*;
pub use error::{ErrorKind, FieldViolation, LedgerError, Reason, Resource};
pub use names::{
    BuildName, ComponentName, DutyRecordName, ID_FORM, InstallationName, ModelName, NameError,
    PredictionName, ProfileName, RevisionName, ReworkName, UnitName, is_id, parse_name,
};
pub use options::{Change, Clock, LedgerOptions, OnChange};
pub use page::{Page, PageRequest};

//! The life ledger: units, builds, components, duty, predictions.
//!
//! This crate knows the shop's rules: what may be installed where and when, which duty a component
//! has seen, how conditions follow from the log, how lives combine into a prediction. It never knows
//! gRPC, WebAssembly, a store's engine or an async runtime: it is called from any thread and blocks.
//!
//! The log (units, builds, components, revisions, installations, shop operations, duty, profiles, the shop's
//! own treatments, calendars, overrides, plugins, activations, answers to request ids) is the truth. Conditions and predictions are derived from it
//! and can be dropped at any time: they come back bit for bit.

// Calls take what the network layer has and no longer needs.
#![allow(clippy::needless_pass_by_value)]

mod compare;
mod correct;
mod domain;
mod error;
mod evidence;
mod fold;
mod inspect;
mod keys;
mod ledger;
mod limits;
mod locks;
mod names;
mod options;
mod page;
mod plan;
mod predict;
mod questions;
mod rows;
mod running_in;
mod treat;
mod violations;

pub use domain::*;
pub use error::{ErrorKind, FieldViolation, LedgerError, Reason, Resource};
pub use ledger::Ledger;
pub use names::{
    BuildName, CalendarName, ComponentName, DutyRecordName, ID_FORM, InspectionName,
    InstallationName, ModelName, NameError, OverrideName, PredictionName, ProfileName,
    RevisionName, ReworkName, TreatmentName, UnitName, is_id, parse_name,
};
pub use options::{Change, Clock, LedgerOptions, OnChange, RiskCaps};
pub use page::{Page, PageRequest};
pub use treat::Subject;

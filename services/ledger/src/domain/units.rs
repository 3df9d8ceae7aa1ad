//! Serialised assemblies.

use crate::{ProfileName, UnitName};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a unit is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum UnitKind {
    /// Not said; refused when a unit is created.
    #[default]
    Unspecified,
    /// An engine.
    Engine,
    /// A gearbox.
    Gearbox,
    /// A final drive.
    FinalDrive,
    /// A clutch.
    Clutch,
    /// Shafts and joints.
    Driveline,
}

/// What a client says of a unit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct UnitInput {
    /// Name for people.
    pub display_name: String,
    /// What it is.
    pub kind: UnitKind,
    /// The duty profile of one event, which predictions assume unless a call names another.
    pub event_profile: Option<ProfileName>,
    /// What counts as a shock in this unit's logs.
    pub shock_thresholds: ShockThresholds,
    /// Free labels.
    pub labels: BTreeMap<String, String>,
}

/// An engine, gearbox, final drive, clutch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Unit {
    /// `units/{unit}`
    pub name: UnitName,
    /// Name for people.
    pub display_name: String,
    /// What it is.
    pub kind: UnitKind,
    /// The duty profile of one event.
    pub event_profile: Option<ProfileName>,
    /// What counts as a shock in this unit's logs.
    pub shock_thresholds: ShockThresholds,
    /// Free labels.
    pub labels: BTreeMap<String, String>,
    /// When it entered the ledger.
    pub create_time: Timestamp,
    /// When it last changed.
    pub update_time: Timestamp,
    /// Changes with every update.
    pub etag: String,
}

/// Limits beyond which a log's sample belongs to a shock. The defaults are intake's.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ShockThresholds {
    /// Over-rev above this speed; without it none is looked for.
    pub over_rev_engine_speed_rad_s: Option<f64>,
    /// Oil-pressure dip below this gauge pressure ...
    pub oil_pressure_dip_pa: Option<f64>,
    /// ... while the engine turns faster than this.
    pub oil_pressure_dip_above_engine_speed_rad_s: Option<f64>,
    /// Oil overheat above this.
    pub oil_overheat_temp_k: Option<f64>,
}

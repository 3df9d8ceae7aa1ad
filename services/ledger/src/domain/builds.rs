//! Lives of units from assembly to teardown.

use crate::BuildName;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// What a client says of a build.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct BuildInput {
    /// Name for people.
    pub display_name: String,
    /// Required.
    pub assembly_time: Option<Timestamp>,
    /// Given only for a build that was over before it was entered.
    pub teardown_time: Option<Timestamp>,
    /// Measured lines.
    pub build_sheet: Vec<BuildSheetLine>,
}

/// One life of a unit from assembly to teardown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Build {
    /// `units/{unit}/builds/{build}`
    pub name: BuildName,
    /// Name for people.
    pub display_name: String,
    /// When it was assembled.
    pub assembly_time: Timestamp,
    /// Not set while the build is in use.
    pub teardown_time: Option<Timestamp>,
    /// Measured lines.
    pub build_sheet: Vec<BuildSheetLine>,
    /// When it entered the ledger.
    pub create_time: Timestamp,
    /// When it last changed.
    pub update_time: Timestamp,
    /// Changes with every update.
    pub etag: String,
}

/// One measured line of a build sheet.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct BuildSheetLine {
    /// What was measured.
    pub item: String,
    /// In SI; the unit is in `unit`.
    pub value: f64,
    /// UCUM-like text.
    pub unit: String,
    /// What measured it.
    pub instrument: String,
    /// One standard deviation, same unit.
    pub instrument_sd: f64,
    /// Temperature of the part when measured.
    pub temperature_k: Option<f64>,
    /// Who measured, a role or initials.
    pub measured_by: String,
}

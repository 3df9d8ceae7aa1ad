//! Serialised parts and matched sets.

use crate::{
    BuildName, ComponentName, InstallationName, Retirement, RevisionName, ReworkName, UnitName,
};
use jiff::Timestamp;
use ringland_host::contract::{Finding, Table};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a client says of a component.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ComponentInput {
    /// What models it.
    pub component_type: String,
    /// Name for people.
    pub display_name: String,
    /// As stamped or tagged.
    pub serial: String,
    /// Batch.
    pub batch: String,
    /// Geometry, material, clearances.
    pub spec: Spec,
    /// By the surface names of the model's card.
    pub surfaces: BTreeMap<String, SurfaceState>,
    /// Known slots of the condition of a used component at its entry into the ledger.
    pub opening_condition: BTreeMap<String, f64>,
    /// Free labels.
    pub labels: BTreeMap<String, String>,
    /// Ids of the catalogue's treatments, in the order in which they were done.
    // Left out when empty: rows, etags and digests of requests stay as they were before it was there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub treatments: Vec<String>,
}

/// A serialised part or matched set. Its history moves with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Component {
    /// `components/{component}`
    pub name: ComponentName,
    /// What models it.
    pub component_type: String,
    /// Name for people.
    pub display_name: String,
    /// As stamped or tagged.
    pub serial: String,
    /// Batch.
    pub batch: String,
    /// Of the revision with the latest effective time.
    pub spec: Spec,
    /// Of the revision with the latest effective time.
    pub surfaces: BTreeMap<String, SurfaceState>,
    /// Known slots of the condition at its entry.
    pub opening_condition: BTreeMap<String, f64>,
    /// Free labels.
    pub labels: BTreeMap<String, String>,
    /// Where it is now.
    pub installed_build: Option<BuildName>,
    /// When it entered the ledger.
    pub create_time: Timestamp,
    /// When it last changed.
    pub update_time: Timestamp,
    /// Changes with every update.
    pub etag: String,
    /// Of the revision with the latest effective time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub treatments: Vec<String>,
    /// Its end, if it has come; kept apart from the row.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retirement: Option<Retirement>,
}

/// Geometry, material, clearances, by the field names of the model's card. What is left out takes
/// the card's default.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Spec {
    /// SI.
    pub numbers: BTreeMap<String, f64>,
    /// By the name of the chosen option.
    pub choices: BTreeMap<String, String>,
    /// Equal-length columns.
    pub tables: BTreeMap<String, Table>,
}

/// The state of one working surface.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SurfaceState {
    /// By property name, SI.
    pub properties: BTreeMap<String, f64>,
    /// Spread of a property: standard deviation of its natural logarithm; 0 where left out.
    pub ln_sd: BTreeMap<String, f64>,
    /// Residual stress over depth.
    pub residual_stress: Option<ResidualStressProfile>,
}

/// Residual stress over depth, tension positive.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ResidualStressProfile {
    /// Depths, rising.
    pub depth_m: Vec<f64>,
    /// Stress at them.
    pub stress_pa: Vec<f64>,
}

/// The answer of a check.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CheckComponentResponse {
    /// Errors and warnings, all at once.
    pub findings: Vec<Finding>,
}

/// Where components are listed from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// What is installed now in this unit.
    Unit(UnitName),
    /// What is installed now in this build.
    Build(BuildName),
    /// What is installed now anywhere.
    Anywhere,
}

/// Which components are listed; the default is all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ComponentFilter {
    /// Only of this type; empty for all.
    pub component_type: String,
    /// Only what is installed there now.
    pub installed_in: Option<Place>,
}

/// Spec, surfaces and treatments from a time on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Revision {
    /// `components/{component}/revisions/{revision}`
    pub name: RevisionName,
    /// `None` for the first: it holds from the beginning.
    pub effective_time: Option<Timestamp>,
    /// Geometry, material, clearances.
    pub spec: Spec,
    /// Surfaces.
    pub surfaces: BTreeMap<String, SurfaceState>,
    /// Why: the process and its sheet.
    pub reason: String,
    /// Ids of the catalogue's treatments done by then, in their order. Models see the surfaces alone.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub treatments: Vec<String>,
}

/// A component in a build from one time to another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Installation {
    /// `components/{component}/installations/{installation}`
    pub name: InstallationName,
    /// The component.
    pub component: ComponentName,
    /// The build.
    pub build: BuildName,
    /// Cylinder, side, gear: free text.
    pub position: String,
    /// From this time on ...
    pub install_time: Timestamp,
    /// ... until just before this one. Not set while installed.
    pub remove_time: Option<Timestamp>,
}

/// A shop operation on a component.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rework {
    /// `components/{component}/reworks/{rework}`
    pub name: ReworkName,
    /// The component.
    pub component: ComponentName,
    /// Name of an operation of the model's card.
    pub operation: String,
    /// When it was done. It comes before duty that starts at the same time.
    pub rework_time: Timestamp,
    /// Note.
    pub note: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rows;

    /// A revision as it was stored before it had treatments.
    #[derive(Serialize)]
    struct Older {
        name: RevisionName,
        effective_time: Option<Timestamp>,
        spec: Spec,
        surfaces: BTreeMap<String, SurfaceState>,
        reason: String,
    }

    #[test]
    fn a_row_without_treatments_reads_and_writes_as_before() {
        let older = Older {
            name: RevisionName::new("rings", "1").unwrap(),
            effective_time: Some(Timestamp::UNIX_EPOCH),
            spec: Spec::default(),
            surfaces: BTreeMap::from([("bore".into(), SurfaceState::default())]),
            reason: "honed".into(),
        };
        let stored = rows::encode(&older).unwrap();
        let mut read: Revision = rows::decode(&stored).unwrap();
        assert_eq!(read.name, older.name);
        assert!(read.treatments.is_empty());
        assert_eq!(
            rows::encode(&read).unwrap(),
            stored,
            "etags and digests stay"
        );
        read.treatments = vec!["nitride".into(), "plateau-hone".into()];
        let again: Revision = rows::decode(&rows::encode(&read).unwrap()).unwrap();
        assert_eq!(again, read);
    }
}

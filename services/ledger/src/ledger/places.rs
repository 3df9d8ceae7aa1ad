//! Where components are: keys of builds and installations, and what is in a build.

use super::{Ledger, txn::Txn};
use crate::{Build, BuildName, ComponentName, Installation, LedgerError, UnitName, keys, rows};
use jiff::Timestamp;
use ringland_store::{Store, Table};
use serde::{Deserialize, Serialize};

/// What guards the duty of a unit: every record and every installation changes it.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
pub(crate) struct UnitHead {
    /// Counts changes.
    pub(crate) generation: u64,
    /// Counts duty records.
    pub(crate) records: u64,
}

pub(crate) fn head_key(unit: &UnitName) -> Vec<u8> {
    keys::with(&["h"], unit.unit().as_bytes())
}

pub(crate) fn build_key(name: &BuildName) -> Vec<u8> {
    keys::with(&["b", name.unit()], name.build().as_bytes())
}

/// Finds the builds of a unit in the order of time; the row is the build's id.
pub(crate) fn build_time_prefix(unit: &UnitName) -> Vec<u8> {
    keys::prefix(&["t", unit.unit()])
}

pub(crate) fn installation_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&["c", component.component()])
}

pub(crate) fn installation_key(component: &ComponentName, install_time: Timestamp) -> Vec<u8> {
    keys::with(&["c", component.component()], &keys::time(install_time))
}

/// Finds what is in a build; the row is the key of the installation.
pub(crate) fn in_build_prefix(build: &BuildName) -> Vec<u8> {
    keys::prefix(&["b", build.unit(), build.build()])
}

pub(crate) fn in_build_key(build: &BuildName, installation: &Installation) -> Vec<u8> {
    let component = installation.component.component();
    let time = keys::time(installation.install_time);
    keys::with(&["b", build.unit(), build.build(), component], &time)
}

pub(crate) fn build_of(bytes: &[u8]) -> Result<Build, LedgerError> {
    let build: Build = rows::decode(bytes)?;
    Ok(Build {
        etag: rows::etag(bytes),
        ..build
    })
}

/// The build of a unit that was the last to be assembled by then.
pub(crate) fn build_at(
    store: &dyn Store,
    unit: &UnitName,
    time: Option<Timestamp>,
) -> Result<Option<Build>, LedgerError> {
    let prefix = build_time_prefix(unit);
    let up_to = time.map(|time| keys::with(&["t", unit.unit()], &keys::time(time)));
    let Some((_, id)) = store.last(Table::Builds, &prefix, up_to.as_deref())? else {
        return Ok(None);
    };
    let mut key = keys::prefix(&["b", unit.unit()]);
    key.extend_from_slice(&id);
    store
        .get(Table::Builds, &key)?
        .as_deref()
        .map(build_of)
        .transpose()
}

/// The last installation of a component that began by then.
pub(crate) fn installation_at(
    store: &dyn Store,
    component: &ComponentName,
    time: Option<Timestamp>,
) -> Result<Option<Installation>, LedgerError> {
    let prefix = installation_prefix(component);
    let up_to = time.map(|time| installation_key(component, time));
    let row = store.last(Table::Installations, &prefix, up_to.as_deref())?;
    row.map(|(_, bytes)| rows::decode(&bytes)).transpose()
}

impl Installation {
    /// Whether the component is in the build at that time: `[install, remove)`.
    pub fn holds_at(&self, time: Timestamp) -> bool {
        self.install_time <= time && self.remove_time.is_none_or(|remove| time < remove)
    }
}

impl Ledger {
    /// Every installation in a build, by component and time.
    pub(crate) fn installations_in(
        &self,
        build: &BuildName,
    ) -> Result<Vec<Installation>, LedgerError> {
        let prefix = in_build_prefix(build);
        // Each component may come and go; the bound holds for installations as well.
        let limit = self.options.max_components_per_build;
        let rows = self
            .store
            .scan(Table::Installations, &prefix, None, limit)?;
        let mut found = Vec::with_capacity(rows.len());
        for (_, key) in rows {
            if let Some(bytes) = self.store.get(Table::Installations, &key)? {
                found.push(rows::decode(&bytes)?);
            }
        }
        Ok(found)
    }
}

/// Counts a change to the unit's duty or to what is installed in it.
pub(crate) fn touch_unit(
    txn: &mut Txn<'_>,
    unit: &UnitName,
    records: u64,
) -> Result<(), LedgerError> {
    let key = head_key(unit);
    // A move within a unit counts twice in one change.
    let mut head: UnitHead = match txn.written(Table::Duty, &key) {
        Some(bytes) => rows::decode(bytes)?,
        None => txn.read(Table::Duty, &key)?.unwrap_or_default(),
    };
    head.generation += 1;
    head.records += records;
    txn.put(Table::Duty, key, &head)
}

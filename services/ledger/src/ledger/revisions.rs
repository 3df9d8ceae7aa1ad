//! Revisions of spec, surfaces and treatments.

use super::{Ledger, components::refuse_errors, specimen::specimen_of, txn::Txn};
use crate::{
    Component, ComponentName, LedgerError, Page, PageRequest, Revision, RevisionName, Spec,
    SurfaceState, keys, ledger::mask::check_text, rows, violations::Violations,
};
use jiff::Timestamp;
use ringland_store::Table;
use std::collections::BTreeMap;

/// What a revision changes; the rest stays as it was.
#[derive(Default)]
pub(crate) struct Revised<'a> {
    /// Geometry, material, clearances.
    pub(crate) spec: Option<&'a Spec>,
    /// Surfaces.
    pub(crate) surfaces: Option<&'a BTreeMap<String, SurfaceState>>,
    /// Treatments done so far.
    pub(crate) treatments: Option<&'a Vec<String>>,
}

/// Below it are the revisions of a component, by effective time, then in the order of recording.
fn revision_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&[component.component()])
}

fn revision_key(component: &ComponentName, effective: Option<Timestamp>, number: u32) -> Vec<u8> {
    let mut key = revision_prefix(component);
    // The first holds from the beginning: before every time.
    key.extend_from_slice(&effective.map_or([0; keys::TIME_BYTES], keys::time));
    key.extend_from_slice(&number.to_be_bytes());
    key
}

/// Counts revisions.
fn counter_key(component: &ComponentName) -> Vec<u8> {
    // No component's name is empty, so this key is below nobody's prefix.
    keys::with(&["", "n"], component.component().as_bytes())
}

impl Ledger {
    /// Lists the revisions of spec and surfaces, by effective time, oldest first.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_revisions(
        &self,
        component: &ComponentName,
        page: &PageRequest,
    ) -> Result<Page<Revision>, LedgerError> {
        self.component_row(component)?;
        let prefix = revision_prefix(component);
        let query = ["revisions", component.component()];
        self.page_of(page, &query, (Table::Revisions, &prefix), |_, row| {
            rows::decode(row).map(Some)
        })
    }

    pub(crate) fn put_first_revision(
        &self,
        txn: &mut Txn<'_>,
        component: &Component,
    ) -> Result<(), LedgerError> {
        let revision = Revision {
            name: revision_name(&component.name, 1)?,
            effective_time: None,
            spec: component.spec.clone(),
            surfaces: component.surfaces.clone(),
            reason: "entered into the ledger".into(),
            treatments: component.treatments.clone(),
        };
        self.check_row_size("component", &revision)?;
        txn.put(Table::Revisions, counter_key(&component.name), &1u32)?;
        txn.put(
            Table::Revisions,
            revision_key(&component.name, None, 1),
            &revision,
        )
    }

    /// Adds a revision and brings the component's own spec, surfaces and treatments up to date.
    pub(crate) fn put_revision(
        &self,
        txn: &mut Txn<'_>,
        component: &mut Component,
        revised: Revised<'_>,
        from: Timestamp,
        reason: &str,
    ) -> Result<Revision, LedgerError> {
        let mut violations = Violations::default();
        check_text(&mut violations, "reason", reason, 1000);
        violations.into_result()?;
        let name = &component.name;
        let counter = counter_key(name);
        let number = txn.read::<u32>(Table::Revisions, &counter)?.unwrap_or(1) + 1;
        let before = self.revision_at(name, Some(from))?;
        let revision = Revision {
            name: revision_name(name, number)?,
            effective_time: Some(from),
            spec: revised.spec.unwrap_or(&before.spec).clone(),
            surfaces: revised.surfaces.unwrap_or(&before.surfaces).clone(),
            reason: reason.into(),
            treatments: revised.treatments.unwrap_or(&before.treatments).clone(),
        };
        self.check_revision(&component.component_type, &revision)?;
        self.check_row_size("component", &revision)?;
        if self
            .revision_at(name, None)?
            .effective_time
            .is_none_or(|latest| latest <= from)
        {
            component.spec = revision.spec.clone();
            component.surfaces = revision.surfaces.clone();
            component.treatments.clone_from(&revision.treatments);
        }
        txn.put(Table::Revisions, counter, &number)?;
        let key = revision_key(name, Some(from), number);
        txn.put(Table::Revisions, key, &revision)?;
        Ok(revision)
    }

    /// The revision that holds at a time; without a time, the latest.
    pub(crate) fn revision_at(
        &self,
        component: &ComponentName,
        time: Option<Timestamp>,
    ) -> Result<Revision, LedgerError> {
        let prefix = revision_prefix(component);
        let up_to = time.map(|time| revision_key(component, Some(time), u32::MAX));
        let row = self
            .store
            .last(Table::Revisions, &prefix, up_to.as_deref())?;
        let (_, bytes) = row.ok_or_else(|| LedgerError::Internal {
            message: format!("{component} has no revision: restore the store from a backup"),
        })?;
        rows::decode(&bytes)
    }

    fn check_revision(&self, kind: &str, revision: &Revision) -> Result<(), LedgerError> {
        let plugin = self.require_active(kind)?;
        let failed = |error| LedgerError::of_model(kind, error);
        let card = self.models.card(plugin).map_err(failed)?;
        let (specimen, mut findings) = specimen_of(&card, &revision.spec, &revision.surfaces);
        findings.extend(self.models.check(plugin, &specimen).map_err(failed)?);
        refuse_errors(findings)
    }
}

fn revision_name(component: &ComponentName, number: u32) -> Result<RevisionName, LedgerError> {
    RevisionName::new(component.component(), &number.to_string()).map_err(|error| {
        LedgerError::Internal {
            message: error.to_string(),
        }
    })
}

//! Inspections as they are kept, and what was derived from them.

use super::beside::{Observed, offsets};
use crate::{
    Component, ComponentName, ErrorKind, Inspection, InspectionName, LedgerError, Page,
    PageRequest, keys,
    ledger::{Ledger, installation_at},
    rows,
};
use jiff::Timestamp;
use ringland_host::contract::Digest;
use ringland_store::Table;
use serde::{Deserialize, Serialize};

/// Changes when the same inspection and model would give another observation.
const RULES: &[u8] = b"observation rules 1";
/// Most inspections of one component.
pub(super) const MOST: usize = 1000;
/// Most components of one type whose inspections are read for a prediction: the first by name.
const MOST_LIKE: usize = 200;

/// Below it are the inspections of a component, by time.
pub(super) fn inspection_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&["i", component.component()])
}

pub(super) fn inspection_key(component: &ComponentName, time: Timestamp) -> Vec<u8> {
    keys::with(&["i", component.component()], &keys::time(time))
}

/// Below it are the components of a type that were ever inspected, by name.
pub(super) fn inspected_prefix(component_type: &str) -> Vec<u8> {
    keys::prefix(&["t", component_type])
}

/// Finds the components of a type that were ever inspected.
pub(super) fn inspected_key(component_type: &str, component: &ComponentName) -> Vec<u8> {
    keys::with(&["t", component_type], component.component().as_bytes())
}

/// Below it is what was derived of a component's inspections, by model.
pub(crate) fn observed_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&[component.component()])
}

fn observed_key(component: &ComponentName, plugin: Digest) -> Vec<u8> {
    keys::with(&[component.component()], &plugin.0)
}

/// What the inspections of a component say by one model.
#[derive(Serialize, Deserialize)]
struct Row {
    made_from: Digest,
    observed: Vec<Observed>,
}

impl Ledger {
    /// Reads an inspection.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_inspection(&self, name: &InspectionName) -> Result<Inspection, LedgerError> {
        let missing = || LedgerError::not_found("inspection", name);
        let time = keys::time_of_id(name.inspection()).ok_or_else(missing)?;
        let key = inspection_key(&name.parent(), time);
        let bytes = self.store.get(Table::Inspections, &key)?;
        rows::decode(&bytes.ok_or_else(missing)?)
    }

    /// Lists a component's inspections, oldest first.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_inspections(
        &self,
        component: &ComponentName,
        page: &PageRequest,
    ) -> Result<Page<Inspection>, LedgerError> {
        self.component_row(component)?;
        let prefix = inspection_prefix(component);
        let query = ["inspections", component.component()];
        self.page_of(page, &query, (Table::Inspections, &prefix), |_, row| {
            rows::decode(row).map(Some)
        })
    }

    /// Every inspection of a component, oldest first, as stored.
    pub(crate) fn inspection_rows(
        &self,
        component: &ComponentName,
    ) -> Result<Vec<Vec<u8>>, LedgerError> {
        let prefix = inspection_prefix(component);
        let rows = self.store.scan(Table::Inspections, &prefix, None, MOST)?;
        Ok(rows.into_iter().map(|(_, bytes)| bytes).collect())
    }

    /// Every inspection of a component, oldest first.
    pub(crate) fn inspections_of(
        &self,
        component: &ComponentName,
    ) -> Result<Vec<Inspection>, LedgerError> {
        let stored = self.inspection_rows(component)?;
        stored.iter().map(|bytes| rows::decode(bytes)).collect()
    }

    /// The components of a type that were ever inspected, by name.
    pub(super) fn inspected_like(
        &self,
        component_type: &str,
    ) -> Result<Vec<ComponentName>, LedgerError> {
        let prefix = inspected_prefix(component_type);
        let rows = self
            .store
            .scan(Table::Inspections, &prefix, None, MOST_LIKE)?;
        rows.iter().map(|(_, name)| rows::decode(name)).collect()
    }

    /// What all inspections of a component say by a model: kept, or derived again where anything that it was
    /// made from has changed.
    pub(super) fn observed(
        &self,
        component: &ComponentName,
        plugin: Digest,
    ) -> Result<Vec<Observed>, LedgerError> {
        let stored = self.inspection_rows(component)?;
        let inspections: Vec<Inspection> = stored
            .iter()
            .map(|bytes| rows::decode(bytes))
            .collect::<Result<_, _>>()?;
        let Some(last) = inspections.last() else {
            return Ok(Vec::new());
        };
        let at = last.inspection_time;
        let key = observed_key(component, plugin);
        if let Some(chain) = self.known_digest_before(component, plugin, at)? {
            let made_from = self.observed_from(component, plugin, &stored, (at, chain))?;
            let kept = self.store.get(Table::Observations, &key)?;
            if let Some(row) = kept.as_deref().map(rows::decode::<Row>).transpose()?
                && row.made_from == made_from
            {
                return Ok(row.observed);
            }
        }
        let row = self.component_row(component)?;
        let mut observed: Vec<Observed> = Vec::with_capacity(inspections.len());
        for inspection in &inspections {
            let next = self.observe(&row, plugin, inspection, &observed)?;
            observed.push(next);
        }
        // A chain that is not kept has no digest to know it by: it is derived again each time.
        if let Some(chain) = self.known_digest_before(component, plugin, at)? {
            let made_from = self.observed_from(component, plugin, &stored, (at, chain))?;
            let row = Row {
                made_from,
                observed: observed.clone(),
            };
            let batch =
                ringland_store::Batch::new().put(Table::Observations, key, rows::encode(&row)?);
            self.store.commit(&batch)?;
        }
        Ok(observed)
    }

    /// Digest of all that observations follow from. That of the chain before the last inspection covers
    /// everything before the earlier ones.
    fn observed_from(
        &self,
        component: &ComponentName,
        plugin: Digest,
        inspections: &[Vec<u8>],
        (at, chain): (Timestamp, Digest),
    ) -> Result<Digest, LedgerError> {
        let revision = self.revision_at(component, Some(at))?;
        let installation = installation_at(&*self.store, component, Some(at))?;
        let places = format!("{:?} {installation:?}", revision.name);
        let mut parts: Vec<&[u8]> = vec![
            RULES,
            &plugin.0,
            component.component().as_bytes(),
            &chain.0,
            places.as_bytes(),
        ];
        parts.extend(inspections.iter().map(Vec::as_slice));
        Ok(rows::digest_of(&parts))
    }

    /// What an inspection says by a model, after earlier ones of the component. What the model cannot do is
    /// said in the answer.
    pub(super) fn observe(
        &self,
        component: &Component,
        plugin: Digest,
        inspection: &Inspection,
        earlier: &[Observed],
    ) -> Result<Observed, LedgerError> {
        let (name, time) = (&component.name, inspection.inspection_time);
        let installation = installation_at(&*self.store, name, Some(time))?;
        let revision = self.revision_at(name, Some(time))?;
        let mut observed = Observed {
            inspection: inspection.name.clone(),
            time,
            hours: 0.0,
            unit: String::new(),
            position: String::new(),
            treatments: treatments_of(&revision.treatments),
            compared: Vec::new(),
            failure: String::new(),
        };
        if let Some(installation) = installation {
            observed.unit = installation.build.unit().into();
            observed.position = installation.position;
        }
        let renewed = self.renewed(name, Some(time))?;
        let offsets = offsets(earlier.iter().filter(|o| renewed < o.time && o.time < time));
        let compared = self.fold_to(name, plugin, time).and_then(|past| {
            let compared = self.beside(&past, inspection, &offsets)?;
            Ok((past, compared))
        });
        match compared {
            Ok((past, compared)) => {
                observed.hours = past.row.tally.hours;
                observed.compared = compared;
                if past.last_duty.is_none() {
                    observed.failure = "there is no duty before it to compare it with".into();
                }
            }
            Err(error) if error.kind() == ErrorKind::FailedPrecondition => {
                observed.failure = error.to_string();
            }
            Err(error) => return Err(error),
        }
        Ok(observed)
    }
}

/// What had been done to a component, as its evidence is kept apart by it: ids in order; empty: untreated.
pub(crate) fn treatments_of(treatments: &[String]) -> String {
    treatments.join(", ")
}

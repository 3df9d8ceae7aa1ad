//! Components.

use super::{
    Ledger,
    mask::{Mask, check_etag, check_id, check_labels, check_text},
    places::installation_at,
    revisions::Revised,
    specimen::{opening_of, specimen_of},
    txn::{Call, Txn},
};
use crate::evidence::retirement_of;
use crate::{
    CheckComponentResponse, Component, ComponentFilter, ComponentInput, ComponentName,
    FieldViolation, LedgerError, Page, PageRequest, Place, Reason, keys, rows,
    violations::Violations,
};
use jiff::Timestamp;
use ringland_host::contract::{Finding, ModelError, Severity};
use ringland_store::Table;
use std::collections::BTreeSet;

/// Treatments that one component can name.
pub(crate) const MAX_TREATMENTS: usize = 64;

const FIELDS: &[&str] = &[
    "display_name",
    "serial",
    "batch",
    "labels",
    "spec",
    "surfaces",
    "treatments",
];

impl Ledger {
    /// Creates a component. The active model of its type checks its spec, surfaces and opening
    /// condition; all findings come back at once.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with every finding, [`LedgerError::AlreadyExists`],
    /// [`LedgerError::FailedPrecondition`] when the type has no active model, and the store's.
    pub fn create_component(
        &self,
        component_id: &str,
        component: ComponentInput,
        request_id: &str,
    ) -> Result<Component, LedgerError> {
        check_id("component_id", component_id)?;
        check_texts(&component)?;
        let call = Call::new("create_component", request_id, &(component_id, &component))?;
        let name = ComponentName::new(component_id)
            .map_err(|_| LedgerError::not_found("component", component_id))?;
        let (component, _) = self.change(&call, |txn| {
            if txn
                .read_bytes(Table::Components, component_id.as_bytes())?
                .is_some()
            {
                return Err(LedgerError::exists("component", &name));
            }
            refuse_errors(self.check_component(&component)?.findings)?;
            let input = component.clone();
            let now = self.now();
            let new = Component {
                name: name.clone(),
                component_type: input.component_type,
                display_name: input.display_name,
                serial: input.serial,
                batch: input.batch,
                spec: input.spec,
                surfaces: input.surfaces,
                opening_condition: input.opening_condition,
                labels: input.labels,
                installed_build: None,
                create_time: now,
                update_time: now,
                etag: String::new(),
                treatments: input.treatments,
                retirement: None,
            };
            self.put_first_revision(txn, &new)?;
            self.put_component(txn, new)
        })?;
        Ok(component)
    }

    /// Checks a component without creating anything: names, numbers, the model's own checks, and
    /// the opening condition.
    ///
    /// # Errors
    /// [`LedgerError::FailedPrecondition`] when the type has no active model or it cannot answer.
    pub fn check_component(
        &self,
        component: &ComponentInput,
    ) -> Result<CheckComponentResponse, LedgerError> {
        let kind = &component.component_type;
        let plugin = self.require_active(kind)?;
        let failed = |error| LedgerError::of_model(kind, error);
        let card = self.models.card(plugin).map_err(failed)?;
        let (specimen, mut findings) = specimen_of(&card, &component.spec, &component.surfaces);
        let (opening, more) = opening_of(&card, &component.opening_condition);
        findings.extend(more);
        findings.extend(self.models.check(plugin, &specimen).map_err(failed)?);
        if !has_errors(&findings) && opening.iter().any(Option::is_some) {
            let begun = self
                .models
                .prepare(plugin, &specimen)
                .and_then(|prepared| self.models.begin(plugin, &specimen, &prepared, &opening));
            match begun {
                Ok(_) => {}
                Err(ModelError::Refused {
                    findings: refused, ..
                }) => findings.extend(refused),
                Err(error) => return Err(failed(error)),
            }
        }
        Ok(CheckComponentResponse { findings })
    }

    /// Reads a component.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_component(&self, name: &ComponentName) -> Result<Component, LedgerError> {
        let component = self.component_row(name)?;
        self.with_place(component)
    }

    /// Lists components in the order of their names.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`] for the place,
    /// and the store's.
    pub fn list_components(
        &self,
        filter: &ComponentFilter,
        page: &PageRequest,
    ) -> Result<Page<Component>, LedgerError> {
        let place = match &filter.installed_in {
            None => String::new(),
            Some(Place::Unit(unit)) => {
                self.get_unit(unit)?;
                unit.to_string()
            }
            Some(Place::Build(build)) => {
                self.get_build(build)?;
                build.to_string()
            }
            Some(Place::Anywhere) => "anywhere".into(),
        };
        let query = ["components", &filter.component_type, &place];
        self.page_of(page, &query, (Table::Components, b""), |_, bytes| {
            let row = component_of(bytes)?;
            if !filter.component_type.is_empty() && row.component_type != filter.component_type {
                return Ok(None);
            }
            let component = self.with_place(row)?;
            let there = match (&filter.installed_in, &component.installed_build) {
                (None, _) | (Some(Place::Anywhere), Some(_)) => true,
                (Some(Place::Unit(unit)), Some(build)) => build.parent() == *unit,
                (Some(Place::Build(wanted)), Some(build)) => build == wanted,
                (Some(_), None) => false,
            };
            Ok(there.then_some(component))
        })
    }

    /// Changes the fields named in the mask. A change of spec, surfaces or treatments is a new revision: it
    /// holds for duty that starts at `effective_time` or later and leaves earlier duty as it was.
    /// Of two revisions with the same effective time the one recorded last holds.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::Aborted`] for an
    /// etag that is not current, and the store's.
    pub fn update_component(
        &self,
        name: &ComponentName,
        component: ComponentInput,
        mask: &[String],
        etag: &str,
        effective_time: Option<Timestamp>,
        reason: &str,
    ) -> Result<Component, LedgerError> {
        let mask = Mask::new(mask, FIELDS)?;
        check_texts(&component)?;
        let revises = mask.has("spec") || mask.has("surfaces") || mask.has("treatments");
        let effective_time = if revises {
            Some(keys::required_time("effective_time", effective_time)?)
        } else {
            None
        };
        let call = Call::new("update_component", "", &())?;
        let mut affected = BTreeSet::new();
        let (updated, _) = self.change(&call, |txn| {
            let bytes = txn.read_bytes(Table::Components, name.component().as_bytes())?;
            let bytes = bytes.ok_or_else(|| LedgerError::not_found("component", name))?;
            let mut new = component_of(&bytes)?;
            check_etag(etag, &new.etag)?;
            if mask.has("display_name") {
                new.display_name.clone_from(&component.display_name);
            }
            if mask.has("serial") {
                new.serial.clone_from(&component.serial);
            }
            affected.clear();
            if mask.has("batch") && new.batch != component.batch {
                // What was found at it reaches another batch now.
                affected = self.components_of_type(&new.component_type)?;
                new.batch.clone_from(&component.batch);
            }
            if mask.has("labels") {
                new.labels.clone_from(&component.labels);
            }
            if let Some(from) = effective_time {
                let revised = Revised {
                    spec: mask.has("spec").then_some(&component.spec),
                    surfaces: mask.has("surfaces").then_some(&component.surfaces),
                    treatments: mask.has("treatments").then_some(&component.treatments),
                };
                self.put_revision(txn, &mut new, revised, from, reason)?;
                affected.extend(self.touch(txn, [name.clone()], from)?);
            }
            new.update_time = self.now();
            self.put_component(txn, new)
        })?;
        self.tell(affected);
        Ok(updated)
    }

    /// The stored row, without the place.
    pub(crate) fn component_row(&self, name: &ComponentName) -> Result<Component, LedgerError> {
        let bytes = self
            .store
            .get(Table::Components, name.component().as_bytes())?;
        component_of(&bytes.ok_or_else(|| LedgerError::not_found("component", name))?)
    }

    /// Names of every component of a type.
    pub(crate) fn components_of_type(
        &self,
        component_type: &str,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut names = BTreeSet::new();
        self.each_row(Table::Components, b"", |_, bytes| {
            let row: Component = rows::decode(bytes)?;
            if row.component_type == component_type {
                names.insert(row.name);
            }
            Ok(())
        })?;
        Ok(names)
    }

    pub(crate) fn put_component(
        &self,
        txn: &mut Txn<'_>,
        mut component: Component,
    ) -> Result<Component, LedgerError> {
        component.etag = String::new();
        component.installed_build = None;
        component.retirement = None;
        self.check_row_size("component", &component)?;
        let bytes = rows::encode(&component)?;
        component.etag = rows::etag(&bytes);
        let key = component.name.component().as_bytes().to_vec();
        txn.put_bytes(Table::Components, key, bytes);
        self.with_place(component)
    }

    fn with_place(&self, mut component: Component) -> Result<Component, LedgerError> {
        let last = installation_at(&*self.store, &component.name, None)?;
        component.installed_build = last.filter(|i| i.remove_time.is_none()).map(|i| i.build);
        component.retirement = retirement_of(&*self.store, &component.name)?;
        Ok(component)
    }
}

/// Requires that a component exists, now and at commit.
pub(crate) fn expect_component(
    txn: &mut Txn<'_>,
    name: &ComponentName,
) -> Result<Component, LedgerError> {
    let bytes = txn.read_bytes(Table::Components, name.component().as_bytes())?;
    component_of(&bytes.ok_or_else(|| LedgerError::not_found("component", name))?)
}

pub(crate) fn component_of(bytes: &[u8]) -> Result<Component, LedgerError> {
    let component: Component = rows::decode(bytes)?;
    Ok(Component {
        etag: rows::etag(bytes),
        ..component
    })
}

fn check_texts(component: &ComponentInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    for (field, text) in [
        ("component.display_name", &component.display_name),
        ("component.serial", &component.serial),
        ("component.batch", &component.batch),
    ] {
        check_text(&mut violations, field, text, 255);
    }
    check_labels(&mut violations, &component.labels);
    check_treatments(&mut violations, &component.treatments);
    violations.into_result()
}

/// Ids as names have them, and no more than a part can have been through.
fn check_treatments(violations: &mut Violations, treatments: &[String]) {
    const FIELD: &str = "component.treatments";
    let count = treatments.len();
    if count > MAX_TREATMENTS {
        let expected = format!("at most {MAX_TREATMENTS}");
        violations.add(FIELD, count, &expected, "leave some out");
    }
    for (index, id) in treatments.iter().take(MAX_TREATMENTS).enumerate() {
        if !crate::is_id(id) {
            let field = format!("{FIELD}[{index}]");
            let remedy = "give the id of a treatment as the catalogue has it";
            violations.add(field, format!("{id:?}"), crate::ID_FORM, remedy);
        }
    }
}

fn has_errors(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.severity == Severity::Error)
}

/// Refuses an input that has findings which are errors.
pub(crate) fn refuse_errors(findings: Vec<Finding>) -> Result<(), LedgerError> {
    if !has_errors(&findings) {
        return Ok(());
    }
    let errors = findings
        .into_iter()
        .filter(|finding| finding.severity == Severity::Error);
    Err(LedgerError::InvalidArgument {
        reason: Reason::SpecRefused,
        violations: errors.map(FieldViolation::from).collect(),
    })
}

/// As [`refuse_errors`], for what the ledger holds already and another model may not accept.
pub(crate) fn refused_by_model(
    subject: impl std::fmt::Display,
    findings: Vec<Finding>,
) -> Result<(), LedgerError> {
    refuse_errors(findings).map_err(|error| LedgerError::FailedPrecondition {
        reason: Reason::ModelRefused,
        subject: subject.to_string(),
        message: format!("{subject}: {error}"),
        violations: error.violations().to_vec(),
    })
}

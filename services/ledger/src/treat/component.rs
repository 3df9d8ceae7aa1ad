//! Treatments of components: what they would do, and what was done.

use super::{
    apply::{Bench, filled},
    rules::{self, Step},
};
use crate::{
    AppliedTreatments, CatalogueEntry, Component, ComponentInput, ComponentName, FieldViolation,
    Grade, Ledger, LedgerError, Origin, Reason, Revision, SurfaceChange, Treated, Treatment,
    TreatmentCheck, TreatmentUse, keys,
    ledger::{MAX_TREATMENTS, Revised, expect_component, installation_at, txn::Call},
    violations::Violations,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Finding, Severity};
use std::collections::{BTreeMap, BTreeSet};

/// Surfaces that one treatment can name; no card has as many.
const MOST_SURFACES: usize = 64;

/// The component that a check is of.
#[derive(Clone, Debug, PartialEq)]
pub enum Subject {
    /// One in the ledger, as it is at a time; without a time, by its latest revision.
    Named(ComponentName, Option<Timestamp>),
    /// One that is described.
    Described(Box<ComponentInput>),
}

/// What came of treatments.
struct Outcome {
    component: ComponentInput,
    findings: Vec<Finding>,
    /// In the order in which they were asked for.
    entries: Vec<CatalogueEntry>,
}

impl Ledger {
    /// A component as treatments leave it, done in the order given: surfaces, the list of treatments, what
    /// to know. Nothing is stored. No treatments leave it as it is.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that forbids it: unknown or forbidden surfaces,
    /// a wrong order of work, the part's final size, what the model itself refuses.
    /// [`LedgerError::FailedPrecondition`] when the type has no active model, and the store's.
    pub fn treated(
        &self,
        component: &ComponentInput,
        applied: &[TreatmentUse],
    ) -> Result<Treated, LedgerError> {
        let outcome = self.treat(component, applied)?;
        let (price, lead_days) = sums(&outcome.entries);
        Ok(Treated {
            price,
            lead_days,
            grades: grades(&outcome.entries),
            findings: refuse(outcome.findings)?,
            component: outcome.component,
        })
    }

    /// What treatments would do, with everything that speaks against them among the findings.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for treatments that are not in the catalogue,
    /// [`LedgerError::NotFound`] for the component, [`LedgerError::FailedPrecondition`] when the type has
    /// no active model, and the store's.
    pub fn check_treatments(
        &self,
        subject: &Subject,
        applied: &[TreatmentUse],
    ) -> Result<TreatmentCheck, LedgerError> {
        some(applied)?;
        let (before, used) = match subject {
            Subject::Described(component) => (ComponentInput::clone(component), None),
            Subject::Named(name, time) => {
                let row = self.component_row(name)?;
                let revision = self.revision_at(name, *time)?;
                (input_of(&row, &revision), self.used(name)?)
            }
        };
        let mut outcome = self.treat(&before, applied)?;
        outcome.findings.extend(used);
        let card = self.card_of(&before.component_type)?;
        let (price, lead_days) = sums(&outcome.entries);
        Ok(TreatmentCheck {
            changes: changes(&card, &before, &outcome.component),
            treatments: outcome.component.treatments,
            findings: outcome.findings,
            price,
            lead_days,
            grades: grades(&outcome.entries),
        })
    }

    /// Records treatments that were done: a revision of the component from `effective_time` on, whose
    /// reason names process and catalogue.
    ///
    /// # Errors
    /// As [`Self::treated`], [`LedgerError::NotFound`], and the store's.
    pub fn apply_treatments(
        &self,
        name: &ComponentName,
        applied: &[TreatmentUse],
        effective_time: Timestamp,
        note: &str,
        request_id: &str,
    ) -> Result<AppliedTreatments, LedgerError> {
        some(applied)?;
        keys::check_time("effective_time", effective_time)?;
        let content = (name, applied, effective_time, note);
        let call = Call::new("apply_treatments", request_id, &content)?;
        let mut affected = BTreeSet::new();
        let (answer, replayed) = self.change(&call, |txn| {
            let mut row = expect_component(txn, name)?;
            let before = self.revision_at(name, Some(effective_time))?;
            let outcome = self.treat(&input_of(&row, &before), applied)?;
            let reason = reason(&outcome.entries, note)?;
            let mut findings = refuse(outcome.findings)?;
            findings.extend(self.used(name)?);
            findings.extend(self.later(name, effective_time)?);
            let revised = Revised {
                spec: None,
                surfaces: Some(&outcome.component.surfaces),
                treatments: Some(&outcome.component.treatments),
            };
            let revision = self.put_revision(txn, &mut row, revised, effective_time, &reason)?;
            affected = self.touch(txn, [name.clone()], effective_time)?;
            row.update_time = self.now();
            self.put_component(txn, row)?;
            Ok(AppliedTreatments { revision, findings })
        })?;
        if !replayed {
            self.tell(affected);
        }
        Ok(answer)
    }

    fn treat(
        &self,
        component: &ComponentInput,
        applied: &[TreatmentUse],
    ) -> Result<Outcome, LedgerError> {
        let catalogue = self.catalogue()?;
        let entries = entries(&catalogue, component, applied)?;
        let card = self.card_of(&component.component_type)?;
        let mut findings = unknown(&catalogue, component);
        let known = component
            .treatments
            .iter()
            .filter_map(|id| catalogue.get(id));
        let mut done: Vec<&Treatment> = known.map(|entry| &entry.treatment).collect();
        let mut bench = Bench {
            card: &card,
            surfaces: component.surfaces.clone(),
        };
        let mut after = component.clone();
        for (index, (asked, entry)) in applied.iter().zip(&entries).enumerate() {
            let step = Step {
                index,
                kind: &component.component_type,
                treatment: &entry.treatment,
                asked: &asked.surfaces,
            };
            let refused = rules::refusals(&step, &card, &done);
            if refused
                .iter()
                .all(|finding| finding.severity != Severity::Error)
            {
                findings.extend(bench.apply(&step, &done));
                findings.extend(rules::advice(&step, entry));
                after.treatments.push(entry.treatment.id.clone());
            }
            findings.extend(refused);
            // What follows is judged as if it had been done: each refusal comes at once.
            done.push(&entry.treatment);
        }
        after.surfaces = bench.surfaces;
        findings.extend(self.check_component(&after)?.findings);
        if !applied.is_empty() {
            findings.push(rules::rules_first());
        }
        Ok(Outcome {
            component: after,
            findings,
            entries,
        })
    }

    fn card_of(&self, component_type: &str) -> Result<std::sync::Arc<Card>, LedgerError> {
        let plugin = self.require_active(component_type)?;
        let card = self.models.card(plugin);
        card.map_err(|error| LedgerError::of_model(component_type, error))
    }

    /// What to know of a part that has run.
    fn used(&self, name: &ComponentName) -> Result<Option<Finding>, LedgerError> {
        let installed = installation_at(&*self.store, name, None)?;
        Ok(installed.map(|installation| {
            rules::finding(
                Severity::Warning,
                "component".into(),
                &format!("installed since {}", installation.install_time),
                "a part that has not run, or a crack check before the treatment",
                "check for cracks first: damage done so far stays, and an existing crack is only peened or coated over",
            )
        }))
    }

    /// What to know when a revision comes after.
    fn later(
        &self,
        name: &ComponentName,
        effective_time: Timestamp,
    ) -> Result<Option<Finding>, LedgerError> {
        let latest = self.revision_at(name, None)?;
        let later = latest.effective_time.filter(|time| *time > effective_time);
        Ok(later.map(|time| {
            rules::finding(
                Severity::Warning,
                "effective_time".into(),
                &effective_time.to_string(),
                &format!("no revision after it; one holds from {time} on"),
                "enter the treatment there as well: a later revision keeps what it says itself",
            )
        }))
    }
}

fn input_of(row: &Component, revision: &Revision) -> ComponentInput {
    ComponentInput {
        component_type: row.component_type.clone(),
        display_name: row.display_name.clone(),
        serial: row.serial.clone(),
        batch: row.batch.clone(),
        spec: revision.spec.clone(),
        surfaces: revision.surfaces.clone(),
        opening_condition: row.opening_condition.clone(),
        labels: row.labels.clone(),
        treatments: revision.treatments.clone(),
    }
}

fn some(applied: &[TreatmentUse]) -> Result<(), LedgerError> {
    if !applied.is_empty() {
        return Ok(());
    }
    Err(LedgerError::invalid(FieldViolation::new(
        "treatments",
        "none",
        "at least one treatment",
        "name what was done, in its order",
    )))
}

/// The entries that were asked for.
fn entries(
    catalogue: &BTreeMap<String, CatalogueEntry>,
    component: &ComponentInput,
    applied: &[TreatmentUse],
) -> Result<Vec<CatalogueEntry>, LedgerError> {
    let mut violations = Violations::default();
    let count = component.treatments.len() + applied.len();
    if count > MAX_TREATMENTS {
        let expected = format!("at most {MAX_TREATMENTS} on one component");
        violations.add("treatments", count, &expected, "leave some out");
    }
    for (index, asked) in applied.iter().take(MAX_TREATMENTS).enumerate() {
        let count = asked.surfaces.len();
        if count > MOST_SURFACES {
            let field = format!("treatments[{index}].surfaces");
            let expected = format!("at most {MOST_SURFACES}");
            violations.add(field, count, &expected, "leave some out");
        }
    }
    let mut found = Vec::new();
    for (index, asked) in applied.iter().take(MAX_TREATMENTS).enumerate() {
        if let Some(entry) = catalogue.get(&asked.treatment) {
            found.push(entry.clone());
        } else {
            let known: Vec<&str> = catalogue.keys().map(String::as_str).collect();
            let expected = format!("one of {}", known.join(", "));
            let value = format!("{:?}", asked.treatment);
            let remedy = "correct the id, or put the shop's own into the catalogue first";
            violations.add(format!("treatments[{index}]"), value, &expected, remedy);
        }
    }
    violations.into_result()?;
    Ok(found)
}

/// What the part has been through that nobody knows.
fn unknown(
    catalogue: &BTreeMap<String, CatalogueEntry>,
    component: &ComponentInput,
) -> Vec<Finding> {
    let strangers = component
        .treatments
        .iter()
        .filter(|id| !catalogue.contains_key(*id));
    let finding = |id: &String| {
        rules::finding(
            Severity::Warning,
            "component.treatments".into(),
            id,
            "an id of the catalogue",
            "the order of work is not checked against it: put it into the catalogue",
        )
    };
    strangers.map(finding).collect()
}

/// Warnings, if there are no errors.
fn refuse(findings: Vec<Finding>) -> Result<Vec<Finding>, LedgerError> {
    let is_error = |finding: &Finding| finding.severity == Severity::Error;
    if !findings.iter().any(is_error) {
        return Ok(findings);
    }
    let errors = findings.into_iter().filter(is_error);
    Err(LedgerError::InvalidArgument {
        reason: Reason::TreatmentRefused,
        violations: errors.map(FieldViolation::from).collect(),
    })
}

fn sums(entries: &[CatalogueEntry]) -> (Option<f64>, Option<f64>) {
    let each = |of: fn(&Treatment) -> Option<f64>| {
        let known = entries.iter().map(|entry| of(&entry.treatment));
        known.sum::<Option<f64>>().filter(|_| !entries.is_empty())
    };
    (each(|t| t.price), each(|t| t.lead_days))
}

fn grades(entries: &[CatalogueEntry]) -> BTreeMap<String, Grade> {
    let grade = |entry: &CatalogueEntry| (entry.treatment.id.clone(), entry.treatment.grade);
    entries.iter().map(grade).collect()
}

/// Process and catalogue, as the shop's sheet would name them.
fn reason(entries: &[CatalogueEntry], note: &str) -> Result<String, LedgerError> {
    let name = |entry: &CatalogueEntry| match &entry.origin {
        Origin::BuiltIn { catalogue_version } => {
            format!("{} (catalogue {catalogue_version})", entry.treatment.id)
        }
        Origin::Shop { revision } => {
            format!("{} (shop's own, revision {revision})", entry.treatment.id)
        }
    };
    let names: Vec<String> = entries.iter().map(name).collect();
    let mut text = names.join(", ");
    if !note.is_empty() {
        text = format!("{text}: {note}");
    }
    if text.len() <= 1000 {
        return Ok(text);
    }
    let expected = format!(
        "at most {} bytes",
        1000_usize.saturating_sub(names.join(", ").len() + 2)
    );
    Err(LedgerError::invalid(FieldViolation::new(
        "note",
        note,
        &expected,
        "shorten it",
    )))
}

fn changes(card: &Card, before: &ComponentInput, after: &ComponentInput) -> Vec<SurfaceChange> {
    let change = |field: &ringland_host::contract::SurfaceField| {
        let (was, is) = (
            before.surfaces.get(&field.name),
            after.surfaces.get(&field.name),
        );
        (was != is).then(|| SurfaceChange {
            surface: field.name.clone(),
            before: filled(field, was),
            after: filled(field, is),
        })
    };
    card.surfaces.iter().filter_map(change).collect()
}

//! Lives of like parts out of the ledger.

use super::{MOST, given::check_lives, retirement_of};
use crate::{
    AgeMeasure, Component, EndCause, Ledger, LedgerError, LifeQuery, LifeSource, ObservedLife,
    ledger::{component_of, installation_at},
    violations::Violations,
};
use ringland_host::contract::{Finding, Severity};
use ringland_store::Table;

/// Lives, in what they are counted, and what to know of them.
pub(super) struct Lives {
    pub(super) seen: Vec<ObservedLife>,
    pub(super) age_unit: String,
    pub(super) findings: Vec<Finding>,
}

pub(super) fn note(field: &str, value: &str, expected: &str, remedy: &str) -> Finding {
    Finding {
        severity: Severity::Warning,
        field: field.into(),
        value: value.into(),
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

/// The group of a part without another: which treatments it had.
fn group_of(component: &Component) -> String {
    if component.treatments.is_empty() {
        "untreated".into()
    } else {
        component.treatments.join("+")
    }
}

impl Ledger {
    /// The lives that a call speaks of.
    pub(super) fn lives_of(&self, source: &LifeSource) -> Result<Lives, LedgerError> {
        match source {
            LifeSource::Given { lives, age_unit } => {
                check_lives(lives)?;
                Ok(Lives {
                    seen: lives.clone(),
                    age_unit: age_unit.clone(),
                    findings: Vec::new(),
                })
            }
            LifeSource::Ledger(query) => self.observed_in_ledger(query),
        }
    }

    fn observed_in_ledger(&self, query: &LifeQuery) -> Result<Lives, LedgerError> {
        self.check_query(query)?;
        let (divisor_h, age_unit) = match &query.measure {
            AgeMeasure::Hours => (1.0, "h"),
            AgeMeasure::CrankRevolutions => (1.0, "revolutions"),
            AgeMeasure::Events(profile) => {
                (self.get_profile(profile)?.duration_s / 3600.0, "events")
            }
        };
        let mut found = Lives {
            seen: Vec::new(),
            age_unit: age_unit.into(),
            findings: Vec::new(),
        };
        if !query.mechanism.is_empty() {
            let remedy = "ends by others count as suspensions, which holds if the mechanisms know nothing of each other (competing risks)";
            found.findings.push(note(
                "mechanism",
                &query.mechanism,
                "ends of any kind",
                remedy,
            ));
        }
        let mut after = None;
        loop {
            let rows = self
                .store
                .scan(Table::Components, b"", after.as_deref(), 500)?;
            let Some((last, _)) = rows.last() else {
                break;
            };
            after = Some(last.clone());
            for (_, bytes) in &rows {
                let component = component_of(bytes)?;
                self.add_life(&mut found, query, &component, divisor_h)?;
            }
            if found.seen.len() > MOST {
                return Err(LedgerError::ResourceExhausted {
                    what: "lives of like parts".into(),
                    value: found.seen.len() as u64,
                    limit: MOST as u64,
                    remedy: "narrow them by batch, labels or unit".into(),
                });
            }
        }
        Ok(found)
    }

    fn check_query(&self, query: &LifeQuery) -> Result<(), LedgerError> {
        let card = self.card(self.require_active(&query.component_type)?)?;
        let mut violations = Violations::default();
        let known = card.mechanisms.iter().any(|m| m.name == query.mechanism);
        if !query.mechanism.is_empty() && !known {
            let names: Vec<&str> = card.mechanisms.iter().map(|m| m.name.as_str()).collect();
            let expected = format!("one of {}", names.join(", "));
            let remedy = "leave it empty for ends of any kind";
            violations.add("mechanism", &query.mechanism, &expected, remedy);
        }
        if let Some(unit) = &query.unit {
            self.get_unit(unit)?;
        }
        violations.into_result()
    }

    fn add_life(
        &self,
        found: &mut Lives,
        query: &LifeQuery,
        component: &Component,
        divisor_h: f64,
    ) -> Result<(), LedgerError> {
        let has = |(name, value): (&String, &String)| component.labels.get(name) == Some(value);
        let alike = component.component_type == query.component_type
            && (query.batch.is_empty() || component.batch == query.batch)
            && query.labels.iter().all(has);
        if !alike {
            return Ok(());
        }
        let name = component.name.to_string();
        let unit = installation_at(&*self.store, &component.name, None)?.map(|i| i.build.parent());
        if query.unit.is_some() && unit != query.unit {
            return Ok(());
        }
        if !component.opening_condition.is_empty() {
            let remedy = "left out: its age before it was entered is not known";
            found
                .findings
                .push(note(&name, "entered used", "a part entered new", remedy));
            return Ok(());
        }
        let tally = match self.fold_active(&component.name) {
            Ok(folded) => folded.row.tally,
            Err(error) => {
                let remedy = "left out until its model can fold its duty";
                found
                    .findings
                    .push(note(&name, &error.to_string(), "a life", remedy));
                return Ok(());
            }
        };
        let age = match query.measure {
            AgeMeasure::CrankRevolutions => tally.crank_revolutions,
            AgeMeasure::Hours | AgeMeasure::Events(_) => tally.hours / divisor_h,
        };
        if age <= 0.0 {
            let remedy = "left out: it has not run";
            found.findings.push(note(&name, "no duty", "duty", remedy));
            return Ok(());
        }
        let retirement = retirement_of(&*self.store, &component.name)?;
        let by_this = |cause: EndCause, mechanism: &str| {
            cause.is_end() && (query.mechanism.is_empty() || mechanism == query.mechanism)
        };
        found.seen.push(ObservedLife {
            part: name,
            age,
            ended: retirement.is_some_and(|end| by_this(end.cause, &end.mechanism)),
            group: group_of(component),
            unit: unit.map(|unit| unit.to_string()).unwrap_or_default(),
        });
        Ok(())
    }
}

//! Saying why a reading is as it is, and what all readings have made of the model.

use super::{beside::Observed, findings::warning, stored::inspection_key};
use crate::{
    ComponentName, Correction, ExplainInspection, ExplainInspectionResponse, Explanation,
    ExplanationChange, FieldViolation, Inspection, LedgerError, MechanismCorrection, keys,
    ledger::{Ledger, check_text, expect_component, txn::Call},
    violations::Violations,
};
use ringland_store::Table;
use std::collections::BTreeSet;

/// Most changes of one line's explanation.
const MOST_CHANGES: usize = 100;

impl Ledger {
    /// Says why a reading is as it is. What it was before is kept. Predictions of the component and its like change.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] when a field is wrong or nothing has that reading and position,
    /// [`LedgerError::NotFound`], and the store's.
    pub fn explain_inspection(
        &self,
        explain: &ExplainInspection,
        request_id: &str,
    ) -> Result<ExplainInspectionResponse, LedgerError> {
        let mut violations = Violations::default();
        for (field, text) in [("by", &explain.by), ("reason", &explain.reason)] {
            check_text(&mut violations, field, text, 1000);
            if text.is_empty() {
                violations.add(
                    field,
                    "empty",
                    "a text",
                    "say who explains it, and on what ground",
                );
            }
        }
        violations.into_result()?;
        let call = Call::new("explain_inspection", request_id, explain)?;
        let component = explain.name.parent();
        let mut affected = BTreeSet::new();
        let (inspection, replayed) = self.change(&call, |txn| {
            let row = expect_component(txn, &component)?;
            let missing = || LedgerError::not_found("inspection", &explain.name);
            let time = keys::time_of_id(explain.name.inspection()).ok_or_else(missing)?;
            let key = inspection_key(&component, time);
            let stored: Option<Inspection> = txn.read(Table::Inspections, &key)?;
            let mut inspection = stored.ok_or_else(missing)?;
            self.explain_lines(&mut inspection, explain)?;
            self.check_row_size("inspection", &inspection)?;
            txn.put(Table::Inspections, key, &inspection)?;
            affected = self.affected_like(&row)?;
            Ok(inspection)
        })?;
        if !replayed {
            self.tell(affected);
        }
        let correction = self.correction(&component)?;
        let of_this = |c: &crate::ReadingComparison| c.inspection == inspection.name;
        Ok(ExplainInspectionResponse {
            comparisons: correction.comparisons.into_iter().filter(of_this).collect(),
            inspection,
        })
    }

    fn explain_lines(
        &self,
        inspection: &mut Inspection,
        explain: &ExplainInspection,
    ) -> Result<(), LedgerError> {
        let now = self.now();
        let mut found = false;
        for line in &mut inspection.readings {
            let meant = explain.position.is_empty() || explain.position == line.position;
            if line.reading != explain.reading || !meant {
                continue;
            }
            found = true;
            if line.explanation == explain.explanation {
                continue;
            }
            if line.explanation_history.len() >= MOST_CHANGES {
                return Err(LedgerError::ResourceExhausted {
                    what: "explanations of one reading".into(),
                    value: line.explanation_history.len() as u64,
                    limit: MOST_CHANGES as u64,
                    remedy: "leave it as it is".into(),
                });
            }
            line.explanation_history.push(ExplanationChange {
                was: line.explanation,
                became: explain.explanation,
                by: explain.by.clone(),
                reason: explain.reason.clone(),
                change_time: now,
            });
            line.explanation = explain.explanation;
        }
        if found {
            return Ok(());
        }
        let lines = inspection.readings.iter();
        let lines: Vec<String> = lines
            .map(|line| format!("{} {:?}", line.reading, line.position))
            .collect();
        Err(LedgerError::invalid(FieldViolation::new(
            "reading",
            &format!("{:?} at {:?}", explain.reading, explain.position),
            &format!("one of {}", lines.join(", ")),
            "name a line of the inspection",
        )))
    }

    /// How inspections have moved the active model for a component.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when the type has no active
    /// model, and the store's.
    pub fn correction(&self, component: &ComponentName) -> Result<Correction, LedgerError> {
        let row = self.component_row(component)?;
        let plugin = self.require_active(&row.component_type)?;
        let card = self.card(plugin)?;
        let evidence = self.evidence(&row, plugin)?;
        let beliefs = crate::predict::beliefs(&card, &evidence)?;
        let own = |name: &ComponentName, _: &Observed| name == component;
        let failed = evidence
            .observed
            .iter()
            .filter(|(name, observed)| name == component && !observed.failure.is_empty());
        let findings = failed.map(|(_, observed)| {
            let expected = "an inspection that the model can be compared with";
            warning(
                &observed.inspection,
                &observed.failure,
                expected,
                "its readings move nothing",
            )
        });
        Ok(Correction {
            component: row.name,
            component_type: row.component_type,
            model_digest: plugin,
            mechanisms: card
                .mechanisms
                .iter()
                .zip(beliefs)
                .map(|(mechanism, (_, rate))| MechanismCorrection {
                    mechanism: mechanism.name.clone(),
                    label: mechanism.label.clone(),
                    rate,
                })
                .collect(),
            findings: findings.collect(),
            comparisons: evidence.comparisons(&card, own)?,
        })
    }
}

impl Explanation {
    /// Whether a person may give it.
    pub fn may_be_given(self) -> bool {
        self != Self::Unexplained
    }
}

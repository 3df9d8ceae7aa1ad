//! Recording inspections.

use super::{
    answers::SURPRISE,
    beside::Observed,
    doubts::beside_prediction,
    evidence::Evidence,
    findings::{error, warning},
    guards::{corrected, written},
    stored::{MOST, inspected_key, inspection_key},
};
use crate::{
    CheckInspectionResponse, Component, ComponentName, Explanation, FieldViolation, Inspection,
    InspectionInput, InspectionName, LedgerError, ReadingComparison, Reason,
    RecordInspectionResponse, keys,
    ledger::{Ledger, expect_component, installation_at, installation_prefix, txn::Call},
    rows,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::{Card, Digest, Finding, Severity};
use ringland_store::Table;
use std::{collections::BTreeSet, sync::Arc};

/// How far a clock may be behind the shop's.
const CLOCK_SLACK: SignedDuration = SignedDuration::from_hours(24);
/// How long after its last duty a part is still looked at with that duty's clock.
const AFTER_DUTY: SignedDuration = SignedDuration::from_hours(24 * 30);

/// An inspection and all that is to be said of it.
struct Checked {
    inspection: Option<Inspection>,
    findings: Vec<Finding>,
    comparisons: Vec<ReadingComparison>,
}

impl Ledger {
    /// Records an inspection of a component. A reading that is too far from everything known is kept as
    /// unexplained and not learnt before somebody says why.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with every finding that is an error, [`LedgerError::NotFound`],
    /// [`LedgerError::AlreadyExists`] for a second inspection at the same time, [`LedgerError::FailedPrecondition`]
    /// when the type has no active model, and the store's.
    pub fn record_inspection(
        &self,
        component: &ComponentName,
        input: InspectionInput,
        request_id: &str,
    ) -> Result<RecordInspectionResponse, LedgerError> {
        let call = Call::new("record_inspection", request_id, &(component, &input))?;
        let mut affected = BTreeSet::new();
        let (response, replayed) = self.change(&call, |txn| {
            let row = expect_component(txn, component)?;
            let time = keys::required_time("inspection.inspection_time", input.inspection_time)?;
            let key = inspection_key(component, time);
            if txn.read_bytes(Table::Inspections, &key)?.is_some() {
                return Err(LedgerError::exists("inspection", name_at(component, time)?));
            }
            let count = self.inspection_rows(component)?.len();
            if count >= MOST {
                return Err(LedgerError::ResourceExhausted {
                    what: format!("inspections of {component}"),
                    value: count as u64,
                    limit: MOST as u64,
                    remedy: "enter further ones together".into(),
                });
            }
            let checked = self.checked(&row, &input)?;
            refuse_errors(&checked.findings)?;
            let Some(inspection) = checked.inspection else {
                return Err(LedgerError::Internal {
                    message: "an inspection without findings is not there".into(),
                });
            };
            self.check_row_size("inspection", &inspection)?;
            txn.put(Table::Inspections, key, &inspection)?;
            let index = inspected_key(&row.component_type, component);
            txn.put(Table::Inspections, index, component)?;
            affected = self.affected_like(&row)?;
            Ok(RecordInspectionResponse {
                inspection,
                findings: checked.findings,
                comparisons: checked.comparisons,
            })
        })?;
        if !replayed {
            self.tell(affected);
        }
        Ok(response)
    }

    /// Says what recording would say.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when the type has no active
    /// model, and the store's.
    pub fn check_inspection(
        &self,
        component: &ComponentName,
        input: InspectionInput,
    ) -> Result<CheckInspectionResponse, LedgerError> {
        let row = self.component_row(component)?;
        let checked = self.checked(&row, &input)?;
        Ok(CheckInspectionResponse {
            findings: checked.findings,
            comparisons: checked.comparisons,
        })
    }

    /// Every component of the type: what is learnt from one moves the others.
    pub(super) fn affected_like(
        &self,
        component: &Component,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut affected = self.components_of_type(&component.component_type)?;
        affected.insert(component.name.clone());
        Ok(affected)
    }

    fn checked(
        &self,
        component: &Component,
        input: &InspectionInput,
    ) -> Result<Checked, LedgerError> {
        let plugin = self.require_active(&component.component_type)?;
        let card = self.card(plugin)?;
        let mut findings = written(&card, input);
        let time = self.check_inspection_time(component, input.inspection_time, &mut findings)?;
        let refused = findings.iter().any(|f| f.severity == Severity::Error);
        let Some(time) = time.filter(|_| !refused) else {
            return Ok(Checked {
                inspection: None,
                findings,
                comparisons: Vec::new(),
            });
        };
        let mut inspection = Inspection {
            name: name_at(&component.name, time)?,
            component: component.name.clone(),
            inspection_time: time,
            inspected_by: input.inspected_by.clone(),
            notes: input.notes.clone(),
            readings: input.readings.clone(),
            crack_checks: input.crack_checks.clone(),
            create_time: self.now(),
        };
        for line in &mut inspection.readings {
            line.corrected_value = corrected(line);
            line.explanation_history.clear();
        }
        self.copied(component, &inspection, &mut findings)?;
        let (observed, comparisons) =
            self.beside_model(component, (plugin, &card), &mut inspection)?;
        beside_prediction(&card, &inspection, &observed, &comparisons, &mut findings);
        let (name, model) = (&component.name, (plugin, &*card));
        findings.extend(self.unlikely_findings(name, model, &inspection, &observed)?);
        findings.extend(self.batch_findings(component, &card, &inspection, &observed)?);
        Ok(Checked {
            inspection: Some(inspection),
            findings,
            comparisons,
        })
    }

    /// Compares an inspection that is not stored yet, and marks what is too far off as unexplained.
    fn beside_model(
        &self,
        component: &Component,
        (plugin, card): (Digest, &Arc<Card>),
        inspection: &mut Inspection,
    ) -> Result<(Observed, Vec<ReadingComparison>), LedgerError> {
        let mut evidence = self.evidence(component, plugin)?;
        let (observed, comparisons) =
            self.compared_with(component, plugin, &mut evidence, card, inspection)?;
        let far = |c: &&ReadingComparison| {
            c.learnt && c.surprise.is_some_and(|z| libm::fabs(z) > SURPRISE)
        };
        let without_a_rate = observed.compared.iter().filter(|c| c.far_without_a_rate());
        let without_a_rate = without_a_rate.map(|c| c.reading.clone());
        let far: BTreeSet<String> = comparisons
            .iter()
            .filter(far)
            .map(|c| c.reading.clone())
            .chain(without_a_rate)
            .collect();
        if far.is_empty() {
            return Ok((observed, comparisons));
        }
        for line in &mut inspection.readings {
            if far.contains(&line.reading) && line.explanation == Explanation::Wear {
                line.explanation = Explanation::Unexplained;
            }
        }
        evidence.observed.pop();
        self.compared_with(component, plugin, &mut evidence, card, inspection)
    }

    fn compared_with(
        &self,
        component: &Component,
        plugin: Digest,
        evidence: &mut Evidence,
        card: &Card,
        inspection: &Inspection,
    ) -> Result<(Observed, Vec<ReadingComparison>), LedgerError> {
        let own = evidence
            .observed
            .iter()
            .filter(|(name, _)| *name == component.name);
        let earlier: Vec<Observed> = own.map(|(_, observed)| observed.clone()).collect();
        let observed = self.observe(component, plugin, inspection, &earlier)?;
        evidence
            .observed
            .push((component.name.clone(), observed.clone()));
        let this = |_: &ComponentName, o: &Observed| o.inspection == inspection.name;
        Ok((observed, evidence.comparisons(card, this)?))
    }

    fn check_inspection_time(
        &self,
        component: &Component,
        time: Option<Timestamp>,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<Timestamp>, LedgerError> {
        let field = "inspection.inspection_time";
        let Some(time) = time else {
            findings.push(error(
                field,
                "not set",
                "a time",
                "say when it was measured",
            ));
            return Ok(None);
        };
        keys::check_time(field, time)?;
        let first = self.store.scan(
            Table::Installations,
            &installation_prefix(&component.name),
            None,
            1,
        )?;
        let first: Option<crate::Installation> = first
            .first()
            .map(|(_, bytes)| rows::decode(bytes))
            .transpose()?;
        match first {
            Some(first) if time < first.install_time => findings.push(error(
                field,
                time,
                &format!(
                    "{} or later, when it was first installed",
                    first.install_time
                ),
                "correct the time; what is measured at the build belongs on the build sheet",
            )),
            None => findings.push(warning(
                field,
                "never installed",
                "a component with duty",
                "there is no growth to compare it with",
            )),
            Some(_) => {}
        }
        let now = self.now();
        let late = |from: Timestamp, by: SignedDuration| {
            from.checked_add(by).is_ok_and(|limit| time > limit)
        };
        if late(now, CLOCK_SLACK) {
            // A ledger may be fed with logs that are ahead of its machine's clock.
            let last = match installation_at(&*self.store, &component.name, Some(time))? {
                Some(there) => self.last_duty_record(&there.build.parent(), Some(time))?,
                None => None,
            };
            let last = last.map(|record| record.end_time);
            let with_duty = last.is_some_and(|last| last > now && !late(last, AFTER_DUTY));
            findings.push(if with_duty {
                let remedy = "its duty is later than this machine's clock as well: check the clock";
                warning(field, time, &format!("not after {now}"), remedy)
            } else {
                error(
                    field,
                    time,
                    &format!("not after {now}"),
                    "correct the time: it lies in the future",
                )
            });
        }
        Ok(Some(time))
    }

    /// Values that are those of the last inspection, or of the build sheet, to all digits.
    fn copied(
        &self,
        component: &Component,
        inspection: &Inspection,
        findings: &mut Vec<Finding>,
    ) -> Result<(), LedgerError> {
        let mut before: Vec<(String, String, f64)> = Vec::new();
        let stored = self.inspection_rows(&component.name)?;
        let earlier = stored
            .iter()
            .rev()
            .map(|bytes| rows::decode::<Inspection>(bytes));
        for earlier in earlier {
            let earlier = earlier?;
            if earlier.inspection_time < inspection.inspection_time {
                let lines = earlier.readings.into_iter();
                before = lines.map(|l| (l.reading, l.position, l.value)).collect();
                break;
            }
        }
        let alike = |line: &&crate::MeasuredReading| {
            before.iter().any(|(reading, position, value)| {
                *reading == line.reading
                    && *position == line.position
                    && value.total_cmp(&line.value).is_eq()
            })
        };
        let shared = |line: &&crate::MeasuredReading| {
            before
                .iter()
                .any(|(r, p, _)| *r == line.reading && *p == line.position)
        };
        let lines = || inspection.readings.iter();
        let (same, of) = (
            lines().filter(alike).count(),
            lines().filter(shared).count(),
        );
        if same > 0 && same == of {
            findings.push(warning(
                "inspection.readings",
                format!("{same} of {of} values are those of the inspection before, to all digits"),
                "values of their own",
                "copied? enter what was measured this time",
            ));
        }
        let installation = installation_at(
            &*self.store,
            &component.name,
            Some(inspection.inspection_time),
        )?;
        let Some(installation) = installation else {
            return Ok(());
        };
        let sheet = self.get_build(&installation.build)?.build_sheet;
        for (i, line) in lines().enumerate() {
            let same = |on_sheet: &&crate::BuildSheetLine| {
                on_sheet.item.starts_with(&line.reading)
                    && on_sheet.value.total_cmp(&line.value).is_eq()
            };
            if let Some(on_sheet) = sheet.iter().find(same) {
                findings.push(warning(
                    format!("inspection.readings[{i}].value"),
                    line.value,
                    "a value of its own",
                    &format!(
                        "it is {:?} of the build sheet to all digits: copied?",
                        on_sheet.item
                    ),
                ));
            }
        }
        Ok(())
    }
}

fn refuse_errors(findings: &[Finding]) -> Result<(), LedgerError> {
    let errors: Vec<FieldViolation> = findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error)
        .cloned()
        .map(FieldViolation::from)
        .collect();
    if errors.is_empty() {
        return Ok(());
    }
    Err(LedgerError::InvalidArgument {
        reason: Reason::FieldInvalid,
        violations: errors,
    })
}

fn name_at(component: &ComponentName, time: Timestamp) -> Result<InspectionName, LedgerError> {
    InspectionName::new(component.component(), &keys::time_id(time)).map_err(|error| {
        LedgerError::Internal {
            message: error.to_string(),
        }
    })
}

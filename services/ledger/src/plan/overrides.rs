//! What owners decide other than advised: recorded with who and why, never moving a number, never past a limit.

use super::{
    limits::{Usage, passed, text_of},
    parts::Place,
};
use crate::{
    Calendar, CalendarName, ComponentName, LedgerError, Override, OverrideInput, OverrideName,
    OverrideSubject, Page, PageRequest, PartLimit, Reason, UnitName,
    fold::Folded,
    keys,
    ledger::{Ledger, build_at, check_text, txn::Call},
    rows,
    violations::Violations,
};
use ringland_store::Table;

const LONGEST_TEXT: usize = 2000;
const LONGEST_WHO: usize = 255;
/// Shown with a plan: the latest.
const MOST_SHOWN: usize = 20;

fn key(name: &OverrideName) -> Vec<u8> {
    name.id().as_bytes().to_vec()
}

impl Ledger {
    /// Records that the owner does other than was advised. It changes no number.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] with the reason
    /// [`Reason::LimitStands`] where a limit of the part's maker or of the sanctioning body, or a finding past its limit,
    /// stands, and the store's.
    pub fn record_override(
        &self,
        given: OverrideInput,
        request_id: &str,
    ) -> Result<Override, LedgerError> {
        check(&given)?;
        let call = Call::new("record_override", request_id, &given)?;
        if let Some(prediction) = &given.prediction {
            self.get_prediction(prediction)?;
        }
        for component in self.concerned(&given.subject)? {
            self.refuse_past_limit(&component, given.calendar.as_ref())?;
        }
        let digest = rows::digest_of(&[&rows::encode(&given)?]).to_string();
        let short: String = digest.chars().take(8).collect();
        let id = format!("{}-{short}", keys::time_id(given.decision_time));
        let name = OverrideName::new(&id).map_err(|error| LedgerError::Internal {
            message: error.to_string(),
        })?;
        let (recorded, _) = self.change(&call, |txn| {
            if txn.read_bytes(Table::Overrides, &key(&name))?.is_some() {
                return Err(LedgerError::exists("override", &name));
            }
            let row = Override {
                name: name.clone(),
                content: given.clone(),
                create_time: self.now(),
            };
            self.check_row_size("override", &row)?;
            txn.put(Table::Overrides, key(&name), &row)?;
            Ok(row)
        })?;
        Ok(recorded)
    }

    /// Lists overrides in the order of the times at which they were decided: all, of a unit and what is installed in it, or of
    /// a component.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`] for the subject, and the store's.
    pub fn list_overrides(
        &self,
        subject: Option<&OverrideSubject>,
        page: &PageRequest,
    ) -> Result<Page<Override>, LedgerError> {
        let wanted = match subject {
            None => None,
            Some(subject) => Some((subject, self.concerned(subject)?)),
        };
        let query = subject.map_or_else(String::new, |subject| match subject {
            OverrideSubject::Unit(unit) => unit.to_string(),
            OverrideSubject::Component(component) => component.to_string(),
        });
        let rows = (Table::Overrides, [].as_slice());
        self.page_of(page, &["overrides", &query], rows, |_, row| {
            let row: Override = rows::decode(row)?;
            let about = |(subject, components): &(&OverrideSubject, Vec<ComponentName>)| {
                row.content.subject == **subject || is_of(&row, components)
            };
            Ok(Some(row.clone()).filter(|_| wanted.as_ref().is_none_or(about)))
        })
    }

    /// Of a unit and of what a plan has in it: the latest.
    pub(super) fn overrides_of_unit(
        &self,
        unit: &UnitName,
        places: &[Place],
    ) -> Result<Vec<Override>, LedgerError> {
        let components: Vec<ComponentName> =
            places.iter().map(|place| place.component.clone()).collect();
        let subject = OverrideSubject::Unit(unit.clone());
        let mut found = Vec::new();
        let mut page = PageRequest {
            page_size: 1000,
            page_token: String::new(),
        };
        loop {
            let rows = self.list_overrides(None, &page)?;
            found.extend(
                rows.items
                    .into_iter()
                    .filter(|row| row.content.subject == subject || is_of(row, &components)),
            );
            if rows.next_page_token.is_empty() {
                break;
            }
            page.page_token = rows.next_page_token;
        }
        let older = found.len().saturating_sub(MOST_SHOWN);
        Ok(found.split_off(older))
    }

    /// The component, or what is installed in the unit.
    fn concerned(&self, subject: &OverrideSubject) -> Result<Vec<ComponentName>, LedgerError> {
        match subject {
            OverrideSubject::Component(component) => {
                self.component_row(component)?;
                Ok(vec![component.clone()])
            }
            OverrideSubject::Unit(unit) => {
                self.get_unit(unit)?;
                let Some(build) = build_at(&*self.store, unit, None)? else {
                    return Ok(Vec::new());
                };
                let installed = self.installations_in(&build.name)?.into_iter();
                let installed = installed.filter(|installation| installation.remove_time.is_none());
                Ok(installed
                    .map(|installation| installation.component)
                    .collect())
            }
        }
    }

    fn refuse_past_limit(
        &self,
        component: &ComponentName,
        calendar: Option<&CalendarName>,
    ) -> Result<(), LedgerError> {
        let kind = self.component_row(component)?.component_type;
        // Without a model there is neither a finding by its card nor a count of use.
        let Ok(plugin) = self.require_active(&kind) else {
            return Ok(());
        };
        let folded = self.fold(component, plugin)?;
        let standing = self.inspected(&folded)?.standing;
        if let Some(finding) = standing.overruled.first() {
            return Err(refused(component, &finding.text));
        }
        let Some(calendar) = calendar else {
            return Ok(());
        };
        let calendar = self.get_calendar(calendar, 0)?;
        let now = Usage {
            hours: folded.row.tally.hours,
            events: self.events_of(&folded, &calendar)?,
        };
        let limits = &calendar.content.limits;
        let mut limits = limits.iter().filter(|limit| limit.component_type == kind);
        match limits.find(|limit| reached(limit, now)) {
            Some(limit) => Err(refused(component, &text_of(limit, now))),
            None => Ok(()),
        }
    }

    /// Hours as events.
    fn events_of(&self, folded: &Folded, calendar: &Calendar) -> Result<f64, LedgerError> {
        let unit = match &folded.installation {
            Some(installation) => Some(self.get_unit(&installation.build.parent())?),
            None => None,
        };
        let profile_hours = self.profile_hours(unit.as_ref(), calendar)?;
        let hours = folded.row.tally.hours;
        Ok(if profile_hours > 0.0 {
            hours / profile_hours
        } else {
            0.0
        })
    }
}

/// Whether nothing is left to a limit.
fn reached(limit: &PartLimit, now: Usage) -> bool {
    let more = Usage {
        hours: now.hours * (1.0 + 2e-6),
        events: now.events * (1.0 + 2e-6),
    };
    passed(limit, more)
}

fn is_of(row: &Override, components: &[ComponentName]) -> bool {
    matches!(&row.content.subject, OverrideSubject::Component(component) if components.contains(component))
}

fn refused(component: &ComponentName, what: &str) -> LedgerError {
    LedgerError::precondition(
        Reason::LimitStands,
        component,
        format!(
            "{component}: {what}; no decision sets that aside here: replace the part, or have it measured anew by who may judge it"
        ),
    )
}

fn check(given: &OverrideInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    for (field, text, most) in [
        ("override.advice", &given.advice, LONGEST_TEXT),
        ("override.decision", &given.decision, LONGEST_TEXT),
        ("override.decided_by", &given.decided_by, LONGEST_WHO),
        ("override.reason", &given.reason, LONGEST_TEXT),
    ] {
        if text.trim().is_empty() {
            violations.add(
                field,
                "empty",
                "a text",
                "an override without it says nothing: write it down",
            );
        }
        check_text(&mut violations, field, text, most);
    }
    check_text(&mut violations, "override.event", &given.event, 63);
    violations.into_result()?;
    keys::check_time("override.decision_time", given.decision_time)
}

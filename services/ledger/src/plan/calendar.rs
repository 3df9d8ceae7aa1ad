//! Calendars: put as a whole, kept in every revision.

use super::check_calendar::check;
use crate::{
    Calendar, CalendarInput, CalendarName, LedgerError, Page, PageRequest, keys,
    ledger::{Ledger, check_etag, check_id, txn::Call},
    rows,
};
use ringland_store::Table;

/// The calendar as it is now.
fn key(name: &CalendarName) -> Vec<u8> {
    keys::with(&["c"], name.calendar().as_bytes())
}

/// The calendar as it was.
fn revision_key(name: &CalendarName, revision: u32) -> Vec<u8> {
    keys::with(&["r", name.calendar()], &revision.to_be_bytes())
}

impl Ledger {
    /// Puts a calendar, or a new revision of one: the whole of it or nothing.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that is wrong, [`LedgerError::NotFound`] for a profile or a unit,
    /// [`LedgerError::Aborted`] for an etag that is not current, [`LedgerError::ResourceExhausted`], and the store's.
    pub fn put_calendar(
        &self,
        calendar_id: &str,
        content: CalendarInput,
        etag: &str,
        request_id: &str,
    ) -> Result<Calendar, LedgerError> {
        check_id("calendar_id", calendar_id)?;
        check(&content)?;
        self.check_names(&content)?;
        let name = CalendarName::new(calendar_id)
            .map_err(|_| LedgerError::not_found("calendar", calendar_id))?;
        let call = Call::new("put_calendar", request_id, &(calendar_id, &content, etag))?;
        let (calendar, _) = self.change(&call, |txn| {
            let stored: Option<Calendar> = txn.read(Table::Calendars, &key(&name))?;
            let (current, before) = stored.map_or((String::new(), 0), |c| (c.etag, c.revision));
            check_etag(etag, &current)?;
            let mut calendar = Calendar {
                name: name.clone(),
                content: content.clone(),
                revision: before + 1,
                update_time: self.now(),
                etag: String::new(),
            };
            calendar.etag = rows::etag(&rows::encode(&calendar)?);
            self.check_row_size("calendar", &calendar)?;
            txn.put(Table::Calendars, key(&name), &calendar)?;
            let kept = revision_key(&name, calendar.revision);
            txn.put(Table::Calendars, kept, &calendar)?;
            Ok(calendar)
        })?;
        Ok(calendar)
    }

    /// Reads a calendar, as it is now (`revision` 0) or as it was.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_calendar(
        &self,
        name: &CalendarName,
        revision: u32,
    ) -> Result<Calendar, LedgerError> {
        let key = match revision {
            0 => key(name),
            revision => revision_key(name, revision),
        };
        let bytes = self.store.get(Table::Calendars, &key)?;
        let bytes = bytes.ok_or_else(|| match revision {
            0 => LedgerError::not_found("calendar", name),
            revision => LedgerError::not_found("calendar", format!("{name}, revision {revision}")),
        })?;
        rows::decode(&bytes)
    }

    /// Lists calendars in the order of their names.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, and the store's.
    pub fn list_calendars(&self, page: &PageRequest) -> Result<Page<Calendar>, LedgerError> {
        let prefix = keys::prefix(&["c"]);
        let rows = (Table::Calendars, prefix.as_slice());
        self.page_of(page, &["calendars"], rows, |_, row| {
            rows::decode(row).map(Some)
        })
    }

    /// Refuses names of what does not exist.
    fn check_names(&self, content: &CalendarInput) -> Result<(), LedgerError> {
        for event in &content.events {
            if let Some(profile) = &event.profile {
                self.get_profile(profile)?;
            }
            for unit in &event.units {
                self.get_unit(unit)?;
            }
        }
        Ok(())
    }
}

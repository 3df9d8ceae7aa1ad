//! Duty profiles of events.

use super::{
    Ledger,
    duty_rules::{check_duty, crank_revolutions},
    mask::{check_id, check_text},
    profile_rules::mean_event,
    txn::Call,
};
use crate::{
    LedgerError, Page, PageRequest, Profile, ProfileInput, ProfileName, keys, rows,
    violations::Violations,
};
use ringland_host::contract::DutyTable;
use ringland_store::Table;

pub(crate) fn profile_key(name: &ProfileName) -> Vec<u8> {
    keys::with(&["p"], name.profile().as_bytes())
}

fn table_key(name: &ProfileName) -> Vec<u8> {
    keys::with(&["t"], name.profile().as_bytes())
}

impl Ledger {
    /// Defines the duty of one event, from a table, or as the mean of records that make so many
    /// events together (`events` 0: as many as the records say themselves). A profile never changes:
    /// other duty is another profile.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`] for a record,
    /// [`LedgerError::AlreadyExists`], [`LedgerError::ResourceExhausted`], and the store's.
    pub fn create_profile(
        &self,
        profile_id: &str,
        profile: ProfileInput,
        request_id: &str,
    ) -> Result<Profile, LedgerError> {
        check_id("profile_id", profile_id)?;
        check_profile(&profile)?;
        let call = Call::new("create_profile", request_id, &(profile_id, &profile))?;
        let name = ProfileName::new(profile_id)
            .map_err(|_| LedgerError::not_found("profile", profile_id))?;
        let (answer, _) = self.change(&call, |txn| {
            if txn
                .read_bytes(Table::Profiles, &profile_key(&name))?
                .is_some()
            {
                return Err(LedgerError::exists("profile", &name));
            }
            let (duty, events) = self.event_of(&profile)?;
            check_duty(&duty, &self.options)?;
            let row = Profile {
                name: name.clone(),
                display_name: profile.display_name.clone(),
                duty: None,
                duty_records: profile.duty_records.clone(),
                events,
                duration_s: duty.duration_s,
                crank_revolutions: crank_revolutions(&duty),
                create_time: self.now(),
            };
            self.check_row_size("profile without its table", &row)?;
            txn.put(Table::Profiles, profile_key(&name), &row)?;
            txn.put(Table::Profiles, table_key(&name), &duty)?;
            Ok(row)
        })?;
        Ok(Profile {
            duty: Some(self.profile_table(&name)?),
            ..answer
        })
    }

    /// Reads a profile with its duty.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_profile(&self, name: &ProfileName) -> Result<Profile, LedgerError> {
        let bytes = self.store.get(Table::Profiles, &profile_key(name))?;
        let bytes = bytes.ok_or_else(|| LedgerError::not_found("profile", name))?;
        let row: Profile = rows::decode(&bytes)?;
        Ok(Profile {
            duty: Some(self.profile_table(name)?),
            ..row
        })
    }

    /// Lists profiles in the order of their names, without their duty.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, and the store's.
    pub fn list_profiles(&self, page: &PageRequest) -> Result<Page<Profile>, LedgerError> {
        let prefix = keys::prefix(&["p"]);
        self.page_of(page, &["profiles"], (Table::Profiles, &prefix), |_, row| {
            rows::decode(row).map(Some)
        })
    }

    fn profile_table(&self, name: &ProfileName) -> Result<DutyTable, LedgerError> {
        let bytes = self.store.get(Table::Profiles, &table_key(name))?;
        let bytes = bytes.ok_or_else(|| LedgerError::Internal {
            message: format!("the duty of {name} is gone: restore the store from a backup"),
        })?;
        rows::decode(&bytes)
    }

    fn event_of(&self, profile: &ProfileInput) -> Result<(DutyTable, f64), LedgerError> {
        if let Some(duty) = &profile.duty {
            return Ok((duty.clone(), 0.0));
        }
        let (most, count) = (self.options.max_profile_records, profile.duty_records.len());
        if count > most {
            return Err(LedgerError::ResourceExhausted {
                what: "profile.duty_records".into(),
                value: count as u64,
                limit: most as u64,
                remedy: "make it from fewer records".into(),
            });
        }
        let mut tables = Vec::with_capacity(count);
        let mut known_events = Some(0.0);
        for name in &profile.duty_records {
            let record = self.get_duty_record(name)?;
            known_events = known_events
                .zip(record.events)
                .map(|(sum, events)| sum + events);
            tables.extend(record.duty);
        }
        let events = match profile.events {
            0.0 => known_events.ok_or_else(|| {
                let mut violations = Violations::default();
                let expected = "how many events the records make together";
                let remedy = "give it: not every record says so itself";
                violations.add("profile.events", 0.0, expected, remedy);
                violations
                    .into_result()
                    .err()
                    .unwrap_or_else(|| LedgerError::not_found("events", ""))
            })?,
            events => events,
        };
        Ok((mean_event(&tables, events, &self.options)?, events))
    }
}

fn check_profile(profile: &ProfileInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    check_text(
        &mut violations,
        "profile.display_name",
        &profile.display_name,
        255,
    );
    let remedy = "give one of the two";
    match (&profile.duty, profile.duty_records.is_empty()) {
        (None, true) => {
            violations.add("profile.duty", "not set", "duty, or duty_records", remedy);
        }
        (Some(_), false) => {
            violations.add(
                "profile.duty_records",
                "given",
                "duty or duty_records",
                remedy,
            );
        }
        _ => {}
    }
    let mut sorted: Vec<_> = profile.duty_records.iter().collect();
    sorted.sort();
    if let Some([twice, _]) = sorted.array_windows::<2>().find(|[a, b]| a == b) {
        let value = format!("{twice} twice");
        violations.add(
            "profile.duty_records",
            value,
            "each record once",
            "leave one out",
        );
    }
    if !(profile.events == 0.0 || (profile.events > 0.0 && profile.events <= 10_000.0)) {
        let expected = "0, or more than 0 and at most 10000";
        violations.add(
            "profile.events",
            profile.events,
            expected,
            "count the events",
        );
    }
    violations.into_result()
}

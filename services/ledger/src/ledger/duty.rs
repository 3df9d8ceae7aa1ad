//! Duty records: the log of use.

use super::{
    Ledger,
    duty_rules::{check_duty, crank_revolutions},
    mask::check_text,
    places::{build_at, touch_unit},
    txn::{Call, Txn},
};
use crate::{
    Build, ComponentName, DutyRecord, DutyRecordName, FieldViolation, LedgerError, Page,
    PageRequest, Reason, RecordDuty, RecordDutyResponse, UnitName, keys, rows,
    violations::Violations,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::{Digest, DutyTable};
use ringland_store::Table;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A record as it is stored: its table is a row of its own.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct DutyRow {
    pub(crate) record: DutyRecord,
    /// SHA-256 of the stored table.
    pub(crate) digest: Digest,
    /// Numbers in the table.
    pub(crate) values: u64,
}

/// Below it are the records of a unit, by start.
pub(crate) fn record_prefix(unit: &UnitName) -> Vec<u8> {
    keys::prefix(&["r", unit.unit()])
}

pub(crate) fn record_key(unit: &UnitName, start: Timestamp) -> Vec<u8> {
    keys::with(&["r", unit.unit()], &keys::time(start))
}

pub(crate) fn table_key(unit: &UnitName, start: Timestamp) -> Vec<u8> {
    keys::with(&["t", unit.unit()], &keys::time(start))
}

impl Ledger {
    /// Records duty. It is on disk when this returns. The same request id with the same content
    /// answers as before and changes nothing.
    ///
    /// The unit must have a build that is open over the whole record; records of a unit may overlap
    /// by no more than [`crate::LedgerOptions::duty_overlap_tolerance_s`], and never start together.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with every violation, [`LedgerError::NotFound`],
    /// [`LedgerError::AlreadyExists`], [`LedgerError::FailedPrecondition`],
    /// [`LedgerError::ResourceExhausted`], and the store's.
    pub fn record_duty(&self, duty: RecordDuty) -> Result<RecordDutyResponse, LedgerError> {
        check_header(&duty)?;
        check_duty(&duty.duty, &self.options)?;
        let content = (
            &duty.unit,
            duty.start_time,
            &duty.session,
            &duty.source,
            duty.events,
            duty.content_sha256.to_ascii_lowercase(),
        );
        let call = Call::new("record_duty", &duty.request_id, &content)?;
        let table = rows::encode(&duty.duty)?;
        let digest = rows::digest_of(&[&table]);
        let end_time = end_of(&duty)?;
        let mut affected = BTreeSet::new();
        // Folds of this process wait for a moment instead of making this start again.
        let held = self.unit_locks.hold([&duty.unit]);
        let (duty_record, replayed) = self.change(&call, |txn| {
            if txn
                .read_bytes(Table::Units, duty.unit.unit().as_bytes())?
                .is_none()
            {
                return Err(LedgerError::not_found("unit", &duty.unit));
            }
            touch_unit(txn, &duty.unit, 1)?;
            let build = self.build_over(&duty, end_time)?;
            self.check_overlap(&duty.unit, duty.start_time, end_time)?;
            affected = self.installed_at(&build, duty.start_time)?;
            self.touch_for_duty(txn, &affected, duty.start_time)?;
            let record = self.record_of(&duty, build, end_time)?;
            let values = (duty.duty.points.len() as u64 + 1) * duty.duty.time_s.len() as u64;
            self.put_record(
                txn,
                DutyRow {
                    record,
                    digest,
                    values,
                },
                &table,
            )
        })?;
        drop(held);
        if !replayed {
            self.tell(affected);
        }
        Ok(RecordDutyResponse {
            duty_record,
            replayed,
        })
    }

    /// Reads a duty record with its table.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_duty_record(&self, name: &DutyRecordName) -> Result<DutyRecord, LedgerError> {
        let missing = || LedgerError::not_found("duty record", name);
        let start = keys::time_of_id(name.record()).ok_or_else(missing)?;
        let unit = name.parent();
        let row = self.store.get(Table::Duty, &record_key(&unit, start))?;
        let row: DutyRow = rows::decode(&row.ok_or_else(missing)?)?;
        Ok(DutyRecord {
            duty: Some(self.duty_table(&unit, start)?),
            ..row.record
        })
    }

    /// Lists a unit's duty records in the order of their start, without their tables.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_duty_records(
        &self,
        unit: &UnitName,
        page: &PageRequest,
    ) -> Result<Page<DutyRecord>, LedgerError> {
        self.get_unit(unit)?;
        let query = ["duty records", unit.unit()];
        self.page_of(
            page,
            &query,
            (Table::Duty, &record_prefix(unit)),
            |_, bytes| rows::decode::<DutyRow>(bytes).map(|row| Some(row.record)),
        )
    }

    pub(crate) fn duty_table(
        &self,
        unit: &UnitName,
        start: Timestamp,
    ) -> Result<DutyTable, LedgerError> {
        let bytes = self.store.get(Table::Duty, &table_key(unit, start))?;
        let bytes = bytes.ok_or_else(|| LedgerError::Internal {
            message: format!(
                "the duty of {unit} at {start} is gone: restore the store from a backup"
            ),
        })?;
        rows::decode(&bytes)
    }

    /// The last record of a unit that started by then.
    pub(crate) fn last_duty_record(
        &self,
        unit: &UnitName,
        time: Option<Timestamp>,
    ) -> Result<Option<DutyRecord>, LedgerError> {
        let up_to = time.map(|time| record_key(unit, time));
        let row = self
            .store
            .last(Table::Duty, &record_prefix(unit), up_to.as_deref())?;
        row.map(|(_, bytes)| rows::decode::<DutyRow>(&bytes).map(|row| row.record))
            .transpose()
    }

    /// By how much something that ends then overlaps something that starts then, beyond tolerance.
    pub(crate) fn overlap_s(&self, end: Timestamp, start: Timestamp) -> f64 {
        end.duration_since(start).as_secs_f64() - self.options.duty_overlap_tolerance_s
    }

    fn put_record(
        &self,
        txn: &mut Txn<'_>,
        row: DutyRow,
        table: &[u8],
    ) -> Result<DutyRecord, LedgerError> {
        let (unit, start) = (&row.record.unit, row.record.start_time);
        self.check_row_size("duty record without its table", &row)?;
        txn.put_bytes(Table::Duty, table_key(unit, start), table.to_vec());
        txn.put(Table::Duty, record_key(unit, start), &row)?;
        Ok(row.record)
    }

    fn record_of(
        &self,
        duty: &RecordDuty,
        build: Build,
        end_time: Timestamp,
    ) -> Result<DutyRecord, LedgerError> {
        Ok(DutyRecord {
            name: DutyRecordName::new(duty.unit.unit(), &keys::time_id(duty.start_time)).map_err(
                |error| LedgerError::Internal {
                    message: error.to_string(),
                },
            )?,
            unit: duty.unit.clone(),
            build: build.name,
            start_time: duty.start_time,
            end_time,
            session: duty.session.clone(),
            source: duty.source.clone(),
            events: duty.events,
            duration_s: duty.duty.duration_s,
            crank_revolutions: crank_revolutions(&duty.duty),
            content_sha256: duty.content_sha256.to_ascii_lowercase(),
            request_id: duty.request_id.clone(),
            intake_report: duty.intake_report.clone(),
            duty: None,
            create_time: self.now(),
        })
    }

    /// The build that is open over the whole record.
    fn build_over(&self, duty: &RecordDuty, end_time: Timestamp) -> Result<Build, LedgerError> {
        let start = duty.start_time;
        let build = build_at(&*self.store, &duty.unit, Some(start))?;
        let state = match &build {
            None => match self.first_build(&duty.unit)? {
                Some(first) => format!("its first build is from {}", first.assembly_time),
                None => "it has no build".into(),
            },
            Some(build) => match build.teardown_time {
                Some(torn) if self.overlap_s(end_time, torn) > 0.0 || torn <= start => {
                    format!(
                        "{} is from {} until {torn}",
                        build.name, build.assembly_time
                    )
                }
                _ => return Ok(build.clone()),
            },
        };
        Err(LedgerError::precondition(
            Reason::BuildNotOpen,
            &duty.unit,
            format!(
                "the duty is from {start} to {end_time}, but {} has no build open over that time: {state}; correct start_time, or enter the build",
                duty.unit
            ),
        ))
    }

    fn first_build(&self, unit: &UnitName) -> Result<Option<Build>, LedgerError> {
        let one = PageRequest {
            page_size: 1,
            page_token: String::new(),
        };
        Ok(self.list_builds(Some(unit), &one)?.items.into_iter().next())
    }

    fn check_overlap(
        &self,
        unit: &UnitName,
        start: Timestamp,
        end: Timestamp,
    ) -> Result<(), LedgerError> {
        let before = self.last_duty_record(unit, Some(start))?;
        let after = record_key(unit, start);
        let next = self
            .store
            .scan(Table::Duty, &record_prefix(unit), Some(&after), 1)?;
        let next = match next.first() {
            Some((_, bytes)) => Some(rows::decode::<DutyRow>(bytes)?.record),
            None => None,
        };
        let before = before.filter(|record| {
            record.start_time == start || self.overlap_s(record.end_time, start) > 0.0
        });
        let next = next.filter(|record| self.overlap_s(end, record.start_time) > 0.0);
        let Some(other) = before.or(next) else {
            return Ok(());
        };
        let tolerance = self.options.duty_overlap_tolerance_s;
        Err(LedgerError::precondition(
            Reason::DutyOverlap,
            &other.name,
            format!(
                "the duty is from {start} to {end}, but {} is from {} to {} (request_id {:?}), and records of a unit may overlap by {tolerance} s at most and not start together; correct start_time, or leave out what was recorded already",
                other.name, other.start_time, other.end_time, other.request_id
            ),
        ))
    }

    /// Components in a build at a time.
    fn installed_at(
        &self,
        build: &Build,
        time: Timestamp,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let installations = self.installations_in(&build.name)?;
        let there = installations.into_iter().filter(|i| i.holds_at(time));
        Ok(there.map(|installation| installation.component).collect())
    }
}

fn end_of(duty: &RecordDuty) -> Result<Timestamp, LedgerError> {
    let covered = duty
        .intake_report
        .as_ref()
        .map_or(0.0, |report| report.log_duration_s);
    let length = SignedDuration::try_from_secs_f64(duty.duty.duration_s.max(covered));
    let end = length
        .ok()
        .and_then(|length| duty.start_time.checked_add(length).ok());
    end.ok_or_else(|| {
        LedgerError::invalid(FieldViolation::new(
            "duty.duration_s",
            &duty.duty.duration_s.to_string(),
            "an end before the year 9999",
            "give the time in seconds",
        ))
    })
}

fn check_header(duty: &RecordDuty) -> Result<(), LedgerError> {
    keys::check_time("start_time", duty.start_time)?;
    let mut violations = Violations::default();
    if duty.request_id.is_empty() {
        let remedy = "choose a random one, such as a UUID, and keep it for sending again";
        violations.add(
            "request_id",
            "empty",
            "1 to 64 visible ASCII characters",
            remedy,
        );
    }
    if duty.content_sha256.parse::<Digest>().is_err() {
        let value = format!("{:?}", duty.content_sha256);
        let expected = "SHA-256 of what was sent, 64 hexadecimal digits";
        violations.add(
            "content_sha256",
            value,
            expected,
            "take it over the bytes of the log",
        );
    }
    check_text(&mut violations, "session", &duty.session, 255);
    check_text(&mut violations, "source", &duty.source, 1000);
    if let Some(events) = duty.events.filter(|e| !(*e > 0.0 && *e <= 10_000.0)) {
        let remedy = "leave it out if it is not known";
        violations.add("events", events, "more than 0, at most 10000", remedy);
    }
    if let Some(report) = &duty.intake_report
        && !report.log_duration_s.is_finite()
    {
        let remedy = "give the time covered by the log";
        violations.add(
            "intake_report.log_duration_s",
            report.log_duration_s,
            "finite",
            remedy,
        );
    }
    violations.into_result()
}

//! Builds.

use super::{
    Ledger,
    mask::{Mask, check_etag, check_id, check_text},
    places::{
        build_at, build_key, build_of, build_time_prefix, in_build_key, installation_key,
        touch_unit,
    },
    txn::{Call, Txn},
};
use crate::{
    Build, BuildInput, BuildName, ComponentName, Installation, LedgerError, Page, PageRequest,
    Reason, UnitName, keys, rows, violations::Violations,
};
use jiff::Timestamp;
use ringland_store::Table;
use std::collections::BTreeSet;

const FIELDS: &[&str] = &["display_name", "build_sheet"];

impl Ledger {
    /// Opens a build. The unit's earlier builds must be closed by then. With a teardown time it is
    /// one that was over before it was entered.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::AlreadyExists`],
    /// [`LedgerError::FailedPrecondition`] where builds would overlap, and the store's.
    pub fn create_build(
        &self,
        unit: &UnitName,
        build_id: &str,
        build: BuildInput,
        request_id: &str,
    ) -> Result<Build, LedgerError> {
        check_id("build_id", build_id)?;
        check_build(&build)?;
        let assembly_time = keys::required_time("build.assembly_time", build.assembly_time)?;
        let call = Call::new("create_build", request_id, &(unit, build_id, &build))?;
        let name = BuildName::new(unit.unit(), build_id)
            .map_err(|_| LedgerError::not_found("build", build_id))?;
        let (build, _) = self.change(&call, |txn| {
            if txn
                .read_bytes(Table::Units, unit.unit().as_bytes())?
                .is_none()
            {
                return Err(LedgerError::not_found("unit", unit));
            }
            if txn.read_bytes(Table::Builds, &build_key(&name))?.is_some() {
                return Err(LedgerError::exists("build", &name));
            }
            touch_unit(txn, unit, 0)?;
            self.check_build_overlap(&name, assembly_time, build.teardown_time)?;
            let now = self.now();
            let time_key = keys::with(&["t", unit.unit()], &keys::time(assembly_time));
            txn.put_bytes(Table::Builds, time_key, build_id.as_bytes().to_vec());
            self.put_build(
                txn,
                Build {
                    name: name.clone(),
                    display_name: build.display_name.clone(),
                    assembly_time,
                    teardown_time: build.teardown_time,
                    build_sheet: build.build_sheet.clone(),
                    create_time: now,
                    update_time: now,
                    etag: String::new(),
                },
            )
        })?;
        Ok(build)
    }

    /// Reads a build.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_build(&self, name: &BuildName) -> Result<Build, LedgerError> {
        let bytes = self.store.get(Table::Builds, &build_key(name))?;
        build_of(&bytes.ok_or_else(|| LedgerError::not_found("build", name))?)
    }

    /// Lists a unit's builds, oldest first, or those of all units.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`] for the unit, and
    /// the store's.
    pub fn list_builds(
        &self,
        unit: Option<&UnitName>,
        page: &PageRequest,
    ) -> Result<Page<Build>, LedgerError> {
        if let Some(unit) = unit {
            self.get_unit(unit)?;
        }
        let query = unit.map(ToString::to_string).unwrap_or_default();
        let prefix = unit.map_or_else(|| keys::prefix(&["t"]), build_time_prefix);
        self.page_of(
            page,
            &["builds", &query],
            (Table::Builds, &prefix),
            |key, id| {
                let unit = key.split(|byte| *byte == 0).nth(1).unwrap_or_default();
                let mut key = keys::prefix(&["b"]);
                key.extend_from_slice(unit);
                key.push(0);
                key.extend_from_slice(id);
                self.store
                    .get(Table::Builds, &key)?
                    .as_deref()
                    .map(build_of)
                    .transpose()
            },
        )
    }

    /// Changes the fields named in the mask. An `etag` that is given must be the current one.
    ///
    /// # Errors
    /// As [`Ledger::update_unit`].
    pub fn update_build(
        &self,
        name: &BuildName,
        build: BuildInput,
        mask: &[String],
        etag: &str,
    ) -> Result<Build, LedgerError> {
        let mask = Mask::new(mask, FIELDS)?;
        check_build(&build)?;
        let call = Call::new("update_build", "", &())?;
        let (build, _) = self.change(&call, |txn| {
            let bytes = txn.read_bytes(Table::Builds, &build_key(name))?;
            let mut new = build_of(&bytes.ok_or_else(|| LedgerError::not_found("build", name))?)?;
            check_etag(etag, &new.etag)?;
            if mask.has("display_name") {
                new.display_name.clone_from(&build.display_name);
            }
            if mask.has("build_sheet") {
                new.build_sheet.clone_from(&build.build_sheet);
            }
            new.update_time = self.now();
            self.put_build(txn, new)
        })?;
        Ok(build)
    }

    /// Closes a build at its teardown; components still installed are taken out at that time.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when it is closed already, or an installation or a duty
    /// record is later than the teardown, and the store's.
    pub fn close_build(
        &self,
        name: &BuildName,
        teardown_time: Timestamp,
        request_id: &str,
    ) -> Result<Build, LedgerError> {
        keys::check_time("teardown_time", teardown_time)?;
        let call = Call::new("close_build", request_id, &(name, teardown_time))?;
        let mut affected = BTreeSet::new();
        let (build, _) = self.change(&call, |txn| {
            let bytes = txn.read_bytes(Table::Builds, &build_key(name))?;
            let mut build = build_of(&bytes.ok_or_else(|| LedgerError::not_found("build", name))?)?;
            touch_unit(txn, &name.parent(), 0)?;
            self.check_close(&build, teardown_time)?;
            affected = self.take_all_out(txn, name, teardown_time)?;
            build.teardown_time = Some(teardown_time);
            build.update_time = self.now();
            self.put_build(txn, build)
        })?;
        self.tell(affected);
        Ok(build)
    }

    fn take_all_out(
        &self,
        txn: &mut Txn<'_>,
        name: &BuildName,
        teardown_time: Timestamp,
    ) -> Result<BTreeSet<ComponentName>, LedgerError> {
        let mut out = Vec::new();
        for mut installation in self.installations_in(name)? {
            if installation.remove_time.is_some() {
                continue;
            }
            if installation.install_time >= teardown_time {
                return Err(LedgerError::precondition(
                    Reason::InstallationOverlap,
                    &installation.name,
                    format!(
                        "teardown_time is {teardown_time}, but {} was installed at {}; close the build later than that",
                        installation.component, installation.install_time
                    ),
                ));
            }
            let key = installation_key(&installation.component, installation.install_time);
            txn.read_bytes(Table::Installations, &key)?;
            installation.remove_time = Some(teardown_time);
            txn.put(Table::Installations, key, &installation)?;
            txn.put_bytes(
                Table::Installations,
                in_build_key(name, &installation),
                installation_key(&installation.component, installation.install_time),
            );
            out.push(installation.component);
        }
        self.touch(txn, out, teardown_time)
    }

    fn check_close(&self, build: &Build, teardown_time: Timestamp) -> Result<(), LedgerError> {
        if let Some(closed) = build.teardown_time {
            return Err(LedgerError::precondition(
                Reason::BuildNotOpen,
                &build.name,
                format!("{} was closed at {closed}; open a new build", build.name),
            ));
        }
        if teardown_time <= build.assembly_time {
            return Err(LedgerError::precondition(
                Reason::BuildOverlap,
                &build.name,
                format!(
                    "teardown_time is {teardown_time}, expected later than the assembly at {}; correct the time",
                    build.assembly_time
                ),
            ));
        }
        if let Some(record) = self.last_duty_record(&build.name.parent(), None)?
            && self.overlap_s(record.end_time, teardown_time) > 0.0
            && record.build == build.name
        {
            return Err(LedgerError::precondition(
                Reason::DutyOverlap,
                &record.name,
                format!(
                    "teardown_time is {teardown_time}, but {} ran until {}; close the build later than that",
                    record.name, record.end_time
                ),
            ));
        }
        Ok(())
    }

    fn check_build_overlap(
        &self,
        name: &BuildName,
        assembly_time: Timestamp,
        teardown_time: Option<Timestamp>,
    ) -> Result<(), LedgerError> {
        let unit = name.parent();
        let refuse = |other: &Build, remedy: &str| {
            let until = other
                .teardown_time
                .map_or("still open".into(), |t| format!("until {t}"));
            Err(LedgerError::precondition(
                Reason::BuildOverlap,
                &other.name,
                format!(
                    "build.assembly_time is {assembly_time}, but {} is from {} {until}; {remedy}",
                    other.name, other.assembly_time
                ),
            ))
        };
        if let Some(earlier) = build_at(&*self.store, &unit, Some(assembly_time))?
            && (earlier.assembly_time == assembly_time
                || earlier
                    .teardown_time
                    .is_none_or(|torn_down| torn_down > assembly_time))
        {
            return refuse(&earlier, "close it first, or correct the time");
        }
        // The first build after the new one, if any, must begin when the new one is over.
        let after = keys::with(&["t", unit.unit()], &keys::time(assembly_time));
        let prefix = build_time_prefix(&unit);
        let next = self.store.scan(Table::Builds, &prefix, Some(&after), 1)?;
        if let Some((_, id)) = next.first() {
            let mut key = keys::prefix(&["b", unit.unit()]);
            key.extend_from_slice(id);
            let next = self
                .store
                .get(Table::Builds, &key)?
                .as_deref()
                .map(build_of)
                .transpose()?;
            if let Some(next) = next
                && teardown_time.is_none_or(|torn_down| torn_down > next.assembly_time)
            {
                return refuse(&next, "give the teardown time of the earlier build");
            }
        }
        Ok(())
    }

    fn put_build(&self, txn: &mut Txn<'_>, mut build: Build) -> Result<Build, LedgerError> {
        build.etag = String::new();
        self.check_row_size("build", &build)?;
        let bytes = rows::encode(&build)?;
        build.etag = rows::etag(&bytes);
        txn.put_bytes(Table::Builds, build_key(&build.name), bytes);
        Ok(build)
    }
}

fn check_build(build: &BuildInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    check_text(
        &mut violations,
        "build.display_name",
        &build.display_name,
        255,
    );
    if let (Some(from), Some(to)) = (build.assembly_time, build.teardown_time) {
        keys::check_time("build.teardown_time", to)?;
        if to <= from {
            let expected = format!("later than the assembly at {from}");
            violations.add("build.teardown_time", to, &expected, "correct the time");
        }
    }
    for (i, line) in build.build_sheet.iter().enumerate() {
        let field = |name: &str| format!("build.build_sheet[{i}].{name}");
        if line.item.is_empty() {
            violations.add(field("item"), "empty", "what was measured", "name it");
        }
        if !line.value.is_finite() {
            violations.add(field("value"), line.value, "a finite number", "correct it");
        }
        if !(line.instrument_sd.is_finite() && line.instrument_sd >= 0.0) {
            let expected = "a finite number, 0 or more";
            violations.add(
                field("instrument_sd"),
                line.instrument_sd,
                expected,
                "correct it",
            );
        }
        if let Some(kelvin) = line.temperature_k.filter(|k| !(150.0..=1500.0).contains(k)) {
            violations.add(
                field("temperature_k"),
                kelvin,
                "150 to 1500 K",
                "give it in kelvin",
            );
        }
    }
    violations.into_result()
}

/// Not installed any more, or never.
pub(crate) fn not_installed(
    component: &ComponentName,
    last: Option<&Installation>,
    remedy: &str,
) -> LedgerError {
    let state = match last.and_then(|i| i.remove_time.map(|t| (i, t))) {
        Some((last, removed)) => {
            format!("it was taken out of {} at {removed}", last.build)
        }
        None => "it never was".into(),
    };
    LedgerError::precondition(
        Reason::NotInstalled,
        component,
        format!("{component} is not installed: {state}; {remedy}"),
    )
}

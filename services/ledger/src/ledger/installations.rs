//! Installing, taking out, moving.

use super::{
    Ledger,
    builds::not_installed,
    components::expect_component,
    mask::check_text,
    places::{
        build_key, build_of, in_build_key, in_build_prefix, installation_at, installation_key,
        installation_prefix, touch_unit,
    },
    txn::{Call, Txn},
};
use crate::evidence::refuse_retired;
use crate::{
    Build, BuildName, ComponentName, Installation, InstallationName, LedgerError, Page,
    PageRequest, Reason, keys, rows, violations::Violations,
};
use jiff::Timestamp;
use ringland_store::Table;
use std::collections::BTreeSet;

impl Ledger {
    /// Installs a component in a build: within the build's life, and not before the component's
    /// last removal. In a build that is over, it is taken out at the teardown.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`], [`LedgerError::ResourceExhausted`], and the store's.
    pub fn install_component(
        &self,
        component: &ComponentName,
        build: &BuildName,
        position: &str,
        install_time: Timestamp,
        request_id: &str,
    ) -> Result<Installation, LedgerError> {
        check_place("install_time", install_time, position)?;
        let content = (component, build, position, install_time);
        let call = Call::new("install_component", request_id, &content)?;
        self.place(&call, |txn, affected| {
            expect_component(txn, component)?;
            if let Some(last) = installation_at(&*self.store, component, None)? {
                check_free(&last, install_time)?;
            }
            self.put_in(txn, component, (build, position), install_time, affected)
        })
    }

    /// Takes a component out of its build.
    ///
    /// # Errors
    /// As [`Ledger::install_component`].
    pub fn remove_component(
        &self,
        component: &ComponentName,
        remove_time: Timestamp,
        request_id: &str,
    ) -> Result<Installation, LedgerError> {
        check_place("remove_time", remove_time, "")?;
        let call = Call::new("remove_component", request_id, &(component, remove_time))?;
        self.place(&call, |txn, affected| {
            expect_component(txn, component)?;
            self.take_out(txn, component, remove_time, affected)
        })
    }

    /// Takes a component out of its build and installs it in another at the same time.
    ///
    /// # Errors
    /// As [`Ledger::install_component`].
    pub fn move_component(
        &self,
        component: &ComponentName,
        build: &BuildName,
        position: &str,
        move_time: Timestamp,
        request_id: &str,
    ) -> Result<Installation, LedgerError> {
        check_place("move_time", move_time, position)?;
        let content = (component, build, position, move_time);
        let call = Call::new("move_component", request_id, &content)?;
        self.place(&call, |txn, affected| {
            expect_component(txn, component)?;
            self.take_out(txn, component, move_time, affected)?;
            self.put_in(txn, component, (build, position), move_time, affected)
        })
    }

    /// Lists where a component has been, oldest first, or what is in a build, or both.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_installations(
        &self,
        component: Option<&ComponentName>,
        build: Option<&BuildName>,
        page: &PageRequest,
    ) -> Result<Page<Installation>, LedgerError> {
        if let Some(component) = component {
            self.component_row(component)?;
        }
        if let Some(build) = build {
            self.get_build(build)?;
        }
        let text = |name: Option<String>| name.unwrap_or_default();
        let (parent, place) = (
            text(component.map(ToString::to_string)),
            text(build.map(ToString::to_string)),
        );
        let query = ["installations", &parent, &place];
        if let (None, Some(build)) = (component, build) {
            let prefix = in_build_prefix(build);
            return self.page_of(page, &query, (Table::Installations, &prefix), |_, key| {
                let bytes = self.store.get(Table::Installations, key)?;
                bytes.as_deref().map(rows::decode).transpose()
            });
        }
        let prefix = component.map_or_else(|| keys::prefix(&["c"]), installation_prefix);
        self.page_of(page, &query, (Table::Installations, &prefix), |_, bytes| {
            let row: Installation = rows::decode(bytes)?;
            Ok(build.is_none_or(|build| row.build == *build).then_some(row))
        })
    }

    fn place(
        &self,
        call: &Call<'_>,
        mut place: impl FnMut(
            &mut Txn<'_>,
            &mut BTreeSet<ComponentName>,
        ) -> Result<Installation, LedgerError>,
    ) -> Result<Installation, LedgerError> {
        let mut affected = BTreeSet::new();
        let (installation, replayed) = self.change(call, |txn| {
            affected.clear();
            place(txn, &mut affected)
        })?;
        if !replayed {
            self.tell(affected);
        }
        Ok(installation)
    }

    fn put_in(
        &self,
        txn: &mut Txn<'_>,
        component: &ComponentName,
        (build, position): (&BuildName, &str),
        time: Timestamp,
        affected: &mut BTreeSet<ComponentName>,
    ) -> Result<Installation, LedgerError> {
        refuse_retired(txn, component)?;
        let bytes = txn.read_bytes(Table::Builds, &build_key(build))?;
        let found = build_of(&bytes.ok_or_else(|| LedgerError::not_found("build", build))?)?;
        check_open_at(&found, time)?;
        touch_unit(txn, &build.parent(), 0)?;
        self.check_room(build)?;
        let installation = Installation {
            name: InstallationName::new(component.component(), &keys::time_id(time)).map_err(
                |error| LedgerError::Internal {
                    message: error.to_string(),
                },
            )?,
            component: component.clone(),
            build: build.clone(),
            position: position.into(),
            install_time: time,
            remove_time: found.teardown_time,
        };
        let key = installation_key(component, time);
        txn.read_bytes(Table::Installations, &key)?;
        txn.put(Table::Installations, key.clone(), &installation)?;
        txn.put_bytes(
            Table::Installations,
            in_build_key(build, &installation),
            key,
        );
        affected.extend(self.touch_in_build(txn, component, build, time)?);
        Ok(installation)
    }

    pub(crate) fn take_out(
        &self,
        txn: &mut Txn<'_>,
        component: &ComponentName,
        time: Timestamp,
        affected: &mut BTreeSet<ComponentName>,
    ) -> Result<Installation, LedgerError> {
        let last = installation_at(&*self.store, component, None)?;
        let Some(mut installation) = last.clone().filter(|i| i.remove_time.is_none()) else {
            return Err(not_installed(component, last.as_ref(), "install it first"));
        };
        if time <= installation.install_time {
            return Err(LedgerError::precondition(
                Reason::InstallationOverlap,
                &installation.name,
                format!(
                    "the time is {time}, but {component} was installed in {} at {}; give a later time",
                    installation.build, installation.install_time
                ),
            ));
        }
        let key = installation_key(component, installation.install_time);
        let before = txn.read_bytes(Table::Installations, &key)?;
        if before
            .as_deref()
            .map(rows::decode::<Installation>)
            .transpose()?
            != last
        {
            return Err(LedgerError::Aborted {
                reason: Reason::ConcurrentChange,
                message: format!("{component} was moved at the same time; try again"),
            });
        }
        installation.remove_time = Some(time);
        txn.put(Table::Installations, key, &installation)?;
        touch_unit(txn, &installation.build.parent(), 0)?;
        affected.extend(self.touch_in_build(txn, component, &installation.build, time)?);
        Ok(installation)
    }

    fn check_room(&self, build: &BuildName) -> Result<(), LedgerError> {
        let limit = self.options.max_components_per_build;
        let count = self.installations_in(build)?.len();
        if count < limit {
            return Ok(());
        }
        Err(LedgerError::ResourceExhausted {
            what: format!("installations in {build}"),
            value: count as u64 + 1,
            limit: limit as u64,
            remedy: "keep a set of like parts as one component".into(),
        })
    }
}

fn check_place(field: &str, time: Timestamp, position: &str) -> Result<(), LedgerError> {
    keys::check_time(field, time)?;
    let mut violations = Violations::default();
    check_text(&mut violations, "position", position, 255);
    violations.into_result()
}

/// A component is in one place at a time, and its story is told forwards.
fn check_free(last: &Installation, install_time: Timestamp) -> Result<(), LedgerError> {
    let problem = match last.remove_time {
        None => format!(
            "is installed in {} since {}; take it out first, or move it",
            last.build, last.install_time
        ),
        Some(removed) if install_time < removed => format!(
            "was taken out of {} at {removed}, and install_time is {install_time}; install it at that time or later",
            last.build
        ),
        Some(_) => return Ok(()),
    };
    Err(LedgerError::precondition(
        Reason::InstallationOverlap,
        &last.name,
        format!("{} {problem}", last.component),
    ))
}

fn check_open_at(build: &Build, time: Timestamp) -> Result<(), LedgerError> {
    let open = build.assembly_time <= time && build.teardown_time.is_none_or(|torn| time < torn);
    if open {
        return Ok(());
    }
    let until = build
        .teardown_time
        .map_or("now".into(), |time| time.to_string());
    Err(LedgerError::precondition(
        Reason::BuildNotOpen,
        &build.name,
        format!(
            "the time is {time}, but {} is open from {} until {until}; correct the time or choose another build",
            build.name, build.assembly_time
        ),
    ))
}

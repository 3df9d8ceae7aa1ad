//! The shop's units, builds and parts, its plan for the events to come, its predictions.

use super::{calendar::Calendar, logs::Recorded, parts::Part};
use crate::{
    CliError,
    commands::Session,
    demo::{Build as DemoBuild, Unit as DemoUnit, UnitKind as Kind, Work},
};
use prost_types::{FieldMask, Timestamp};
use ringland_proto::v1::{
    Build, CloseBuildRequest, Component, CreateBuildRequest, CreateComponentRequest,
    CreateProfileRequest, CreateUnitRequest, EndCause, InstallComponentRequest,
    ListComponentsRequest, PredictRequest, Prediction, Profile, RecordReworkRequest,
    RetireComponentRequest, ShockThresholds, Unit, UnitKind, UpdateUnitRequest,
};
use std::collections::BTreeMap;

/// For each kind of unit, the one whose events the shop plans by, and the profile of an event.
pub(in crate::commands) const TYPICAL: [(Kind, &str, &str); 2] = [
    (Kind::Engine, "engine-a", PROFILE),
    (Kind::Driveline, "driveline-a", "race-meeting-driveline"),
];
/// The profile of an engine's event.
pub(super) const PROFILE: &str = "race-meeting";
const RAD_S_PER_RPM: f64 = std::f64::consts::TAU / 60.0;
const ICE_POINT_K: f64 = 273.15;

/// Makes every unit, every build with its parts and what was done in it, and closes what is torn down before the end.
pub(super) async fn open(
    calendar: &Calendar,
    parts: &[Part],
    session: &Session,
) -> Result<(), CliError> {
    let mut shop = Workshop::open(calendar, parts, session).await?;
    for build in &calendar.season.builds {
        shop.assemble(build).await?;
        for work in calendar.work_in(build) {
            shop.work(work).await?;
        }
        shop.tear_down(build).await?;
    }
    Ok(())
}

/// The shop's units with the parts that they have.
pub(in crate::commands) struct Workshop<'a> {
    calendar: &'a Calendar,
    parts: &'a [Part],
    session: &'a Session,
    /// How many of a type a unit has had, by unit and type.
    numbers: BTreeMap<(String, String), usize>,
}

impl<'a> Workshop<'a> {
    /// Makes the units, empty.
    pub(in crate::commands) async fn open(
        calendar: &'a Calendar,
        parts: &'a [Part],
        session: &'a Session,
    ) -> Result<Self, CliError> {
        for unit in &calendar.season.units {
            create_unit(unit, session).await?;
        }
        Ok(Self {
            calendar,
            parts,
            session,
            numbers: BTreeMap::new(),
        })
    }

    /// Opens a build: what is new in it is made, the rest moves on from the build before.
    pub(in crate::commands) async fn assemble(
        &mut self,
        build: &DemoBuild,
    ) -> Result<(), CliError> {
        let Some(assembly_s) = self.calendar.assembly_s(build) else {
            return Ok(());
        };
        let parent = format!("units/{}", build.unit);
        let request = CreateBuildRequest {
            parent,
            build_id: build.id.clone(),
            build: Some(Build {
                assembly_time: Some(at(assembly_s)),
                ..Default::default()
            }),
            ..Default::default()
        };
        self.session.api.builds().create_build(request).await?;
        let kind = self
            .unit(&build.unit)
            .map_or_else(Kind::default, |unit| unit.kind);
        let parts = self.parts;
        for part in parts.iter().filter(|part| part.kind == kind) {
            let first = self.number(&build.unit, part) == 0;
            let new = first || build.replaced.contains(&part.component_type);
            self.fit(part, &build.unit, &name_of(build), assembly_s, new)
                .await?;
        }
        Ok(())
    }

    /// Does what was done at a unit while its build went on.
    pub(in crate::commands) async fn work(&mut self, work: &Work) -> Result<(), CliError> {
        let build = self.calendar.build_at(&work.unit, &work.event);
        let Some((time_s, build)) = self.calendar.season.work_unix_s(work).zip(build) else {
            return Ok(());
        };
        let parts = self.parts;
        for replaced in &work.replaced {
            let Some(part) = parts.iter().find(|part| part.component_type == *replaced) else {
                continue;
            };
            self.fit(part, &work.unit, &name_of(build), time_s, true)
                .await?;
        }
        for done in &work.operations {
            let Some(part) = parts.iter().find(|part| part.component_type == done.part) else {
                continue;
            };
            let id = part.id(&work.unit, self.number(&work.unit, part));
            let request = RecordReworkRequest {
                component: format!("components/{id}"),
                operation: done.operation.clone(),
                rework_time: Some(at(time_s)),
                note: format!("after {}", work.event),
                ..Default::default()
            };
            self.session.api.components().record_rework(request).await?;
        }
        Ok(())
    }

    /// Closes a build that is torn down before the end.
    pub(in crate::commands) async fn tear_down(&self, build: &DemoBuild) -> Result<(), CliError> {
        let Some(teardown_s) = self.calendar.teardown_s(build) else {
            return Ok(());
        };
        let request = CloseBuildRequest {
            name: name_of(build),
            teardown_time: Some(at(teardown_s)),
            ..Default::default()
        };
        self.session.api.builds().close_build(request).await?;
        Ok(())
    }

    /// Puts a unit's part of a type into a build, a new one or the one that it has.
    async fn fit(
        &mut self,
        part: &Part,
        unit: &str,
        build: &str,
        time_s: i64,
        new: bool,
    ) -> Result<(), CliError> {
        let before = self.number(unit, part);
        if new && before > 0 {
            self.retire(&part.id(unit, before), time_s).await?;
        }
        let number = before + usize::from(new);
        let id = part.id(unit, number);
        if new {
            let treated = self.unit(unit).is_some_and(|unit| unit.treated);
            let mut component = part.component(treated, &id)?;
            if !component.batch.is_empty() {
                // The first sets of all units came in one delivery, their replacements in the next.
                component.batch = format!("{}-{number}", component.batch);
            }
            let component = Component {
                treatments: self.calendar.treatments(unit, &part.component_type),
                opening_condition: self.calendar.opening(unit, &part.component_type, number),
                ..component
            };
            create(component, &id, self.session).await?;
            self.numbers
                .insert((unit.to_owned(), part.component_type.clone()), number);
        }
        install(&id, build, time_s, self.session).await
    }

    /// Ends the life of a part, which takes it out of its build.
    async fn retire(&self, id: &str, time_s: i64) -> Result<(), CliError> {
        let ending = self
            .calendar
            .season
            .endings
            .iter()
            .find(|one| one.part == id);
        let cause = match ending {
            Some(ending) if ending.failed => EndCause::Failed,
            Some(_) => EndCause::ReachedLimit,
            None => EndCause::ReplacedBefore,
        };
        let request = RetireComponentRequest {
            component: format!("components/{id}"),
            retire_time: Some(at(time_s)),
            cause: cause.into(),
            mechanism: ending.map_or_else(String::new, |one| one.mechanism.clone()),
            note: ending.map_or_else(String::new, |one| one.note.clone()),
            retired_by: "engine builder".into(),
            ..Default::default()
        };
        self.session
            .api
            .evidence()
            .retire_component(request)
            .await?;
        Ok(())
    }

    fn number(&self, unit: &str, part: &Part) -> usize {
        let key = (unit.to_owned(), part.component_type.clone());
        self.numbers.get(&key).copied().unwrap_or(0)
    }

    fn unit(&self, id: &str) -> Option<&DemoUnit> {
        self.calendar.season.units.iter().find(|unit| unit.id == id)
    }
}

fn name_of(build: &DemoBuild) -> String {
    format!("units/{}/builds/{}", build.unit, build.id)
}

/// A time from seconds since 1970.
pub(in crate::commands) fn at(seconds: i64) -> Timestamp {
    Timestamp { seconds, nanos: 0 }
}

async fn create_unit(unit: &DemoUnit, session: &Session) -> Result<(), CliError> {
    let thresholds = ShockThresholds {
        over_rev_engine_speed_rad_s: Some(unit.over_rev_rpm * RAD_S_PER_RPM),
        oil_overheat_temp_k: Some(unit.oil_overheat_c + ICE_POINT_K),
        ..Default::default()
    };
    let kind = match unit.kind {
        Kind::Engine => UnitKind::Engine,
        Kind::Driveline => UnitKind::Driveline,
    };
    let created = Unit {
        display_name: unit.name.clone(),
        kind: kind.into(),
        shock_thresholds: Some(thresholds),
        ..Default::default()
    };
    let request = CreateUnitRequest {
        unit_id: unit.id.clone(),
        unit: Some(created),
        ..Default::default()
    };
    session.api.units().create_unit(request).await?;
    Ok(())
}

async fn create(component: Component, id: &str, session: &Session) -> Result<(), CliError> {
    let request = CreateComponentRequest {
        component_id: id.to_owned(),
        component: Some(component),
        ..Default::default()
    };
    session.api.components().create_component(request).await?;
    Ok(())
}

async fn install(id: &str, build: &str, at_s: i64, session: &Session) -> Result<(), CliError> {
    let request = InstallComponentRequest {
        component: format!("components/{id}"),
        build: build.to_owned(),
        install_time: Some(at(at_s)),
        ..Default::default()
    };
    session.api.components().install_component(request).await?;
    Ok(())
}

/// Defines an event of each kind of unit as the average of what the typical one has done, for every unit of the kind.
pub(in crate::commands) async fn plan_events(
    records: &[Recorded],
    calendar: &Calendar,
    session: &Session,
) -> Result<(), CliError> {
    for (kind, typical, id) in TYPICAL {
        let profile = plan_event(records, typical, id, session).await?;
        let units = calendar.season.units.iter();
        for unit in units.filter(|unit| unit.kind == kind) {
            let unit = Unit {
                name: format!("units/{}", unit.id),
                event_profile: profile.name.clone(),
                ..Default::default()
            };
            let update_mask = Some(FieldMask {
                paths: vec!["event_profile".into()],
            });
            let request = UpdateUnitRequest {
                unit: Some(unit),
                update_mask,
            };
            session.api.units().update_unit(request).await?;
        }
    }
    Ok(())
}

async fn plan_event(
    records: &[Recorded],
    typical: &str,
    id: &str,
    session: &Session,
) -> Result<Profile, CliError> {
    let typical = records
        .iter()
        .filter(|recorded| recorded.is_of_car() && recorded.log.plan.unit == typical);
    let (mut names, mut events) = (Vec::new(), 0.0);
    for recorded in typical {
        names.push(recorded.record.name.clone());
        events += recorded.log.plan.events;
    }
    let profile = Profile {
        display_name: "average event of the season so far".into(),
        duty_records: names,
        events,
        ..Default::default()
    };
    let request = CreateProfileRequest {
        profile_id: id.into(),
        profile: Some(profile),
        ..Default::default()
    };
    let created = session.api.duty().create_profile(request).await?;
    Ok(created.into_inner())
}

/// Predicts every part that is in a unit now, in the order of the units.
pub(super) async fn predict(
    calendar: &Calendar,
    session: &Session,
) -> Result<Vec<Prediction>, CliError> {
    let mut predictions = Vec::new();
    for unit in &calendar.season.units {
        let request = ListComponentsRequest {
            installed_in: format!("units/{}", unit.id),
            page_size: 1000,
            ..Default::default()
        };
        let installed = session
            .api
            .components()
            .list_components(request)
            .await?
            .into_inner();
        for component in installed.components {
            let request = PredictRequest {
                component: component.name,
                ..Default::default()
            };
            predictions.push(
                session
                    .api
                    .predictions()
                    .predict(request)
                    .await?
                    .into_inner(),
            );
        }
    }
    Ok(predictions)
}

//! The shop's units, builds and parts, its plan for the events to come, its predictions.

use super::{calendar::Calendar, logs::Recorded, parts::Part};
use crate::{
    CliError,
    commands::Session,
    demo::{Unit as DemoUnit, UnitKind as Kind},
};
use prost_types::{FieldMask, Timestamp};
use ringland_proto::v1::{
    Build, CloseBuildRequest, Component, CreateBuildRequest, CreateComponentRequest,
    CreateProfileRequest, CreateUnitRequest, InstallComponentRequest, ListComponentsRequest,
    PredictRequest, Prediction, Profile, ShockThresholds, Unit, UnitKind, UpdateUnitRequest,
};
use std::collections::BTreeMap;

/// For each kind of unit, the one whose events the shop plans by, and the profile of an event.
const TYPICAL: [(Kind, &str, &str); 2] = [
    (Kind::Engine, "engine-a", PROFILE),
    (Kind::Driveline, "driveline-a", "race-meeting-driveline"),
];
/// The profile of an engine's event.
pub(super) const PROFILE: &str = "race-meeting";
const RAD_S_PER_RPM: f64 = std::f64::consts::TAU / 60.0;
const ICE_POINT_K: f64 = 273.15;

/// Makes every unit, every build with its parts, and closes what is torn down before the end.
pub(super) async fn open(
    calendar: &Calendar,
    parts: &[Part],
    session: &Session,
) -> Result<(), CliError> {
    for unit in &calendar.season.units {
        create_unit(unit, session).await?;
    }
    // Which of its kind a unit has now.
    let mut numbers: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for build in &calendar.season.builds {
        let Some(assembly_s) = calendar.assembly_s(build) else {
            continue;
        };
        let parent = format!("units/{}", build.unit);
        let name = format!("{parent}/builds/{}", build.id);
        let request = CreateBuildRequest {
            parent,
            build_id: build.id.clone(),
            build: Some(Build {
                assembly_time: Some(at(assembly_s)),
                ..Default::default()
            }),
            ..Default::default()
        };
        session.api.builds().create_build(request).await?;
        let unit = calendar
            .season
            .units
            .iter()
            .find(|unit| unit.id == build.unit);
        let (kind, treated) = unit.map_or_else(Default::default, |unit| (unit.kind, unit.treated));
        for part in parts.iter().filter(|part| part.kind == kind) {
            let number = numbers
                .entry((&build.unit, &part.component_type))
                .or_insert(0);
            let new = *number == 0 || build.replaced.contains(&part.component_type);
            *number += usize::from(new);
            let id = part.id(&build.unit, *number);
            if new {
                create(part.component(treated, &id)?, &id, session).await?;
            }
            install(&id, &name, assembly_s, session).await?;
        }
        if let Some(teardown_s) = calendar.teardown_s(build) {
            let request = CloseBuildRequest {
                name,
                teardown_time: Some(at(teardown_s)),
                ..Default::default()
            };
            session.api.builds().close_build(request).await?;
        }
    }
    Ok(())
}

/// A time from seconds since 1970.
pub(super) fn at(seconds: i64) -> Timestamp {
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
pub(super) async fn plan_events(
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

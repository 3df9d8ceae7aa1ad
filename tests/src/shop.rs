//! A small shop: one engine, one build, one ring pack, one event profile.

use crate::{Clients, Log, lap_csv, lap_map};
use prost_types::Timestamp;
use ringland_proto::v1::{
    Build, Component, CreateBuildRequest, CreateComponentRequest, CreateProfileRequest,
    CreateUnitRequest, DutyHeader, DutyTable, InstallComponentRequest, PredictRequest, Prediction,
    Profile, RecordDutyRequest, RecordDutyResponse, Unit, UnitKind, record_duty_request::Payload,
};
use tonic::Status;

/// Seconds after the shop's first day, 2026-03-01 00:00 UTC.
pub fn at(seconds: i64) -> Timestamp {
    Timestamp {
        seconds: 1_772_323_200 + seconds,
        nanos: 0,
    }
}

/// Names of what [`Shop::open`] makes.
pub struct Shop {
    /// The engine.
    pub unit: String,
    /// Its build, from day 0.
    pub build: String,
    /// Its ring pack, card defaults.
    pub component: String,
    /// One event: twenty laps.
    pub profile: String,
}

/// Names of what [`open_driveline`] makes.
pub struct Driveline {
    /// The driveline.
    pub unit: String,
    /// Its build, from day 0.
    pub build: String,
    /// One event: two drives of the road car.
    pub profile: String,
}

/// A driveline with a build and an event.
///
/// # Errors
/// What the server refuses.
pub async fn open_driveline(clients: &mut Clients, suffix: &str) -> Result<Driveline, Status> {
    let unit = Unit {
        display_name: format!("Driveline {suffix}"),
        kind: UnitKind::Driveline.into(),
        ..Default::default()
    };
    let (unit, build) = open_unit(clients, &format!("driveline-{suffix}"), unit).await?;
    let request_id = format!("first-drive-{suffix}");
    let record = record_log(clients, &unit, &request_id, at(3600), Log::drive(2)).await?;
    let id = format!("drive-{suffix}");
    let profile = profile(clients, id, record, 1.0).await?;
    Ok(Driveline {
        unit,
        build,
        profile,
    })
}

impl Driveline {
    /// See [`install`].
    pub async fn install(&self, clients: &mut Clients, id: &str, component_type: &str) -> String {
        install(clients, &self.build, id, component_type).await
    }
}

/// A component with the card's defaults, in a build from its start. Returns its name.
///
/// # Panics
/// When the server refuses it.
pub async fn install(
    clients: &mut Clients,
    build: &str,
    component_id: &str,
    component_type: &str,
) -> String {
    let request = CreateComponentRequest {
        component_id: component_id.into(),
        component: Some(Component {
            component_type: component_type.into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    let created = clients.components.create_component(request).await;
    let name = created.expect(component_type).into_inner().name;
    let request = InstallComponentRequest {
        component: name.clone(),
        build: build.into(),
        position: "beside".into(),
        install_time: Some(at(0)),
        ..Default::default()
    };
    let installed = clients.components.install_component(request).await;
    installed.expect(component_type);
    name
}

/// A unit and its build from day 0.
async fn open_unit(
    clients: &mut Clients,
    id: &str,
    unit: Unit,
) -> Result<(String, String), Status> {
    let request = CreateUnitRequest {
        unit_id: id.into(),
        unit: Some(unit),
        ..Default::default()
    };
    let unit = clients.units.create_unit(request).await?.into_inner().name;
    let request = CreateBuildRequest {
        parent: unit.clone(),
        build_id: "b1".into(),
        build: Some(Build {
            assembly_time: Some(at(0)),
            ..Default::default()
        }),
        ..Default::default()
    };
    let build = clients.builds.create_build(request).await?;
    Ok((unit, build.into_inner().name))
}

/// An event that is so much of a record.
async fn profile(
    clients: &mut Clients,
    profile_id: String,
    recorded: RecordDutyResponse,
    events: f64,
) -> Result<String, Status> {
    let request = CreateProfileRequest {
        profile_id,
        profile: Some(Profile {
            duty_records: vec![recorded.duty_record.unwrap_or_default().name],
            events,
            ..Default::default()
        }),
        ..Default::default()
    };
    Ok(clients
        .duty
        .create_profile(request)
        .await?
        .into_inner()
        .name)
}

impl Shop {
    /// Makes the shop; `suffix` tells several in one ledger apart.
    ///
    /// # Errors
    /// What the server refuses.
    pub async fn open(clients: &mut Clients, suffix: &str) -> Result<Self, Status> {
        let unit = Unit {
            display_name: format!("Engine {suffix}"),
            kind: UnitKind::Engine.into(),
            ..Default::default()
        };
        let (unit, build) = open_unit(clients, &format!("engine-{suffix}"), unit).await?;
        let component = Component {
            component_type: "ring_pack".into(),
            serial: format!("RP-{suffix}"),
            ..Default::default()
        };
        let request = CreateComponentRequest {
            component_id: format!("rings-{suffix}"),
            component: Some(component),
            ..Default::default()
        };
        let component = clients
            .components
            .create_component(request)
            .await?
            .into_inner()
            .name;
        let request = InstallComponentRequest {
            component: component.clone(),
            build: build.clone(),
            install_time: Some(at(0)),
            ..Default::default()
        };
        clients.components.install_component(request).await?;
        let request_id = format!("first-{suffix}");
        let record = record_csv(clients, &unit, &request_id, at(3600), &lap_csv(800)).await?;
        let profile = profile(clients, format!("event-{suffix}"), record, 0.1).await?;
        Ok(Self {
            unit,
            build,
            component,
            profile,
        })
    }

    /// Predicts the ring pack over the shop's event.
    ///
    /// # Errors
    /// What the server refuses.
    pub async fn predict(&self, clients: &mut Clients) -> Result<Prediction, Status> {
        let request = PredictRequest {
            component: self.component.clone(),
            profile: self.profile.clone(),
            ..Default::default()
        };
        Ok(clients.predictions.predict(request).await?.into_inner())
    }
}

/// Records a lap log.
///
/// # Errors
/// What the server refuses.
pub async fn record_csv(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    csv: &str,
) -> Result<RecordDutyResponse, Status> {
    let log = Log {
        csv: csv.into(),
        map: lap_map(),
    };
    record_log(clients, unit, request_id, start_time, log).await
}

/// Records a log in pieces of 1000 bytes.
///
/// # Errors
/// What the server refuses.
pub async fn record_log(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    log: Log,
) -> Result<RecordDutyResponse, Status> {
    let header = DutyHeader {
        unit: unit.into(),
        request_id: request_id.into(),
        start_time: Some(start_time),
        session: "race".into(),
        source: "lap.csv".into(),
        channel_map: Some(log.map),
        ..Default::default()
    };
    let mut messages = vec![Payload::Header(header)];
    messages.extend(
        log.csv
            .as_bytes()
            .chunks(1000)
            .map(|piece| Payload::Csv(piece.to_vec())),
    );
    let stream = messages
        .into_iter()
        .map(|p| RecordDutyRequest { payload: Some(p) });
    Ok(clients
        .duty
        .record_duty(tokio_stream::iter(stream.collect::<Vec<_>>()))
        .await?
        .into_inner())
}

/// Records duty that is reduced already.
///
/// # Errors
/// What the server refuses.
pub async fn record_table(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    table: DutyTable,
) -> Result<RecordDutyResponse, Status> {
    let header = DutyHeader {
        unit: unit.into(),
        request_id: request_id.into(),
        start_time: Some(start_time),
        ..Default::default()
    };
    let messages =
        [Payload::Header(header), Payload::Reduced(table)].map(|payload| RecordDutyRequest {
            payload: Some(payload),
        });
    Ok(clients
        .duty
        .record_duty(tokio_stream::iter(messages))
        .await?
        .into_inner())
}

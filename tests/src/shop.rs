//! A small shop: one engine, one build, one ring pack, one event profile.

use crate::{Clients, lap_csv, lap_map};
use prost_types::Timestamp;
use ringland_proto::v1::{
    Build, Component, CreateBuildRequest, CreateComponentRequest, CreateProfileRequest,
    CreateUnitRequest, DutyHeader, InstallComponentRequest, PredictRequest, Prediction, Profile,
    RecordDutyRequest, RecordDutyResponse, Unit, UnitKind, record_duty_request::Payload,
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
        let request = CreateUnitRequest {
            unit_id: format!("engine-{suffix}"),
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
        let build = clients
            .builds
            .create_build(request)
            .await?
            .into_inner()
            .name;
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
        let record = record.duty_record.unwrap_or_default().name;
        let request = CreateProfileRequest {
            profile_id: format!("event-{suffix}"),
            profile: Some(Profile {
                duty_records: vec![record],
                events: 0.1,
                ..Default::default()
            }),
            ..Default::default()
        };
        let profile = clients
            .duty
            .create_profile(request)
            .await?
            .into_inner()
            .name;
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

/// Records a lap log in pieces of 1000 bytes.
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
    let header = DutyHeader {
        unit: unit.into(),
        request_id: request_id.into(),
        start_time: Some(start_time),
        session: "race".into(),
        source: "lap.csv".into(),
        channel_map: Some(lap_map()),
        ..Default::default()
    };
    let mut messages = vec![Payload::Header(header)];
    messages.extend(
        csv.as_bytes()
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

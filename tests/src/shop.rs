//! A small shop: one engine, one build, one ring pack, one event profile.

use crate::{
    Clients, Log, Server, enter, install, lap_csv, plugin, put_in, record_csv, record_log,
};
use prost_types::Timestamp;
use ringland_proto::v1::{
    Build, Component, CreateBuildRequest, CreateProfileRequest, CreateUnitRequest, PredictRequest,
    Prediction, Profile, RecordDutyResponse, Unit, UnitKind, UpdateUnitRequest,
};
use std::path::{Path, PathBuf};
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
        let component = enter(clients, &format!("rings-{suffix}"), component).await?;
        put_in(clients, &build, &component, at(0)).await?;
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

    /// Gives the engine the shop's event.
    ///
    /// # Errors
    /// What the server refuses.
    pub async fn set_event(&self, clients: &mut Clients) -> Result<(), Status> {
        let unit = Unit {
            name: self.unit.clone(),
            event_profile: self.profile.clone(),
            ..Default::default()
        };
        let paths = vec!["event_profile".into()];
        let update = UpdateUnitRequest {
            unit: Some(unit),
            update_mask: Some(prost_types::FieldMask { paths }),
        };
        clients.units.update_unit(update).await?;
        Ok(())
    }

    /// Predicts the ring pack over the shop's event.
    ///
    /// # Errors
    /// What the server refuses.
    pub async fn predict(&self, clients: &mut Clients) -> Result<Prediction, Status> {
        self.predict_part(clients, &self.component).await
    }

    /// Predicts a component over the shop's event.
    ///
    /// # Errors
    /// What the server refuses.
    pub async fn predict_part(
        &self,
        clients: &mut Clients,
        component: &str,
    ) -> Result<Prediction, Status> {
        let request = PredictRequest {
            component: component.into(),
            profile: self.profile.clone(),
            ..Default::default()
        };
        Ok(clients.predictions.predict(request).await?.into_inner())
    }
}

/// A server with the models of these types, rings among them, and the shop `a`.
///
/// # Panics
/// When there is no such plugin or the server refuses the shop.
pub async fn open_shop(component_types: &[&str]) -> (Server, Clients, Shop) {
    let of_type = |kind: &&str| plugin(&format!("ringland-plugin-{}", kind.replace('_', "-")));
    let plugins: Vec<PathBuf> = component_types.iter().map(of_type).collect();
    let paths: Vec<&Path> = plugins.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    (server, clients, shop)
}

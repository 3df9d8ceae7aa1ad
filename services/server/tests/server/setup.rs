//! A real server on a free port, its clients, and the first rows of a ledger.

use crate::fake::{FakeModels, plugin};
use ringland_proto::v1 as api;
use ringland_server::{Running, Settings, serve_with};
use ringland_store::MemoryStore;
use std::sync::Arc;
use tempfile::TempDir;
use tokio::sync::oneshot;
use tonic::{Status, transport::Channel};
use tonic_types::{ErrorDetails, StatusExt};

pub struct Served {
    pub running: Running,
    pub channel: Channel,
    stop: Option<oneshot::Sender<()>>,
    _folder: TempDir,
}

/// Settings for a test: a free port, folders of its own.
pub fn settings(folder: &TempDir) -> Settings {
    let mut settings = Settings {
        listen: ([127, 0, 0, 1], 0).into(),
        data_dir: folder.path().join("data"),
        cache_dir: folder.path().join("cache"),
        ..Settings::default()
    };
    settings.limits.drain_s = 5;
    settings
}

pub async fn serve_as(change: impl FnOnce(&mut Settings)) -> Served {
    let folder = tempfile::tempdir().unwrap();
    let mut settings = settings(&folder);
    change(&mut settings);
    let (stop, stopped) = oneshot::channel::<()>();
    let running = serve_with(
        settings,
        Arc::new(MemoryStore::default()),
        Arc::new(FakeModels::default()),
        async move { drop(stopped.await) },
    )
    .await
    .unwrap();
    let address = format!("http://{}", running.address());
    let channel = Channel::from_shared(address)
        .unwrap()
        .connect()
        .await
        .unwrap();
    Served {
        running,
        channel,
        stop: Some(stop),
        _folder: folder,
    }
}

pub async fn serve() -> Served {
    serve_as(|_| {}).await
}

impl Served {
    /// Tells the server to stop; it goes on draining.
    pub fn stop(&mut self) {
        drop(self.stop.take());
    }

    /// Installs a version of the fake model and makes it active.
    pub async fn activate(&self, version: &str) -> api::Model {
        let pieces: Vec<_> = plugin(version)
            .chunks(5)
            .map(|chunk| api::InstallModelRequest {
                chunk: chunk.to_vec(),
            })
            .collect();
        let model = self
            .models()
            .install_model(tokio_stream::iter(pieces))
            .await
            .unwrap()
            .into_inner();
        let activate = api::ActivateModelRequest {
            name: model.name,
            request_id: String::new(),
        };
        self.models()
            .activate_model(activate)
            .await
            .unwrap()
            .into_inner()
    }

    /// An engine with an open build from hour 0, a profile for its events, an active model, and a plate
    /// installed from hour 0.
    pub async fn with_plate(&self) {
        self.activate("1.0.0").await;
        let profile = api::CreateProfileRequest {
            profile_id: "race".into(),
            profile: Some(api::Profile {
                duty: Some(reduced(3600.0)),
                ..Default::default()
            }),
            request_id: String::new(),
        };
        self.duty().create_profile(profile).await.unwrap();
        self.units().create_unit(unit("engine-a")).await.unwrap();
        self.builds()
            .create_build(build("units/engine-a", "b1"))
            .await
            .unwrap();
        self.components()
            .create_component(plate("plate-1", 3e-3))
            .await
            .unwrap();
        self.components()
            .install_component(install("plate-1", 0))
            .await
            .unwrap();
    }
}

/// Hours from the start of the test's world: 2026-01-01 UTC.
pub fn hour(hour: i64) -> prost_types::Timestamp {
    prost_types::Timestamp {
        seconds: 1_767_225_600 + 3600 * hour,
        nanos: 0,
    }
}

pub fn unit(id: &str) -> api::CreateUnitRequest {
    let unit = api::Unit {
        display_name: "Engine A".into(),
        kind: api::UnitKind::Engine.into(),
        event_profile: "profiles/race".into(),
        ..Default::default()
    };
    api::CreateUnitRequest {
        unit_id: id.into(),
        unit: Some(unit),
        request_id: String::new(),
    }
}

pub fn build(parent: &str, id: &str) -> api::CreateBuildRequest {
    let build = api::Build {
        assembly_time: Some(hour(0)),
        ..Default::default()
    };
    api::CreateBuildRequest {
        parent: parent.into(),
        build_id: id.into(),
        build: Some(build),
        request_id: String::new(),
    }
}

pub fn plate(id: &str, thickness_m: f64) -> api::CreateComponentRequest {
    let component = api::Component {
        component_type: "test_plate".into(),
        serial: "P1".into(),
        spec: Some(api::Spec {
            numbers: [("thickness_m".to_owned(), thickness_m)].into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    api::CreateComponentRequest {
        component_id: id.into(),
        component: Some(component),
        request_id: String::new(),
    }
}

pub fn install(id: &str, at_hour: i64) -> api::InstallComponentRequest {
    api::InstallComponentRequest {
        component: format!("components/{id}"),
        build: "units/engine-a/builds/b1".into(),
        position: "cylinder 1".into(),
        install_time: Some(hour(at_hour)),
        request_id: String::new(),
    }
}

/// Duty at one operating point.
pub fn reduced(duration_s: f64) -> api::DutyTable {
    api::DutyTable {
        duration_s,
        channels: vec!["engine_speed_rad_s".into()],
        time_s: vec![duration_s],
        points: vec![api::Column {
            values: vec![500.0],
        }],
        ..Default::default()
    }
}

pub fn header(request_id: &str, at_hour: i64) -> api::DutyHeader {
    api::DutyHeader {
        unit: "units/engine-a".into(),
        request_id: request_id.into(),
        start_time: Some(hour(at_hour)),
        session: "race".into(),
        source: "dyno cell 1".into(),
        ..Default::default()
    }
}

use api::record_duty_request::Payload;

/// A stream of a log's messages.
pub fn log(
    payloads: Vec<Payload>,
) -> impl tokio_stream::Stream<Item = api::RecordDutyRequest> + Send + 'static {
    let message = |payload| api::RecordDutyRequest {
        payload: Some(payload),
    };
    tokio_stream::iter(payloads.into_iter().map(message).collect::<Vec<_>>())
}

/// One hour of use, already reduced.
pub fn one_hour(request_id: &str, at_hour: i64) -> Vec<Payload> {
    vec![
        Payload::Header(header(request_id, at_hour)),
        Payload::Reduced(reduced(3600.0)),
    ]
}

/// The stable reason of a refusal.
pub fn reason(status: &Status) -> String {
    let details: ErrorDetails = status.get_error_details();
    let info = details
        .error_info()
        .unwrap_or_else(|| panic!("no reason in {status:?}"));
    assert_eq!(info.domain, "ringland");
    info.reason.clone()
}

/// The fields that a refusal names.
pub fn fields(status: &Status) -> Vec<String> {
    let details = status.get_error_details();
    let violations = details
        .bad_request()
        .map(|bad| bad.field_violations.clone());
    violations
        .unwrap_or_default()
        .into_iter()
        .map(|violation| violation.field)
        .collect()
}

//! Every call once, in the order in which a shop would make them.

use crate::setup::{Served, hour, install, log, one_hour, plate, serve, unit};
use ringland_proto::v1::{self as api, batch_predict_result::Result as Answer};
use tokio_stream::StreamExt;

const UNIT: &str = "units/engine-a";
const BUILD: &str = "units/engine-a/builds/b1";
const PLATE: &str = "components/plate-1";

fn mask(path: &str) -> prost_types::FieldMask {
    prost_types::FieldMask {
        paths: vec![path.into()],
    }
}

#[tokio::test]
async fn units() {
    let server = serve().await;
    server.activate("1.0.0").await;
    let mut request = unit("engine-a");
    request.unit.as_mut().unwrap().event_profile.clear();
    let created = server
        .units()
        .create_unit(request)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(created.name, UNIT);
    let get = api::GetUnitRequest { name: UNIT.into() };
    assert_eq!(
        server.units().get_unit(get).await.unwrap().into_inner(),
        created
    );
    let renamed = api::Unit {
        display_name: "Old faithful".into(),
        ..created.clone()
    };
    let update = api::UpdateUnitRequest {
        unit: Some(renamed),
        update_mask: Some(mask("display_name")),
    };
    let updated = server
        .units()
        .update_unit(update)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(updated.display_name, "Old faithful");
    assert_ne!(updated.etag, created.etag);
    let listed = server
        .units()
        .list_units(api::ListUnitsRequest::default())
        .await
        .unwrap();
    assert_eq!(listed.into_inner().units, [updated]);
}

#[tokio::test]
async fn builds() {
    let server = serve().await;
    server.with_plate().await;
    let get = api::GetBuildRequest { name: BUILD.into() };
    let build = server.builds().get_build(get).await.unwrap().into_inner();
    assert_eq!(build.assembly_time, Some(hour(0)));
    let line = api::BuildSheetLine {
        item: "end_gap_top_cylinder_1".into(),
        value: 4.1e-4,
        unit: "m".into(),
        ..Default::default()
    };
    let changed = api::Build {
        build_sheet: vec![line.clone()],
        ..build
    };
    let update = api::UpdateBuildRequest {
        build: Some(changed),
        update_mask: Some(mask("build_sheet")),
    };
    let updated = server
        .builds()
        .update_build(update)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(updated.build_sheet, [line]);
    let all = api::ListBuildsRequest {
        parent: "units/-".into(),
        ..Default::default()
    };
    assert_eq!(
        server
            .builds()
            .list_builds(all)
            .await
            .unwrap()
            .into_inner()
            .builds,
        [updated]
    );
    let close = api::CloseBuildRequest {
        name: BUILD.into(),
        teardown_time: Some(hour(9)),
        request_id: String::new(),
    };
    let closed = server
        .builds()
        .close_build(close)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(closed.teardown_time, Some(hour(9)));
    let list = api::ListInstallationsRequest {
        parent: PLATE.into(),
        ..Default::default()
    };
    let installations = server
        .components()
        .list_installations(list)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(
        installations.installations[0].remove_time,
        Some(hour(9)),
        "taken out with it"
    );
}

#[tokio::test]
async fn components() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.components();
    let get = api::GetComponentRequest { name: PLATE.into() };
    let component = client.get_component(get).await.unwrap().into_inner();
    assert_eq!(component.installed_build, BUILD);
    let check = api::CheckComponentRequest {
        component: plate("x", 9e-1).component,
    };
    let findings = client
        .check_component(check)
        .await
        .unwrap()
        .into_inner()
        .findings;
    assert!(
        findings.iter().any(|f| f.field.contains("thickness_m")),
        "{findings:?}"
    );
    let here = api::ListComponentsRequest {
        installed_in: UNIT.into(),
        ..Default::default()
    };
    assert_eq!(
        client
            .list_components(here)
            .await
            .unwrap()
            .into_inner()
            .components
            .len(),
        1
    );
    let ground = api::Component {
        spec: plate("x", 4e-3).component.unwrap().spec,
        ..component
    };
    let update = api::UpdateComponentRequest {
        component: Some(ground),
        update_mask: Some(mask("spec")),
        effective_time: Some(hour(5)),
        reason: "reground".into(),
    };
    let updated = client.update_component(update).await.unwrap().into_inner();
    assert_eq!(updated.spec.unwrap().numbers["thickness_m"], 4e-3);
    let revisions = api::ListRevisionsRequest {
        parent: PLATE.into(),
        ..Default::default()
    };
    let revisions = client
        .list_revisions(revisions)
        .await
        .unwrap()
        .into_inner()
        .revisions;
    assert_eq!(revisions.len(), 2);
    assert_eq!(revisions[1].reason, "reground");
    let rework = api::RecordReworkRequest {
        component: PLATE.into(),
        operation: "replace_plates".into(),
        rework_time: Some(hour(6)),
        note: "new set".into(),
        request_id: String::new(),
    };
    let rework = client.record_rework(rework).await.unwrap().into_inner();
    let reworks = api::ListReworksRequest {
        parent: PLATE.into(),
        ..Default::default()
    };
    assert_eq!(
        client
            .list_reworks(reworks)
            .await
            .unwrap()
            .into_inner()
            .reworks,
        [rework]
    );
}

#[tokio::test]
async fn installations() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.components();
    let elsewhere = crate::setup::build("units/engine-b", "b1");
    server.units().create_unit(unit("engine-b")).await.unwrap();
    server.builds().create_build(elsewhere).await.unwrap();
    let change = api::MoveComponentRequest {
        component: PLATE.into(),
        build: "units/engine-b/builds/b1".into(),
        position: "cylinder 2".into(),
        move_time: Some(hour(3)),
        request_id: String::new(),
    };
    let moved = client.move_component(change).await.unwrap().into_inner();
    assert_eq!(moved.install_time, Some(hour(3)));
    let remove = api::RemoveComponentRequest {
        component: PLATE.into(),
        remove_time: Some(hour(4)),
        request_id: String::new(),
    };
    let removed = client.remove_component(remove).await.unwrap().into_inner();
    assert_eq!(removed.remove_time, Some(hour(4)));
    let list = api::ListInstallationsRequest {
        parent: "components/-".into(),
        ..Default::default()
    };
    let list = client
        .list_installations(list)
        .await
        .unwrap()
        .into_inner()
        .installations;
    assert_eq!(list.len(), 2);
    client
        .install_component(install("plate-1", 5))
        .await
        .unwrap();
}

#[tokio::test]
async fn duty_and_profiles() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.duty();
    let recorded = client
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap()
        .into_inner();
    let record = recorded.duty_record.unwrap();
    assert!(!recorded.replayed);
    assert_eq!((record.build.as_str(), record.duration_s), (BUILD, 3600.0));
    // 500 rad/s for an hour.
    let turns = 500.0 / std::f64::consts::TAU * 3600.0;
    assert!((record.crank_revolutions - turns).abs() < 1e-6 * turns);
    let again = client
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap()
        .into_inner();
    assert!(again.replayed);
    assert_eq!(again.duty_record.unwrap().name, record.name);
    let get = api::GetDutyRecordRequest {
        name: record.name.clone(),
    };
    let whole = client.get_duty_record(get).await.unwrap().into_inner();
    assert_eq!(whole.duty, Some(crate::setup::reduced(3600.0)));
    let list = api::ListDutyRecordsRequest {
        parent: UNIT.into(),
        ..Default::default()
    };
    let list = client
        .list_duty_records(list)
        .await
        .unwrap()
        .into_inner()
        .duty_records;
    assert_eq!(list.len(), 1);
    let profile = api::Profile {
        duty_records: vec![record.name],
        events: 2.0,
        ..Default::default()
    };
    let create = api::CreateProfileRequest {
        profile_id: "half".into(),
        profile: Some(profile),
        request_id: String::new(),
    };
    let created = client.create_profile(create).await.unwrap().into_inner();
    assert!(
        (created.duration_s - 1800.0).abs() < 1e-9,
        "one hour makes two events"
    );
    let get = api::GetProfileRequest {
        name: "profiles/half".into(),
    };
    assert_eq!(
        client
            .get_profile(get)
            .await
            .unwrap()
            .into_inner()
            .duration_s,
        created.duration_s
    );
    let list = client
        .list_profiles(api::ListProfilesRequest::default())
        .await
        .unwrap();
    assert_eq!(list.into_inner().profiles.len(), 2);
    let channels = client
        .list_channels(api::ListChannelsRequest {})
        .await
        .unwrap()
        .into_inner();
    let speed = channels
        .channels
        .iter()
        .find(|c| c.name == "engine_speed_rad_s")
        .unwrap();
    assert!(
        speed.accepted_units.iter().any(|unit| unit == "rpm"),
        "{speed:?}"
    );
    assert!(
        channels
            .shock_kinds
            .iter()
            .any(|shock| shock.kind == "over_rev")
    );
}

#[tokio::test]
async fn predictions() {
    let server = serve().await;
    server.with_plate().await;
    server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap();
    let mut client = server.predictions();
    let request = api::PredictRequest {
        component: PLATE.into(),
        ..Default::default()
    };
    let prediction = client.predict(request.clone()).await.unwrap().into_inner();
    // By hand: 1 mm at 1e-8 m/s is 27.8 h; one hour is used and each event is one.
    let left = 1e-3 / (1e-8 * 3600.0) - 1.0;
    let median = prediction.life.as_ref().unwrap().events.unwrap().p50;
    assert!((median - left).abs() < 1e-9 * left, "{median}");
    assert_eq!(prediction.unit, UNIT);
    assert_eq!(prediction.cautions, ["A test, not a life."]);
    let get = api::GetPredictionRequest {
        name: prediction.name.clone(),
    };
    assert_eq!(
        client.get_prediction(get).await.unwrap().into_inner(),
        prediction
    );
    let list = api::ListPredictionsRequest {
        parent: PLATE.into(),
        ..Default::default()
    };
    let list = client
        .list_predictions(list)
        .await
        .unwrap()
        .into_inner()
        .predictions;
    assert_eq!(list.len(), 1);
    let ghost = api::PredictRequest {
        component: "components/ghost".into(),
        ..Default::default()
    };
    let batch = api::BatchPredictRequest {
        requests: vec![request, ghost],
    };
    let results = client
        .batch_predict(batch)
        .await
        .unwrap()
        .into_inner()
        .results;
    assert!(matches!(&results[0].result, Some(Answer::Prediction(p)) if p.name == prediction.name));
    assert!(
        matches!(&results[1].result, Some(Answer::Error(s)) if s.code == 5),
        "NOT_FOUND alone"
    );
}

#[tokio::test]
async fn models_and_the_ledger() {
    let server = serve().await;
    server.with_plate().await;
    let second = server.activate("2.0.0").await;
    assert!(second.active);
    let mut models = server.models();
    let list = models
        .list_models(api::ListModelsRequest::default())
        .await
        .unwrap()
        .into_inner();
    let versions: Vec<_> = list
        .models
        .iter()
        .map(|model| (model.version.as_str(), model.active))
        .collect();
    assert_eq!(versions, [("1.0.0", false), ("2.0.0", true)]);
    let get = api::GetModelRequest {
        name: second.name.clone(),
    };
    let card = models
        .get_model(get)
        .await
        .unwrap()
        .into_inner()
        .card
        .unwrap();
    assert_eq!(card.mechanisms[0].rate_ln_sd, 0.3);
    assert_eq!(card.channels[0].name, "engine_speed_rad_s");

    let mut ledger = server.ledger();
    let status = ledger
        .get_ledger_status(api::GetLedgerStatusRequest {})
        .await
        .unwrap();
    let status = status.into_inner();
    assert_eq!((status.units, status.components), (1, 1));
    assert!(!status.server_version.is_empty());
    let steps = rebuild(&server).await;
    assert_eq!(steps.len(), 1);
    assert_eq!(
        (steps[0].component.as_str(), steps[0].done, steps[0].total),
        (PLATE, 1, 1)
    );
    assert_eq!(steps[0].error, "");
}

async fn rebuild(server: &Served) -> Vec<api::RebuildConditionsResponse> {
    let request = api::RebuildConditionsRequest::default();
    let stream = server
        .ledger()
        .rebuild_conditions(request)
        .await
        .unwrap()
        .into_inner();
    stream.map(Result::unwrap).collect().await
}

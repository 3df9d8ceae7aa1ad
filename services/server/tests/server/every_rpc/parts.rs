//! Units, builds, components and where they are.

use super::{BUILD, PLATE, UNIT, mask};
use crate::setup::{hour, install, plate, serve, unit};
use ringland_proto::v1 as api;

#[tokio::test]
pub(super) async fn units() {
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
pub(super) async fn builds() {
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
pub(super) async fn components() {
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
pub(super) async fn installations() {
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

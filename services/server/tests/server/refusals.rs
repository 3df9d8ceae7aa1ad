//! What is wrong is refused with a code, a stable reason and the field.

use crate::{
    fake::plugin,
    setup::{build, fields, hour, install, log, one_hour, plate, reason, reduced, serve, unit},
};
use ringland_proto::v1::{self as api, record_duty_request::Payload};
use tonic::Code;
use tonic_types::StatusExt;

#[tokio::test]
async fn a_unit_that_does_not_exist() {
    let server = serve().await;
    let get = api::GetUnitRequest {
        name: "units/ghost".into(),
    };
    let status = server.units().get_unit(get).await.unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::NotFound, "RESOURCE_NOT_FOUND")
    );
    let details = status.get_error_details();
    assert_eq!(
        details.resource_info().unwrap().resource_name,
        "units/ghost"
    );
    let status = server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::NotFound, "RESOURCE_NOT_FOUND")
    );
}

#[tokio::test]
async fn every_wrong_field_of_a_call_comes_at_once() {
    let server = serve().await;
    let request = api::InstallComponentRequest {
        component: "plate".into(),
        build: "units/engine-a".into(),
        install_time: None,
        ..Default::default()
    };
    let status = server
        .components()
        .install_component(request)
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::InvalidArgument, "FIELD_INVALID")
    );
    assert_eq!(fields(&status), ["component", "build", "install_time"]);
}

#[tokio::test]
async fn an_update_without_a_mask_or_with_an_old_etag() {
    let server = serve().await;
    server.with_plate().await;
    let mut changed = api::Unit {
        name: "units/engine-a".into(),
        display_name: "X".into(),
        etag: "of yesterday".into(),
        ..Default::default()
    };
    let update = api::UpdateUnitRequest {
        unit: Some(changed.clone()),
        update_mask: None,
    };
    let status = server.units().update_unit(update).await.unwrap_err();
    assert_eq!(fields(&status), ["update_mask"]);
    let update_mask = Some(prost_types::FieldMask {
        paths: vec!["display_name".into()],
    });
    let update = api::UpdateUnitRequest {
        unit: Some(changed.clone()),
        update_mask: update_mask.clone(),
    };
    let status = server.units().update_unit(update).await.unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::Aborted, "ETAG_MISMATCH")
    );
    changed.etag.clear();
    let update = api::UpdateUnitRequest {
        unit: Some(changed),
        update_mask,
    };
    server.units().update_unit(update).await.unwrap();
}

#[tokio::test]
async fn a_spec_out_of_range() {
    let server = serve().await;
    server.with_plate().await;
    let status = server
        .components()
        .create_component(plate("thin", 1e-6))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::InvalidArgument, "SPEC_REFUSED")
    );
    let named = fields(&status);
    assert!(
        named.iter().any(|field| field.contains("thickness_m")),
        "{named:?}"
    );
}

#[tokio::test]
async fn a_type_without_a_model() {
    let server = serve().await;
    let status = server
        .components()
        .create_component(plate("p", 3e-3))
        .await
        .unwrap_err();
    let expected = (Code::FailedPrecondition, "MODEL_NOT_ACTIVE");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    assert!(status.get_error_details().precondition_failure().is_some());
}

#[tokio::test]
async fn bytes_that_are_no_plugin_or_want_another_contract() {
    let server = serve().await;
    for bytes in [b"not a plugin".to_vec(), plugin("9.0.0")] {
        let pieces = vec![api::InstallModelRequest { chunk: bytes }];
        let status = server
            .models()
            .install_model(tokio_stream::iter(pieces))
            .await
            .unwrap_err();
        assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
        assert!(!reason(&status).is_empty());
    }
    let none = Vec::<api::InstallModelRequest>::new();
    let status = server
        .models()
        .install_model(tokio_stream::iter(none))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), fields(&status)),
        (Code::InvalidArgument, vec!["chunk".into()])
    );
    let large = vec![api::InstallModelRequest {
        chunk: vec![0; (1 << 20) + 1],
    }];
    let status = server
        .models()
        .install_model(tokio_stream::iter(large))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::ResourceExhausted, "TOO_LARGE")
    );
}

#[tokio::test]
async fn a_request_id_with_another_content() {
    let server = serve().await;
    server.with_plate().await;
    server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap();
    let mut other = one_hour("log-1", 1);
    other[1] = Payload::Reduced(reduced(1800.0));
    let status = server.duty().record_duty(log(other)).await.unwrap_err();
    let expected = (Code::AlreadyExists, "REQUEST_ID_REUSED");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    let status = server
        .duty()
        .record_duty(log(one_hour("log-1", 5)))
        .await
        .unwrap_err();
    assert_eq!(
        reason(&status),
        "REQUEST_ID_REUSED",
        "another start is another log"
    );
}

#[tokio::test]
async fn a_build_that_was_not_open_then() {
    let server = serve().await;
    server.with_plate().await;
    let status = server
        .duty()
        .record_duty(log(one_hour("log-1", -5)))
        .await
        .unwrap_err();
    let expected = (Code::FailedPrecondition, "BUILD_NOT_OPEN");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
}

/// Duty of before the installation is the unit's, not the component's.
#[tokio::test]
async fn a_component_that_was_not_installed_then() {
    let server = serve().await;
    server.with_plate().await;
    server
        .components()
        .create_component(plate("late", 3e-3))
        .await
        .unwrap();
    server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap();
    server
        .components()
        .install_component(install("late", 2))
        .await
        .unwrap();
    let wanted = |id: &str| api::PredictRequest {
        component: id.into(),
        ..Default::default()
    };
    let late = server
        .predictions()
        .predict(wanted("components/late"))
        .await
        .unwrap()
        .into_inner();
    assert_eq!(late.r#use.unwrap().hours, 0.0);
    let first = server
        .predictions()
        .predict(wanted("components/plate-1"))
        .await
        .unwrap();
    assert_eq!(first.into_inner().r#use.unwrap().hours, 1.0);
    let status = server
        .components()
        .install_component(install("late", 3))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::FailedPrecondition, "{status:?}");
    let remove = api::RemoveComponentRequest {
        component: "components/ghost".into(),
        remove_time: Some(hour(1)),
        request_id: String::new(),
    };
    let status = server
        .components()
        .remove_component(remove)
        .await
        .unwrap_err();
    assert_eq!(reason(&status), "RESOURCE_NOT_FOUND");
}

#[tokio::test]
async fn a_log_without_a_channel_that_the_model_requires() {
    let server = serve().await;
    server.with_plate().await;
    let mut payloads = one_hour("log-1", 1);
    let mut duty = reduced(3600.0);
    duty.channels = vec!["vehicle_speed_m_s".into()];
    duty.points[0].values = vec![50.0];
    payloads[1] = Payload::Reduced(duty);
    server.duty().record_duty(log(payloads)).await.unwrap();
    let wanted = api::PredictRequest {
        component: "components/plate-1".into(),
        ..Default::default()
    };
    let status = server.predictions().predict(wanted).await.unwrap_err();
    let expected = (Code::FailedPrecondition, "CHANNEL_MISSING");
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        expected,
        "{status:?}"
    );
    assert!(
        status.message().contains("engine_speed_rad_s"),
        "{status:?}"
    );
}

#[tokio::test]
async fn a_page_that_cannot_be() {
    let server = serve().await;
    let list = api::ListUnitsRequest {
        page_size: 1001,
        ..Default::default()
    };
    let status = server.units().list_units(list).await.unwrap_err();
    assert_eq!(fields(&status), ["page_size"]);
    let list = api::ListUnitsRequest {
        page_token: "made-up".into(),
        ..Default::default()
    };
    let status = server.units().list_units(list).await.unwrap_err();
    assert_eq!(reason(&status), "PAGE_TOKEN_INVALID");
}

#[tokio::test]
async fn a_name_that_is_taken_and_one_that_is_none() {
    let server = serve().await;
    server.with_plate().await;
    let status = server
        .units()
        .create_unit(unit("engine-a"))
        .await
        .unwrap_err();
    let expected = (Code::AlreadyExists, "RESOURCE_EXISTS");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    let status = server
        .units()
        .create_unit(unit("Engine A"))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), fields(&status)),
        (Code::InvalidArgument, vec!["unit_id".into()])
    );
    let status = server
        .builds()
        .create_build(build("units/engine-a", "b2"))
        .await
        .unwrap_err();
    assert_eq!(reason(&status), "BUILD_OVERLAP", "the first is still open");
}

//! What holds for every call: health, reflection, token, deadline, limits, drain.

use crate::{
    contract,
    setup::{Served, reason, serve, serve_as, unit},
};
use ringland_proto::v1::{self as api, unit_service_client::UnitServiceClient};
use std::time::Duration;
use tokio_stream::StreamExt;
use tonic::{Code, Request};
use tonic_health::pb::{
    HealthCheckRequest, health_check_response::ServingStatus, health_client::HealthClient,
};

fn health_of(service: &str) -> HealthCheckRequest {
    HealthCheckRequest {
        service: service.into(),
    }
}

#[tokio::test]
async fn the_whole_and_each_service_are_healthy() {
    let server = serve().await;
    let mut client = HealthClient::new(server.channel.clone());
    let names = contract::services();
    for service in names.iter().map(String::as_str).chain([""]) {
        let answer = client.check(health_of(service)).await.unwrap().into_inner();
        assert_eq!(answer.status(), ServingStatus::Serving, "{service:?}");
    }
    let status = client
        .check(health_of("ringland.v1.Ghost"))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::NotFound);
}

/// Both versions of the reflection protocol, as `grpc/reflection/v1` and `v1alpha` define them.
#[tokio::test]
async fn the_contract_can_be_read_from_the_server() {
    let server = serve().await;
    macro_rules! listed {
        ($version:ident) => {{
            use pb::{
                server_reflection_request::MessageRequest,
                server_reflection_response::MessageResponse,
            };
            use tonic_reflection::pb::$version as pb;
            let request = pb::ServerReflectionRequest {
                host: String::new(),
                message_request: Some(MessageRequest::ListServices(String::new())),
            };
            let mut client =
                pb::server_reflection_client::ServerReflectionClient::new(server.channel.clone());
            let stream = client.server_reflection_info(tokio_stream::iter([request]));
            let mut stream = stream.await.unwrap().into_inner();
            match stream.next().await.unwrap().unwrap().message_response {
                Some(MessageResponse::ListServicesResponse(list)) => list
                    .service
                    .into_iter()
                    .map(|service| service.name)
                    .collect::<Vec<_>>(),
                other => panic!("{other:?}"),
            }
        }};
    }
    for names in [listed!(v1), listed!(v1alpha)] {
        for name in contract::services() {
            assert!(names.contains(&name), "{name} is missing in {names:?}");
        }
    }
}

#[tokio::test]
async fn without_the_token_there_is_health_and_nothing_else() {
    let token = "a token for the test";
    let server = serve_as(|settings| {
        let file = settings.data_dir.with_file_name("token");
        std::fs::write(&file, token).unwrap();
        settings.token_file = file;
    })
    .await;
    let list = api::ListUnitsRequest::default();
    let status = server.units().list_units(list.clone()).await.unwrap_err();
    let expected = (Code::Unauthenticated, "TOKEN_REQUIRED");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    let offer = |token: &str| {
        let mut request = Request::new(list.clone());
        let value = format!("Bearer {token}").parse().unwrap();
        request.metadata_mut().insert("authorization", value);
        request
    };
    let wrong = server
        .units()
        .list_units(offer("another token for it"))
        .await
        .unwrap_err();
    assert_eq!(wrong.code(), Code::Unauthenticated);
    server.units().list_units(offer(token)).await.unwrap();
    HealthClient::new(server.channel.clone())
        .check(health_of(""))
        .await
        .unwrap();
}

#[tokio::test]
async fn a_call_has_the_callers_request_id_or_one_of_its_own() {
    let server = serve().await;
    let mut request = Request::new(api::ListUnitsRequest::default());
    request
        .metadata_mut()
        .insert("x-request-id", "dyno-7".parse().unwrap());
    let answer = server.units().list_units(request).await.unwrap();
    assert_eq!(answer.metadata().get("x-request-id").unwrap(), "dyno-7");
    let answer = server
        .units()
        .list_units(api::ListUnitsRequest::default())
        .await
        .unwrap();
    assert!(!answer.metadata().get("x-request-id").unwrap().is_empty());
}

/// The server's own limit; a caller's deadline takes the same way, and the caller's side ends by it first.
#[tokio::test]
async fn a_log_that_never_ends_is_ended_by_the_limit() {
    let server = serve_as(|settings| settings.limits.stream_s = 1).await;
    let (_open, pieces) = tokio::sync::mpsc::channel(1);
    let pieces = tokio_stream::wrappers::ReceiverStream::new(pieces);
    let status = server.duty().record_duty(pieces).await.unwrap_err();
    let expected = (Code::DeadlineExceeded, "DEADLINE_EXCEEDED");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
}

#[tokio::test]
async fn more_calls_than_the_limit_are_refused_and_told_when_to_come_back() {
    let server = serve_as(|settings| settings.limits.calls = 1).await;
    let watch = api::WatchPredictionsRequest::default();
    let stream = server.predictions().watch_predictions(watch).await.unwrap();
    let list = api::ListUnitsRequest::default();
    let status = server.units().list_units(list.clone()).await.unwrap_err();
    let expected = (Code::ResourceExhausted, "OVERLOADED");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    let details = tonic_types::StatusExt::get_error_details(&status);
    assert!(details.retry_info().unwrap().retry_delay.is_some());
    drop(stream);
    // The place is given back once the server has seen that the watcher is gone.
    while server.units().list_units(list.clone()).await.is_err() {
        tokio::time::sleep(Duration::from_millis(5)).await;
    }
}

#[tokio::test]
async fn a_message_that_is_too_large_is_refused() {
    let server = serve_as(|settings| settings.limits.request_bytes = 1_200_000).await;
    let mut request = unit("engine-a");
    request.unit.as_mut().unwrap().display_name = "x".repeat(1_300_000);
    let status = server.units().create_unit(request).await.unwrap_err();
    assert_eq!(status.code(), Code::OutOfRange, "{status:?}");
}

#[tokio::test]
async fn draining_is_told_to_probes_ends_watchers_and_lets_calls_finish() {
    let mut server: Served = serve().await;
    server.with_plate().await;
    let mut health = HealthClient::new(server.channel.clone());
    let mut probes = health.watch(health_of("")).await.unwrap().into_inner();
    assert_eq!(
        probes.next().await.unwrap().unwrap().status(),
        ServingStatus::Serving
    );
    let watch = api::WatchPredictionsRequest::default();
    let mut watched = server
        .predictions()
        .watch_predictions(watch)
        .await
        .unwrap()
        .into_inner();
    // A log under way: its header is in, its content is not.
    let (send, pieces) = tokio::sync::mpsc::channel(4);
    let mut log = crate::setup::one_hour("log-1", 1).into_iter();
    let message = |payload| api::RecordDutyRequest {
        payload: Some(payload),
    };
    send.send(message(log.next().unwrap())).await.unwrap();
    let mut duty = server.duty();
    let recording = tokio::spawn(async move {
        duty.record_duty(tokio_stream::wrappers::ReceiverStream::new(pieces))
            .await
    });
    tokio::time::sleep(Duration::from_millis(100)).await;

    server.stop();
    assert_eq!(
        probes.next().await.unwrap().unwrap().status(),
        ServingStatus::NotServing
    );
    let last = loop {
        match watched.next().await {
            Some(Ok(_)) => {}
            Some(Err(status)) => break status,
            None => panic!("a watcher's stream ended without a reason"),
        }
    };
    assert_eq!(
        (last.code(), reason(&last).as_str()),
        (Code::Unavailable, "DRAINING")
    );
    send.send(message(log.next().unwrap())).await.unwrap();
    drop(send);
    recording.await.unwrap().unwrap();
    let address = server.running.address();
    server.running.finished().await.unwrap();
    UnitServiceClient::connect(format!("http://{address}"))
        .await
        .unwrap_err();
}

#[tokio::test]
async fn the_address_file_appears_when_calls_are_accepted_and_goes_with_the_server() {
    let mut file = std::path::PathBuf::new();
    let mut server = serve_as(|settings| {
        settings.address_file = settings.data_dir.with_file_name("address");
        file.clone_from(&settings.address_file);
    })
    .await;
    let written = std::fs::read_to_string(&file).unwrap();
    assert_eq!(written.trim(), server.running.address().to_string());
    server.stop();
    server.running.finished().await.unwrap();
    assert!(!file.exists());
}

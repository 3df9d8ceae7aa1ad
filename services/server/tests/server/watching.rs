//! Watching predictions.

use crate::setup::{Served, fields, hour, log, one_hour, reason, serve, serve_as};
use ringland_proto::v1::{
    self as api, WatchPredictionsResponse, watch_predictions_response::Change,
};
use std::time::Duration;
use tokio_stream::StreamExt;
use tonic::{Code, Status, Streaming};

async fn watch(server: &Served, targets: &[&str]) -> Streaming<WatchPredictionsResponse> {
    let targets = targets.iter().map(|&target| target.into()).collect();
    let request = api::WatchPredictionsRequest { targets };
    server
        .predictions()
        .watch_predictions(request)
        .await
        .unwrap()
        .into_inner()
}

async fn next(stream: &mut Streaming<WatchPredictionsResponse>) -> Result<Change, Status> {
    let message = tokio::time::timeout(Duration::from_secs(20), stream.next()).await;
    message
        .expect("a message in time")
        .expect("a stream that goes on")
        .map(|m| m.change.unwrap())
}

/// Hours of use in a prediction.
fn hours(change: &Change) -> f64 {
    match change {
        Change::Prediction(prediction) => prediction.r#use.unwrap().hours,
        other => panic!("expected a prediction, got {other:?}"),
    }
}

#[tokio::test]
async fn what_holds_now_then_what_changes() {
    let server = serve().await;
    server.with_plate().await;
    for targets in [&[][..], &["components/plate-1"], &["units/engine-a"]] {
        let mut stream = watch(&server, targets).await;
        hours(&next(&mut stream).await.unwrap());
        assert!(matches!(
            next(&mut stream).await.unwrap(),
            Change::CaughtUp(_)
        ));
    }
    let mut stream = watch(&server, &[]).await;
    let mut second = watch(&server, &["units/engine-a"]).await;
    for stream in [&mut stream, &mut second] {
        assert_eq!(hours(&next(stream).await.unwrap()), 0.0);
        assert!(matches!(next(stream).await.unwrap(), Change::CaughtUp(_)));
    }
    server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap();
    for stream in [&mut stream, &mut second] {
        assert_eq!(hours(&next(stream).await.unwrap()), 1.0);
    }
}

#[tokio::test]
async fn one_that_leaves_the_unit_is_said_to_have_left() {
    let server = serve().await;
    server.with_plate().await;
    let mut stream = watch(&server, &["units/engine-a"]).await;
    hours(&next(&mut stream).await.unwrap());
    next(&mut stream).await.unwrap();
    let remove = api::RemoveComponentRequest {
        component: "components/plate-1".into(),
        remove_time: Some(hour(2)),
        request_id: String::new(),
    };
    server.components().remove_component(remove).await.unwrap();
    match next(&mut stream).await.unwrap() {
        Change::Error(error) => {
            assert_eq!(error.component, "components/plate-1");
            assert_eq!(
                error.status.unwrap().code,
                i32::from(Code::FailedPrecondition)
            );
        }
        other => panic!("expected an error, got {other:?}"),
    }
}

#[tokio::test]
async fn targets_must_exist_and_be_names() {
    let server = serve().await;
    let mut client = server.predictions();
    let wrong = api::WatchPredictionsRequest {
        targets: vec!["garage".into()],
    };
    let status = client.watch_predictions(wrong).await.unwrap_err();
    assert_eq!(
        (status.code(), fields(&status)),
        (Code::InvalidArgument, vec!["targets[0]".into()])
    );
    let ghost = api::WatchPredictionsRequest {
        targets: vec!["units/ghost".into()],
    };
    let status = client.watch_predictions(ghost).await.unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::NotFound, "RESOURCE_NOT_FOUND")
    );
}

#[tokio::test]
async fn a_watcher_that_goes_away_frees_its_place() {
    let server = serve_as(|settings| settings.watch.watchers = 1).await;
    server.with_plate().await;
    let first = watch(&server, &[]).await;
    let request = api::WatchPredictionsRequest::default();
    let status = server
        .predictions()
        .watch_predictions(request.clone())
        .await
        .unwrap_err();
    let expected = (Code::ResourceExhausted, "OVERLOADED");
    assert_eq!((status.code(), reason(&status).as_str()), expected);
    drop(first);
    while server
        .predictions()
        .watch_predictions(request.clone())
        .await
        .is_err()
    {
        tokio::time::sleep(Duration::from_millis(5)).await;
    }
}

/// A watcher that does not read while hundreds of changes go by is sent everything again, and its
/// last word is the present.
#[tokio::test]
async fn a_slow_watcher_is_sent_everything_again() {
    let server = serve_as(|settings| settings.watch.queue = 1).await;
    server.with_plate().await;
    let mut stream = watch(&server, &["components/plate-1"]).await;
    hours(&next(&mut stream).await.unwrap());
    next(&mut stream).await.unwrap();
    // Fills the window of the connection, the outbox and the queue.
    let hours_run = 120;
    for hour in 1..=hours_run {
        let id = format!("log-{hour}");
        server
            .duty()
            .record_duty(log(one_hour(&id, hour)))
            .await
            .unwrap();
        let wanted = api::PredictRequest {
            component: "components/plate-1".into(),
            ..Default::default()
        };
        server.predictions().predict(wanted).await.unwrap();
    }
    let mut last = 0.0;
    while last < hours_run as f64 {
        match next(&mut stream).await.unwrap() {
            change @ Change::Prediction(_) => last = hours(&change),
            Change::Resync(_) | Change::CaughtUp(_) => {}
            Change::Error(error) => panic!("{error:?}"),
        }
    }
}

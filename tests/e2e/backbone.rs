//! The main job over real gRPC: logs in, remaining ring life out, for the three users.

use ringland_proto::v1::{
    BatchPredictRequest, Build, CloseBuildRequest, CreateBuildRequest, DutyHeader,
    ListDutyRecordsRequest, MoveComponentRequest, PredictRequest, Prediction,
    RebuildConditionsRequest, RecordDutyRequest, SampleChannel, WatchPredictionsRequest,
    batch_predict_result::Result as BatchResult, record_duty_request::Payload,
    watch_predictions_response::Change,
};
use ringland_tests::{Server, Shop, at, lap_csv, plugin, pull_samples, record_csv};
use std::time::Duration;
use tonic::Code;
use tonic_health::pb::{HealthCheckRequest, health_client::HealthClient};

async fn server() -> Server {
    Server::start(&[&plugin("ringland-plugin-ring-pack")]).await
}

/// All of a prediction but when it was made and its number: a rebuild makes it anew, and numbers are not used again.
fn told(mut prediction: Prediction) -> Prediction {
    prediction.create_time = None;
    prediction.name.clear();
    prediction
}

#[tokio::test(flavor = "multi_thread")]
async fn a_log_becomes_remaining_life_with_its_reasons() {
    let server = server().await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let fresh = shop.predict(&mut clients).await.expect("a prediction");
    for (n, hour) in [(0, 10), (1, 20), (2, 30)] {
        let id = format!("race-{n}");
        record_csv(
            &mut clients,
            &shop.unit,
            &id,
            at(hour * 3600),
            &lap_csv(1200),
        )
        .await
        .expect(&id);
    }
    let used = shop.predict(&mut clients).await.expect("a prediction");

    let events = |p: &Prediction| p.life.and_then(|l| l.events).expect("life in events");
    let (before, after) = (events(&fresh), events(&used));
    assert!(
        after.p05 <= after.p50 && after.p50 <= after.p95,
        "{after:?}"
    );
    assert!(
        after.p50 < before.p50,
        "an hour of duty leaves less: {before:?} {after:?}"
    );
    let life = used.life.expect("life");
    let (hours, revolutions) = (
        life.hours.expect("hours"),
        life.crank_revolutions.expect("revs"),
    );
    assert!(
        hours.p50 > 0.0 && revolutions.p50 > hours.p50 * 60.0 * 1000.0,
        "{revolutions:?}"
    );
    assert_eq!(used.usage_records(), 4);
    assert!(
        used.mechanisms
            .iter()
            .any(|m| m.mechanism == used.limiting_mechanism)
    );
    assert!(used.mechanisms.iter().any(|m| !m.drivers.is_empty()), "why");
    assert!(
        used.readings.iter().any(|r| r.limit.is_some()),
        "readings against limits"
    );
    assert!(
        !used.cautions.is_empty() && !used.leaves_out.is_empty(),
        "cautions, limits of the model"
    );
    assert!(!used.advice.expect("advice").text.is_empty());
}

/// Shorthand for a field whose name is a keyword in Rust.
trait Records {
    fn usage_records(&self) -> i64;
}

impl Records for Prediction {
    fn usage_records(&self) -> i64 {
        self.r#use.as_ref().map_or(0, |usage| usage.duty_records)
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn sending_again_changes_nothing_and_restart_and_rebuild_give_the_same_bits() {
    let mut server = server().await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let first = told(shop.predict(&mut clients).await.expect("a prediction"));

    let again = record_csv(&mut clients, &shop.unit, "first-a", at(3600), &lap_csv(800)).await;
    assert!(again.expect("the same log again").replayed);
    assert_eq!(
        told(shop.predict(&mut clients).await.expect("a prediction")),
        first
    );

    let other = record_csv(&mut clients, &shop.unit, "first-a", at(3600), &lap_csv(801)).await;
    assert_eq!(
        other.expect_err("another log with the id").code(),
        Code::AlreadyExists
    );

    assert_eq!(server.stop().await, Some(0), "a clean stop");
    server.restart().await;
    let mut clients = server.clients().await;
    assert_eq!(
        told(shop.predict(&mut clients).await.expect("a prediction")),
        first
    );

    let progress = clients
        .ledger
        .rebuild_conditions(RebuildConditionsRequest::default())
        .await;
    let mut progress = progress.expect("a rebuild").into_inner();
    let mut done = 0;
    while let Some(step) = progress.message().await.expect("progress") {
        assert_eq!(step.error, "");
        done = step.done;
    }
    assert_eq!(done, 1);
    assert_eq!(
        told(shop.predict(&mut clients).await.expect("a prediction")),
        first
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn a_dyno_streams_a_pull_and_a_poller_and_a_watcher_see_the_change() {
    let server = server().await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let mut profiled = clients
        .units
        .get_unit(ringland_proto::v1::GetUnitRequest {
            name: shop.unit.clone(),
        })
        .await
        .expect("the unit")
        .into_inner();
    profiled.event_profile = shop.profile.clone();
    let mask = prost_types::FieldMask {
        paths: vec!["event_profile".into()],
    };
    let update = ringland_proto::v1::UpdateUnitRequest {
        unit: Some(profiled),
        update_mask: Some(mask),
    };
    clients
        .units
        .update_unit(update)
        .await
        .expect("the unit takes its event");

    let request = WatchPredictionsRequest {
        targets: vec![shop.unit.clone()],
    };
    let mut watch = clients
        .predictions
        .watch_predictions(request)
        .await
        .expect("a watch")
        .into_inner();
    let mut seen = Vec::new();
    loop {
        match next(&mut watch).await {
            Change::Prediction(prediction) => seen.push(prediction),
            Change::CaughtUp(_) => break,
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(seen.len(), 1, "one ring pack is installed");

    let header = DutyHeader {
        unit: shop.unit.clone(),
        request_id: "pull-1".into(),
        start_time: Some(at(7200)),
        session: "dyno".into(),
        sample_channels: [
            "engine_speed_rad_s:rad/s",
            "engine_torque_n_m:N.m",
            "oil_temp_k:K",
            "coolant_temp_k:K",
        ]
        .map(|c| c.split_once(':').unwrap_or_default())
        .map(|(channel, unit)| SampleChannel {
            channel: channel.into(),
            unit: unit.into(),
            hold_s: 0.0,
        })
        .to_vec(),
        ..Default::default()
    };
    let messages = [Payload::Header(header), Payload::Samples(pull_samples())].map(|payload| {
        RecordDutyRequest {
            payload: Some(payload),
        }
    });
    let recorded = clients
        .duty
        .record_duty(tokio_stream::iter(messages))
        .await
        .expect("a pull");
    let record = recorded.into_inner().duty_record.expect("the record");
    assert!(
        (record.duration_s - 12.0).abs() < 0.1,
        "{}",
        record.duration_s
    );

    // The unit's new event was told of shortly before: the prediction of before the pull may come once more.
    let changed = loop {
        let Change::Prediction(prediction) = next(&mut watch).await else {
            panic!("a prediction")
        };
        if prediction.usage_records() != seen[0].usage_records() {
            break prediction;
        }
    };
    assert_eq!(changed.usage_records(), seen[0].usage_records() + 1);

    let requests = ["components/rings-a", "components/nobody"].map(|component| PredictRequest {
        component: component.into(),
        ..Default::default()
    });
    let batch = BatchPredictRequest {
        requests: requests.to_vec(),
    };
    let batch = clients
        .predictions
        .batch_predict(batch)
        .await
        .expect("a batch")
        .into_inner();
    let results: Vec<_> = batch.results.into_iter().filter_map(|r| r.result).collect();
    let [BatchResult::Prediction(polled), BatchResult::Error(error)] = &results[..] else {
        panic!("{results:?}")
    };
    assert_eq!(told(polled.clone()), told(changed));
    assert_eq!(error.code, Code::NotFound as i32, "what fails, fails alone");
}

async fn next(
    watch: &mut tonic::Streaming<ringland_proto::v1::WatchPredictionsResponse>,
) -> Change {
    let message = tokio::time::timeout(Duration::from_secs(60), watch.message()).await;
    let message = message
        .expect("a change in time")
        .expect("a change")
        .expect("the watch goes on");
    message.change.expect("a change says what")
}

#[tokio::test(flavor = "multi_thread")]
async fn a_component_takes_its_history_along_when_it_moves() {
    let server = server().await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let spare = Shop::open(&mut clients, "b")
        .await
        .expect("a second engine");
    let close = CloseBuildRequest {
        name: spare.build.clone(),
        teardown_time: Some(at(9000)),
        ..Default::default()
    };
    clients
        .builds
        .close_build(close)
        .await
        .expect("the second engine is torn down");
    let build = CreateBuildRequest {
        parent: spare.unit.clone(),
        build_id: "b2".into(),
        build: Some(Build {
            assembly_time: Some(at(9100)),
            ..Default::default()
        }),
        ..Default::default()
    };
    let build = clients
        .builds
        .create_build(build)
        .await
        .expect("a new build")
        .into_inner();
    let moved = MoveComponentRequest {
        component: shop.component.clone(),
        build: build.name.clone(),
        move_time: Some(at(9200)),
        ..Default::default()
    };
    clients
        .components
        .move_component(moved)
        .await
        .expect("the rings move");
    record_csv(
        &mut clients,
        &spare.unit,
        "after",
        at(10_000),
        &lap_csv(300),
    )
    .await
    .expect("a log");
    let prediction = shop.predict(&mut clients).await.expect("a prediction");
    assert_eq!(prediction.usage_records(), 2, "one record in each engine");
    assert_eq!(prediction.build, build.name);

    let list = ListDutyRecordsRequest {
        parent: spare.unit,
        page_size: 1,
        ..Default::default()
    };
    let page = clients
        .duty
        .list_duty_records(list.clone())
        .await
        .expect("a page")
        .into_inner();
    assert_eq!(page.duty_records.len(), 1);
    let rest = ListDutyRecordsRequest {
        page_token: page.next_page_token,
        ..list
    };
    let page = clients
        .duty
        .list_duty_records(rest)
        .await
        .expect("the rest")
        .into_inner();
    assert_eq!(page.duty_records.len(), 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn health_is_served() {
    let server = server().await;
    let channel = tonic::transport::Channel::from_shared(server.url.clone())
        .expect("the server's URL is one")
        .connect()
        .await
        .expect("a connection");
    let mut health = HealthClient::new(channel);
    for service in ["", "ringland.v1.PredictionService"] {
        let request = HealthCheckRequest {
            service: service.into(),
        };
        let answer = health.check(request).await.expect("health").into_inner();
        assert_eq!(answer.status, 1, "serving: {service}");
    }
}

//! Logs in.

use crate::setup::{fields, header, hour, log, one_hour, reason, reduced, serve, serve_as};
use ringland_proto::v1::{self as api, record_duty_request::Payload};
use tonic::Code;

/// A header for CSV bytes with time in seconds and engine speed in rpm.
fn csv_header(request_id: &str) -> api::DutyHeader {
    let column = api::ChannelColumn {
        channel: "engine_speed_rad_s".into(),
        column: "rpm".into(),
        unit: "rpm".into(),
        ..Default::default()
    };
    api::DutyHeader {
        channel_map: Some(api::ChannelMap {
            name: "dyno".into(),
            time_column: "time".into(),
            time_unit: "s".into(),
            columns: vec![column],
            ..Default::default()
        }),
        ..header(request_id, 1)
    }
}

/// A sample a second at 6000 rpm.
fn csv(seconds: usize) -> String {
    let rows = (0..=seconds).map(|second| format!("{second},6000\n"));
    format!("time,rpm\n{}", rows.collect::<String>())
}

fn cut(header: api::DutyHeader, text: &str, size: usize) -> Vec<Payload> {
    let pieces = text
        .as_bytes()
        .chunks(size)
        .map(|piece| Payload::Csv(piece.to_vec()));
    [Payload::Header(header)]
        .into_iter()
        .chain(pieces)
        .collect()
}

#[tokio::test]
async fn the_same_log_cut_differently_is_the_same_log() {
    let server = serve().await;
    server.with_plate().await;
    let text = csv(600);
    let mut client = server.duty();
    let whole = client
        .record_duty(log(cut(csv_header("log-1"), &text, text.len())))
        .await;
    let record = whole.unwrap().into_inner().duty_record.unwrap();
    assert!(
        (record.duration_s - 600.0).abs() <= 1.0,
        "{}",
        record.duration_s
    );
    // 6000 rpm for ten minutes.
    assert!((record.crank_revolutions / 60_000.0 - 1.0).abs() < 0.01);
    assert_eq!(record.intake_report.unwrap().samples, 601);
    for size in [1, 7, 1000] {
        let again = client
            .record_duty(log(cut(csv_header("log-1"), &text, size)))
            .await;
        let again = again.unwrap().into_inner();
        assert!(again.replayed);
        assert_eq!(
            again.duty_record.unwrap().content_sha256,
            record.content_sha256
        );
    }
}

#[tokio::test]
async fn samples_are_a_log_too() {
    let server = serve().await;
    server.with_plate().await;
    let channel = api::SampleChannel {
        channel: "engine_speed_rad_s".into(),
        unit: "rad/s".into(),
        hold_s: 0.0,
    };
    let header = api::DutyHeader {
        sample_channels: vec![channel],
        ..header("log-1", 1)
    };
    let chunk = |from: u32, to: u32| {
        let times = from..to;
        Payload::Samples(api::SampleChunk {
            time_s: times.clone().map(f64::from).collect(),
            columns: vec![api::Column {
                values: times.map(|_| 500.0).collect(),
            }],
        })
    };
    let payloads = vec![
        Payload::Header(header.clone()),
        chunk(0, 100),
        chunk(100, 301),
    ];
    let record = server
        .duty()
        .record_duty(log(payloads))
        .await
        .unwrap()
        .into_inner();
    let record = record.duty_record.unwrap();
    assert!(
        (record.duration_s - 300.0).abs() <= 1.0,
        "{}",
        record.duration_s
    );
    let uneven = Payload::Samples(api::SampleChunk {
        time_s: vec![0.0, 1.0],
        columns: vec![api::Column {
            values: vec![500.0],
        }],
    });
    let other = api::DutyHeader {
        request_id: "log-2".into(),
        start_time: Some(hour(3)),
        ..header
    };
    let status = server
        .duty()
        .record_duty(log(vec![Payload::Header(other), uneven]))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    assert!(
        fields(&status)[0].starts_with("samples.columns[0]"),
        "{status:?}"
    );
}

#[tokio::test]
async fn every_field_of_the_header_is_looked_at_before_the_log() {
    let server = serve().await;
    let header = api::DutyHeader {
        unit: "engine".into(),
        events: Some(f64::NAN),
        ..Default::default()
    };
    let status = server
        .duty()
        .record_duty(log(vec![Payload::Header(header)]))
        .await
        .unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::InvalidArgument, "FIELD_INVALID")
    );
    let expected = [
        "header.unit",
        "header.request_id",
        "header.start_time",
        "header.events",
    ];
    assert_eq!(fields(&status), expected);
}

#[tokio::test]
async fn messages_out_of_order() {
    let server = serve().await;
    server.with_plate().await;
    let head = || Payload::Header(csv_header("log-1"));
    let table = || Payload::Reduced(reduced(1.0));
    let bytes = || Payload::Csv(b"time,rpm\n".to_vec());
    for (payloads, field) in [
        (vec![], "header"),
        (vec![bytes()], "header"),
        (vec![head(), bytes(), head()], "header"),
        (vec![head(), bytes(), table()], "reduced"),
        (vec![head(), table(), table()], "reduced"),
        (vec![head()], "payload"),
    ] {
        let status = server.duty().record_duty(log(payloads)).await.unwrap_err();
        assert_eq!(
            (status.code(), fields(&status)),
            (Code::InvalidArgument, vec![field.into()])
        );
    }
}

#[tokio::test]
async fn flaws_of_a_log_name_their_row_or_channel() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.duty();
    let backwards = "time,rpm\n0,6000\n1,6000\n0.5,6000\n2,6000\n";
    let status = client
        .record_duty(log(cut(csv_header("back"), backwards, 100)))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    assert!(
        format!("{:?}", status.message()).contains('4'),
        "line 4 goes back: {status:?}"
    );
    let missing = "time,boost\n0,1\n1,1\n";
    let status = client
        .record_duty(log(cut(csv_header("missing"), missing, 100)))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    assert!(status.message().contains("rpm"), "{status:?}");
    let not_numbers = "time,rpm\n0,nan\n1,nan\n2,nan\n3,nan\n";
    let status = client
        .record_duty(log(cut(csv_header("nan"), not_numbers, 100)))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
    let mut header = csv_header("unit");
    header.channel_map.as_mut().unwrap().columns[0].unit = "furlong".into();
    let status = client
        .record_duty(log(cut(header, &csv(10), 100)))
        .await
        .unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    assert!(
        fields(&status)[0].starts_with("header.channel_map"),
        "{status:?}"
    );
    let list = api::ListDutyRecordsRequest {
        parent: "units/engine-a".into(),
        ..Default::default()
    };
    let records = client
        .list_duty_records(list)
        .await
        .unwrap()
        .into_inner()
        .duty_records;
    assert!(records.is_empty(), "nothing of a refused log is recorded");
}

#[tokio::test]
async fn half_a_log_is_never_recorded() {
    let server = serve().await;
    server.with_plate().await;
    let (send, pieces) = tokio::sync::mpsc::channel(4);
    let message = |payload| api::RecordDutyRequest {
        payload: Some(payload),
    };
    for payload in cut(csv_header("log-1"), &csv(100), 400).into_iter().take(2) {
        send.send(message(payload)).await.unwrap();
    }
    let mut client = server.duty();
    let call = tokio::spawn(async move {
        client
            .record_duty(tokio_stream::wrappers::ReceiverStream::new(pieces))
            .await
    });
    tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    call.abort();
    assert!(call.await.is_err_and(|end| end.is_cancelled()));
    drop(send);
    // The same id is free for the whole log.
    let whole = server
        .duty()
        .record_duty(log(cut(csv_header("log-1"), &csv(100), 400)))
        .await;
    assert!(!whole.unwrap().into_inner().replayed);
}

#[tokio::test]
async fn a_log_larger_than_the_limit_and_more_uploads_than_places() {
    let server = serve_as(|settings| {
        settings.limits.log_bytes = 2000;
        settings.limits.uploads = 1;
    })
    .await;
    server.with_plate().await;
    let long = cut(csv_header("long"), &csv(1000), 500);
    let status = server.duty().record_duty(log(long)).await.unwrap_err();
    assert_eq!(
        (status.code(), reason(&status).as_str()),
        (Code::ResourceExhausted, "TOO_LARGE")
    );
    let (_open, pieces) = tokio::sync::mpsc::channel(1);
    let mut client = server.duty();
    let waiting = tokio::spawn(async move {
        client
            .record_duty(tokio_stream::wrappers::ReceiverStream::new(pieces))
            .await
    });
    tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    let status = server
        .duty()
        .record_duty(log(one_hour("log-1", 1)))
        .await
        .unwrap_err();
    assert_eq!(reason(&status), "OVERLOADED");
    waiting.abort();
}

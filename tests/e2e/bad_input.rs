//! Bad input is refused with the field, the value and the remedy, and nothing of it is applied.

use ringland_proto::v1::{
    ChannelMap, Column, Component, CreateComponentRequest, DutyHeader, InstallModelRequest,
    ListComponentsRequest, ListDutyRecordsRequest, ListModelsRequest, PredictRequest,
    RecordDutyRequest, SampleChannel, SampleChunk, Spec, record_duty_request::Payload,
};
use ringland_tests::{Clients, Server, Shop, at, lap_csv, lap_map, open_shop, record_csv};
use tonic::{Code, Status};
use tonic_types::StatusExt;

async fn shop() -> (Server, Clients, Shop) {
    open_shop(&["ring_pack"]).await
}

/// Asserts code, and that some violation or the message names each of `words`.
fn assert_names(status: &Status, code: Code, words: &[&str]) {
    let details = status.get_error_details();
    let mut text = status.message().to_owned();
    for violation in details
        .bad_request()
        .iter()
        .flat_map(|b| &b.field_violations)
    {
        text += &format!("\n{}: {}", violation.field, violation.description);
    }
    assert_eq!(status.code(), code, "{text}");
    let reason = details
        .error_info()
        .map(|info| (info.domain.as_str(), info.reason.as_str()));
    let (domain, reason) = reason.unwrap_or_else(|| panic!("no ErrorInfo: {text}"));
    assert_eq!(domain, "ringland");
    assert!(!reason.is_empty());
    for word in words {
        assert!(text.contains(word), "expected {word:?} in:\n{text}");
    }
}

async fn send_csv(clients: &mut Clients, header: DutyHeader, csv: &str) -> Result<(), Status> {
    let messages = [
        Payload::Header(header),
        Payload::Csv(csv.as_bytes().to_vec()),
    ]
    .map(|payload| RecordDutyRequest {
        payload: Some(payload),
    });
    clients
        .duty
        .record_duty(tokio_stream::iter(messages))
        .await
        .map(|_| ())
}

fn header(shop: &Shop, id: &str, channel_map: ChannelMap) -> DutyHeader {
    DutyHeader {
        unit: shop.unit.clone(),
        request_id: id.into(),
        start_time: Some(at(100_000)),
        channel_map: Some(channel_map),
        ..Default::default()
    }
}

async fn record_count(clients: &mut Clients, shop: &Shop) -> usize {
    let list = ListDutyRecordsRequest {
        parent: shop.unit.clone(),
        ..Default::default()
    };
    let page = clients
        .duty
        .list_duty_records(list)
        .await
        .expect("a page")
        .into_inner();
    page.duty_records.len()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_bad_log_names_what_is_wrong_and_leaves_no_record() {
    let (_server, mut clients, shop) = shop().await;

    let mut map = lap_map();
    map.columns[1].unit = "lbf.furlong".into();
    let refused = send_csv(&mut clients, header(&shop, "unit", map), &lap_csv(10)).await;
    assert_names(
        &refused.expect_err("unknown unit"),
        Code::InvalidArgument,
        &["lbf.furlong", "columns[1].unit", "lbf.ft"],
    );

    let mut map = lap_map();
    map.columns[0].column = "Engine RPM".into();
    let refused = send_csv(&mut clients, header(&shop, "column", map), &lap_csv(10)).await;
    assert_names(
        &refused.expect_err("missing column"),
        Code::InvalidArgument,
        &["Engine RPM"],
    );

    let back = lap_csv(10).replace("\n5.0,", "\n3.0,");
    let refused = send_csv(&mut clients, header(&shop, "back", lap_map()), &back).await;
    assert_names(
        &refused.expect_err("time goes back"),
        Code::InvalidArgument,
        &["52", "3", "4.9"],
    );

    let not_numbers = lap_csv(60)
        .replace(",226.4,", ",NaN,")
        .replace(",195.0", ",oops");
    let torn = not_numbers.replace(",-25.0,", ",,");
    let refused = send_csv(&mut clients, header(&shop, "nan", lap_map()), &torn).await;
    assert_names(
        &refused.expect_err("mostly bad"),
        Code::InvalidArgument,
        &["row"],
    );

    assert_eq!(
        record_count(&mut clients, &shop).await,
        1,
        "only the first log is recorded"
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn a_few_bad_samples_are_reported_by_row_and_the_rest_counts() {
    let (_server, mut clients, shop) = shop().await;
    let csv = lap_csv(120)
        .replacen("\n30.0,", "\nNaN_was_here,", 0)
        .replacen("\n40.0,6300,", "\n40.0,oops,", 1);
    assert!(
        csv.contains("oops"),
        "the lap has a sample at 40.0 s with 6300 rpm"
    );
    let answer = record_csv(&mut clients, &shop.unit, "few", at(50_000), &csv).await;
    let record = answer
        .expect("a usable log")
        .duty_record
        .expect("the record");
    let report = record.intake_report.expect("a report");
    let flaw = report
        .flaws
        .iter()
        .find(|flaw| flaw.kind == "not_a_number")
        .expect("the flaw");
    assert_eq!(flaw.rows, [402], "line 1 is the header, 0.0 s is line 2");
    assert_eq!(flaw.channel, "engine_speed_rad_s");
}

#[tokio::test(flavor = "multi_thread")]
async fn samples_without_a_required_channel_leave_the_component_without_prediction_only() {
    let (_server, mut clients, shop) = shop().await;
    let header = DutyHeader {
        unit: shop.unit.clone(),
        request_id: "speed-only".into(),
        start_time: Some(at(100_000)),
        sample_channels: vec![SampleChannel {
            channel: "engine_speed_rad_s".into(),
            unit: "rad/s".into(),
            hold_s: 0.0,
        }],
        ..Default::default()
    };
    let time_s: Vec<f64> = (0..100).map(|i| f64::from(i) / 10.0).collect();
    let chunk = SampleChunk {
        columns: vec![Column {
            values: vec![500.0; time_s.len()],
        }],
        time_s,
    };
    let messages =
        [Payload::Header(header), Payload::Samples(chunk)].map(|payload| RecordDutyRequest {
            payload: Some(payload),
        });
    clients
        .duty
        .record_duty(tokio_stream::iter(messages))
        .await
        .expect("a log of speed alone");
    let refused = shop
        .predict(&mut clients)
        .await
        .expect_err("rings need torque");
    assert_names(&refused, Code::FailedPrecondition, &["engine_torque_n_m"]);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_bad_spec_names_every_field_at_once_and_creates_nothing() {
    let (_server, mut clients, _shop) = shop().await;
    let numbers = [
        ("bore_m".to_owned(), 86.0),
        ("no_such_field".to_owned(), 1.0),
    ];
    let component = Component {
        component_type: "ring_pack".into(),
        spec: Some(Spec {
            numbers: numbers.into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    let request = CreateComponentRequest {
        component_id: "bad".into(),
        component: Some(component),
        ..Default::default()
    };
    let refused = clients
        .components
        .create_component(request)
        .await
        .expect_err("86 m of bore");
    assert_names(
        &refused,
        Code::InvalidArgument,
        &["bore_m", "86", "no_such_field"],
    );
    let list = ListComponentsRequest::default();
    let page = clients
        .components
        .list_components(list)
        .await
        .expect("a page")
        .into_inner();
    assert_eq!(page.components.len(), 1, "only the shop's own");
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_no_plugin_is_not_installed() {
    let (_server, mut clients, _shop) = shop().await;
    // The smallest core module: the right magic number, but no component.
    let core = b"\0asm\x01\0\0\0".to_vec();
    for (bytes, word) in [
        (b"not wasm at all".to_vec(), "component"),
        (core, "wasm32-wasip2"),
    ] {
        let messages = [InstallModelRequest { chunk: bytes }];
        let refused = clients
            .models
            .install_model(tokio_stream::iter(messages))
            .await;
        assert_names(&refused.expect_err(word), Code::InvalidArgument, &[word]);
    }
    let list = ListModelsRequest::default();
    let page = clients
        .models
        .list_models(list)
        .await
        .expect("a page")
        .into_inner();
    assert_eq!(page.models.len(), 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_reused_id_a_unit_that_was_not_built_and_an_unknown_component_are_told_apart() {
    let (_server, mut clients, shop) = shop().await;
    let other = record_csv(&mut clients, &shop.unit, "first-a", at(70_000), &lap_csv(9)).await;
    assert_names(
        &other.expect_err("reused"),
        Code::AlreadyExists,
        &["first-a"],
    );

    let early = record_csv(&mut clients, &shop.unit, "early", at(-5000), &lap_csv(9)).await;
    assert_names(
        &early.expect_err("before assembly"),
        Code::FailedPrecondition,
        &["units/engine-a"],
    );

    let request = PredictRequest {
        component: "components/nobody".into(),
        ..Default::default()
    };
    let unknown = clients
        .predictions
        .predict(request)
        .await
        .expect_err("unknown");
    assert_names(&unknown, Code::NotFound, &["components/nobody"]);
    assert_eq!(record_count(&mut clients, &shop).await, 1);
}

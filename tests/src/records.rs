//! Duty, recorded.

use crate::{Clients, Log, lap_map};
use prost_types::Timestamp;
use ringland_proto::v1::{
    DutyHeader, DutyTable, RecordDutyRequest, RecordDutyResponse, record_duty_request::Payload,
};
use tonic::Status;

/// Records a lap log.
///
/// # Errors
/// What the server refuses.
pub async fn record_csv(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    csv: &str,
) -> Result<RecordDutyResponse, Status> {
    let log = Log {
        csv: csv.into(),
        map: lap_map(),
    };
    record_log(clients, unit, request_id, start_time, log).await
}

/// Records a log in pieces of 1000 bytes.
///
/// # Errors
/// What the server refuses.
pub async fn record_log(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    log: Log,
) -> Result<RecordDutyResponse, Status> {
    let header = DutyHeader {
        unit: unit.into(),
        request_id: request_id.into(),
        start_time: Some(start_time),
        session: "race".into(),
        source: "lap.csv".into(),
        channel_map: Some(log.map),
        ..Default::default()
    };
    let mut messages = vec![Payload::Header(header)];
    messages.extend(
        log.csv
            .as_bytes()
            .chunks(1000)
            .map(|piece| Payload::Csv(piece.to_vec())),
    );
    let stream = messages
        .into_iter()
        .map(|p| RecordDutyRequest { payload: Some(p) });
    Ok(clients
        .duty
        .record_duty(tokio_stream::iter(stream.collect::<Vec<_>>()))
        .await?
        .into_inner())
}

/// Records duty that is reduced already.
///
/// # Errors
/// What the server refuses.
pub async fn record_table(
    clients: &mut Clients,
    unit: &str,
    request_id: &str,
    start_time: Timestamp,
    table: DutyTable,
) -> Result<RecordDutyResponse, Status> {
    let header = DutyHeader {
        unit: unit.into(),
        request_id: request_id.into(),
        start_time: Some(start_time),
        ..Default::default()
    };
    let messages =
        [Payload::Header(header), Payload::Reduced(table)].map(|payload| RecordDutyRequest {
            payload: Some(payload),
        });
    Ok(clients
        .duty
        .record_duty(tokio_stream::iter(messages))
        .await?
        .into_inner())
}

//! Inspections over real gRPC: the poller sees predictions change when one lands, a plugin from outside has it all without a line of
//! its own, a limit measured past overrules, and nothing is learnt of a reading that cannot be.

mod command;
mod found;
mod landing;
mod outside;

use ringland_proto::v1::{
    Inspection, MeasuredReading, Prediction, RecordInspectionRequest, RecordInspectionResponse,
    WatchPredictionsResponse, watch_predictions_response::Change,
};
use ringland_tests::{Clients, Shop, at, lap_csv, record_csv};
use std::time::Duration;
use tonic::Status;

fn line(reading: &str, value: f64, sd: f64) -> MeasuredReading {
    MeasuredReading {
        reading: reading.into(),
        value,
        instrument: "gauge".into(),
        instrument_id: "gauge 1".into(),
        instrument_sd: Some(sd),
        ..Default::default()
    }
}

fn of(component: &str, seconds: i64, readings: Vec<MeasuredReading>) -> Inspection {
    Inspection {
        component: component.into(),
        inspection_time: Some(at(seconds)),
        inspected_by: "builder".into(),
        readings,
        ..Default::default()
    }
}

async fn record(
    clients: &mut Clients,
    inspection: Inspection,
) -> Result<RecordInspectionResponse, Status> {
    let request = RecordInspectionRequest {
        inspection: Some(inspection),
        ..Default::default()
    };
    let answer = clients.inspections.record_inspection(request).await?;
    Ok(answer.into_inner())
}

fn median(prediction: &Prediction) -> f64 {
    let life = prediction.life.and_then(|life| life.events);
    life.expect("a life").p50
}

fn reading(prediction: &Prediction, name: &str) -> (f64, Option<f64>) {
    let found = prediction.readings.iter().find(|r| r.reading == name);
    let found = found.expect("a reading");
    (found.now.expect("quantiles").p50, found.limit)
}

/// A shop whose rings have run three races.
async fn raced(clients: &mut Clients) -> Shop {
    let shop = Shop::open(clients, "a").await.expect("the shop opens");
    for (n, hour) in [(0, 10), (1, 20), (2, 30)] {
        let id = format!("race-{n}");
        let csv = lap_csv(1200);
        record_csv(clients, &shop.unit, &id, at(hour * 3600), &csv)
            .await
            .expect(&id);
    }
    shop
}

async fn next(watch: &mut tonic::Streaming<WatchPredictionsResponse>) -> Change {
    let message = tokio::time::timeout(Duration::from_secs(60), watch.message()).await;
    let message = message.expect("a change in time").expect("a change");
    message
        .expect("the watch goes on")
        .change
        .expect("a change says what")
}

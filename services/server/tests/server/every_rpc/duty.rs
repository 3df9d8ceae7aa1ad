//! Duty and what is predicted from it.

use super::{BUILD, PLATE, UNIT};
use crate::setup::{log, one_hour, serve};
use ringland_proto::v1::{
    self as api, batch_predict_result::Result as Answer, watch_predictions_response::Change,
};
use tokio_stream::StreamExt;

#[tokio::test]
pub(super) async fn duty_and_profiles() {
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
pub(super) async fn predictions() {
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
    let watch = api::WatchPredictionsRequest {
        targets: vec![PLATE.into()],
    };
    let mut changes = client.watch_predictions(watch).await.unwrap().into_inner();
    let first = changes.next().await.unwrap().unwrap().change;
    assert!(matches!(first, Some(Change::Prediction(p)) if p.component == PLATE));
}

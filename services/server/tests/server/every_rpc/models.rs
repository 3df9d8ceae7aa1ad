//! Models and the ledger as a whole.

use super::PLATE;
use crate::setup::{Served, serve};
use ringland_proto::v1 as api;
use tokio_stream::StreamExt;

#[tokio::test]
pub(super) async fn models_and_the_ledger() {
    let server = serve().await;
    server.with_plate().await;
    let second = server.activate("2.0.0").await;
    assert!(second.active);
    let mut models = server.models();
    let list = models
        .list_models(api::ListModelsRequest::default())
        .await
        .unwrap()
        .into_inner();
    let versions: Vec<_> = list
        .models
        .iter()
        .map(|model| (model.version.as_str(), model.active))
        .collect();
    assert_eq!(versions, [("1.0.0", false), ("2.0.0", true)]);
    let get = api::GetModelRequest {
        name: second.name.clone(),
    };
    let card = models
        .get_model(get)
        .await
        .unwrap()
        .into_inner()
        .card
        .unwrap();
    assert_eq!(card.mechanisms[0].rate_ln_sd, 0.3);
    assert_eq!(card.channels[0].name, "engine_speed_rad_s");

    let mut ledger = server.ledger();
    let status = ledger
        .get_ledger_status(api::GetLedgerStatusRequest {})
        .await
        .unwrap();
    let status = status.into_inner();
    assert_eq!((status.units, status.components), (1, 1));
    assert!(!status.server_version.is_empty());
    let steps = rebuild(&server).await;
    assert_eq!(steps.len(), 1);
    assert_eq!(
        (steps[0].component.as_str(), steps[0].done, steps[0].total),
        (PLATE, 1, 1)
    );
    assert_eq!(steps[0].error, "");
}

async fn rebuild(server: &Served) -> Vec<api::RebuildConditionsResponse> {
    let request = api::RebuildConditionsRequest::default();
    let stream = server
        .ledger()
        .rebuild_conditions(request)
        .await
        .unwrap()
        .into_inner();
    stream.map(Result::unwrap).collect().await
}

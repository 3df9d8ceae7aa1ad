//! What a treated part gains by its surfaces alone.

use super::{apply, get};
use ringland_proto::v1::{
    Component, CreateComponentRequest, WatchPredictionsRequest, watch_predictions_response::Change,
};
use ringland_tests::{Clients, Shop, install, open_shop};
use std::time::Duration;

async fn predict(clients: &mut Clients, shop: &Shop, component: &str) -> (f64, f64) {
    let predicted = shop.predict_part(clients, component).await;
    let prediction = predicted.expect(component);
    let events = prediction.life.and_then(|life| life.events);
    (events.expect("a life").p50, prediction.risk_next_event)
}

async fn next(
    watch: &mut tonic::Streaming<ringland_proto::v1::WatchPredictionsResponse>,
) -> Change {
    let message = tokio::time::timeout(Duration::from_secs(60), watch.message()).await;
    let message = message
        .expect("in time")
        .expect("a change")
        .expect("the watch goes on");
    message.change.expect("a change says what")
}

/// A peened spring outlives a bare one (Zimmerli's pairs of limits in Shigley: 398 against 241 MPa; order only), by its surface
/// and nothing else: one entered with the same surface, and no treatment, has the same life to the bit.
#[tokio::test(flavor = "multi_thread")]
async fn a_peened_spring_lives_longer_by_its_surface_alone() {
    let (_server, mut clients, shop) = open_shop(&["ring_pack", "valve_spring"]).await;
    let set = shop.set_event(&mut clients).await;
    set.expect("the unit takes its event");
    let bare = install(&mut clients, &shop.build, "spring-bare", "valve_spring").await;
    let peened = install(&mut clients, &shop.build, "spring-peened", "valve_spring").await;

    let request = WatchPredictionsRequest {
        targets: vec![peened.clone()],
    };
    let watch = clients.predictions.watch_predictions(request).await;
    let mut watch = watch.expect("a watch").into_inner();
    let Change::Prediction(before) = next(&mut watch).await else {
        panic!("a prediction first")
    };
    assert!(matches!(next(&mut watch).await, Change::CaughtUp(_)));
    let applied = apply(
        &mut clients,
        &peened,
        &["shot-peen", "fine-particle-peen"],
        "r-1",
    )
    .await;
    let applied = applied.expect("peened");
    let revision = applied.revision.expect("a revision");
    assert_eq!(revision.treatments, ["shot-peen", "fine-particle-peen"]);
    assert!(
        revision.reason.contains("shot-peen (catalogue 1."),
        "{}",
        revision.reason
    );
    assert!(
        revision.reason.ends_with(": sheet 7"),
        "{}",
        revision.reason
    );
    let told = |word: &str| {
        applied
            .findings
            .iter()
            .any(|f| format!("{f:?}").contains(word))
    };
    assert!(
        told("sanctioning body") && told("crack") && told("stock"),
        "{:?}",
        applied.findings
    );
    let p50 =
        |p: &ringland_proto::v1::Prediction| p.life.and_then(|l| l.events).expect("a life").p50;
    // The unit's new event was told of shortly before: the prediction of before may come once more.
    loop {
        let Change::Prediction(after) = next(&mut watch).await else {
            panic!("the watcher is told")
        };
        if p50(&after) > 2.0 * p50(&before) {
            break;
        }
    }
    // The same request again is the same revision.
    let again = apply(
        &mut clients,
        &peened,
        &["shot-peen", "fine-particle-peen"],
        "r-1",
    )
    .await;
    assert_eq!(again.expect("again").revision.expect("it"), revision);

    let component = get(&mut clients, &peened).await;
    assert_eq!(component.treatments, revision.treatments);
    let by_hand = Component {
        component_type: "valve_spring".into(),
        surfaces: component.surfaces,
        ..Default::default()
    };
    let request = CreateComponentRequest {
        component_id: "spring-by-hand".into(),
        component: Some(by_hand),
        ..Default::default()
    };
    let by_hand = clients
        .components
        .create_component(request)
        .await
        .expect("by hand");
    let by_hand = by_hand.into_inner().name;
    let treated = predict(&mut clients, &shop, &peened).await;
    let untreated = predict(&mut clients, &shop, &bare).await;
    assert!(
        treated.0 > 2.0 * untreated.0 && treated.1 < untreated.1,
        "{treated:?} {untreated:?}"
    );
    // Drawn with its own seed, so the medians agree and not the bits; the risk is no draw.
    let same = predict(&mut clients, &shop, &by_hand).await;
    assert!(
        (same.0 / treated.0 - 1.0).abs() < 0.15,
        "{same:?} {treated:?}"
    );
}

//! How power fades.

use super::{Cell, seating::in_order};
use ringland_proto::v1::{AssessPowerFadeRequest, PowerPull};
use ringland_tests::plugin;
use tonic::Code;

/// Power as measured and by the rings; what they do not explain is said and changes no prediction.
#[tokio::test(flavor = "multi_thread")]
async fn power_fades_as_measured_and_as_the_rings_explain() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let before = cell
        .shop
        .predict(&mut cell.clients)
        .await
        .expect("a prediction");
    let pull = |events: f64, power_w: f64| PowerPull {
        events: Some(events),
        power_w,
        ..Default::default()
    };
    let request = AssessPowerFadeRequest {
        unit: cell.shop.unit.clone(),
        profile: cell.shop.profile.clone(),
        pulls: vec![
            pull(0.0, 332_600.0),
            pull(0.1, 332_000.0),
            pull(0.2, 290_000.0),
        ],
        ..Default::default()
    };
    let found = cell
        .clients
        .running_in
        .assess_power_fade(request)
        .await
        .expect("a fade")
        .into_inner();
    println!("{}", found.text);
    let predicted = found.predicted.expect("the rings have the reading");
    assert!(in_order(predicted.loss_fraction_now.expect("now")));
    assert_eq!(predicted.components.len(), 2, "the old rings and the new");
    assert!(!predicted.components[0].drivers.is_empty());
    let measured = found.measured.expect("two ages");
    assert!(
        in_order(measured.loss_fraction_now.expect("now"))
            && measured.loss_fraction_now.expect("now").p50 > 0.05
    );
    let comparison = found.comparison.expect("both");
    assert!(comparison.unexplained, "{comparison:?}");
    assert!(found.text.contains("valve sealing"), "{}", found.text);
    let after = cell
        .shop
        .predict(&mut cell.clients)
        .await
        .expect("a prediction");
    assert_eq!(before.life, after.life, "nothing was learnt from it");
    let nowhere = AssessPowerFadeRequest {
        unit: "units/none".into(),
        ..Default::default()
    };
    let status = cell
        .clients
        .running_in
        .assess_power_fade(nowhere)
        .await
        .expect_err("no such unit");
    assert_eq!(status.code(), Code::NotFound);
}

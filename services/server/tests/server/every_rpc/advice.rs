//! Alternatives side by side, and the break-in day.

use super::{NEW_LIFE, PLATE, UNIT, close};
use crate::setup::serve;
use ringland_proto::v1 as api;

/// Plates that wear half as fast.
fn finer() -> api::Alternative {
    let face = api::SurfaceState {
        properties: [("wear_coefficient_m2_n".to_owned(), 0.5)].into(),
        ..Default::default()
    };
    api::Alternative {
        label: "finer".into(),
        surfaces: [("face".to_owned(), face)].into(),
        ..Default::default()
    }
}

#[tokio::test]
pub(super) async fn comparisons() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.comparisons();
    let compare = api::CompareRequest {
        component: PLATE.into(),
        alternatives: vec![api::Alternative::default(), finer()],
        ..Default::default()
    };
    let comparison = client.compare(compare).await.unwrap().into_inner();
    let median = |index: usize| {
        let life = comparison.alternatives[index].life.as_ref().unwrap();
        life.events.unwrap().p50
    };
    close(median(0), NEW_LIFE);
    close(median(1), 2.0 * NEW_LIFE);
    let ratio = comparison.differences[0].life_ratio.unwrap().p50.unwrap();
    close(ratio.at_least.unwrap(), 2.0);
    let candidate = api::UnitCandidate {
        changes: vec![api::UnitChange {
            component_type: "test_plate".into(),
            alternative: Some(finer()),
            ..Default::default()
        }],
        ..Default::default()
    };
    let compare = api::CompareUnitRequest {
        unit: UNIT.into(),
        candidates: vec![candidate],
        ..Default::default()
    };
    let unit = client.compare_unit(compare).await.unwrap().into_inner();
    let change = unit.candidates[0].median_change_events.unwrap();
    close(change.at_least.unwrap(), NEW_LIFE);
}

#[tokio::test]
pub(super) async fn running_in() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.running_in();
    // Litres a minute, invented: it falls and stays.
    let pulls = [170.0, 105.0, 90.0, 86.0, 85.0, 85.0, 85.0].map(|l_min| api::BreakInPull {
        blow_by_m3_s: Some(l_min * 1e-3 / 60.0),
        ..Default::default()
    });
    let assess = api::AssessSeatingRequest {
        pulls: pulls.into(),
        ..Default::default()
    };
    let seating = client.assess_seating(assess).await.unwrap().into_inner();
    assert_eq!(seating.decision(), api::SeatingDecision::Stop);
    assert_eq!(seating.pulls.len(), 7);
    // One in a hundred lost in ten events.
    let pulls = (0..=10).map(|events| api::PowerPull {
        events: Some(f64::from(events)),
        power_w: 300e3 * (1.0 - 1e-3 * f64::from(events)),
        ..Default::default()
    });
    let assess = api::AssessPowerFadeRequest {
        unit: UNIT.into(),
        pulls: pulls.collect(),
        ..Default::default()
    };
    let fade = client.assess_power_fade(assess).await.unwrap().into_inner();
    let loss = fade.measured.unwrap().loss_fraction_per_event.unwrap();
    assert!((loss.p50 - 1e-3).abs() < 1e-5, "{loss:?}");
}

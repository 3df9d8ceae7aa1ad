//! What moves the earliest limit of a unit.

use super::{engine, known, parts::treated};
use ringland_proto::v1::{
    Alternative, CompareRequest, CompareUnitRequest, SurfaceState, UnitCandidate, UnitChange,
    UnitComparison,
};
use ringland_tests::{Clients, Shop};
use std::collections::HashMap;
use tonic::Code;

async fn compare_unit(
    clients: &mut Clients,
    shop: &Shop,
    candidates: Vec<UnitCandidate>,
) -> UnitComparison {
    let request = CompareUnitRequest {
        unit: shop.unit.clone(),
        profile: shop.profile.clone(),
        candidates,
        horizon_events: Some(1000.0),
        samples: 1024,
        ..Default::default()
    };
    let answer = clients.comparisons.compare_unit(request).await;
    answer.expect("a comparison").into_inner()
}

/// Common practice, no source: doubling the rings alone is worthless beyond the life of the bearings. As a consequence of the
/// lives, checked in sign and bound.
#[tokio::test(flavor = "multi_thread")]
async fn doubling_the_rings_alone_gains_no_more_than_the_bearing_lets_it() {
    let (_server, mut clients, shop, bearing) = engine().await;
    let on = |component_type: &str, alternative: Alternative| UnitCandidate {
        label: String::new(),
        changes: vec![UnitChange {
            component_type: component_type.into(),
            alternative: Some(alternative),
            ..Default::default()
        }],
    };
    let hone = on("ring_pack", treated(&["plateau-hone"]));
    let coat = on("plain_bearing", treated(&["polymer-bearing-coat"]));
    let both = UnitCandidate {
        label: "both".into(),
        changes: [hone.changes.clone(), coat.changes.clone()].concat(),
    };
    let answer = compare_unit(&mut clients, &shop, vec![hone, coat, both]).await;
    let life_of = |component: &str| {
        let mut parts = answer.components.iter();
        let part = parts
            .find(|part| part.component == component)
            .expect("a part");
        part.life.and_then(|life| life.events).expect("a life")
    };
    let earliest = |limit: &Option<ringland_proto::v1::EarliestLimit>| {
        let life = limit.as_ref().and_then(|limit| limit.life);
        life.and_then(|life| life.events).expect("a life")
    };
    let now = earliest(&answer.earliest);
    let (rings, bearing_life) = (life_of(&shop.component), life_of(&bearing));
    assert!(now.p50 <= rings.p50 && now.p50 <= bearing_life.p50);
    let effect = |label: &str| {
        let mut candidates = answer.candidates.iter();
        candidates.find(|c| c.label == label).expect(label)
    };
    let honed = effect("plateau hone on ring pack");
    let own = known(Some(honed.own_life_ratios[0]));
    let after = earliest(&honed.earliest);
    assert!(own > 1.0, "{own}");
    // Never worse, never beyond the bearing, and never the rings' own gain.
    assert!(after.p50 >= now.p50 && honed.probability_earlier <= 0.0);
    assert!(after.p50 <= bearing_life.p50 && after.p95 <= bearing_life.p95);
    assert!(
        after.p50 / now.p50 <= own * (1.0 + 1e-9),
        "{} {own}",
        after.p50 / now.p50
    );
    // Both together do at least what each does alone.
    let together = earliest(&effect("both").earliest);
    let coated = earliest(&effect("polymer bearing coat on plain bearing").earliest);
    assert!(together.p50 >= after.p50.max(coated.p50));
    assert_eq!(
        answer.candidates[0].label, "both",
        "ranked by the unit's limit"
    );
    let shares: f64 = answer
        .earliest
        .as_ref()
        .expect("a limit")
        .limits
        .iter()
        .map(|l| l.probability)
        .sum();
    assert!(shares <= 1.0 + 1e-9);
    assert!(
        answer
            .notes
            .iter()
            .any(|note| note.value.contains("independently"))
    );
    assert!(
        answer
            .verdict
            .contains("nothing of this shop proves it yet"),
        "{}",
        answer.verdict
    );

    // Without a list all of the catalogue is tried; the same call gives the same answer.
    let all = compare_unit(&mut clients, &shop, Vec::new()).await;
    assert!(all.candidates.len() > 4, "{:?}", all.candidates.len());
    assert_eq!(all, compare_unit(&mut clients, &shop, Vec::new()).await);
    assert_eq!(all.earliest, answer.earliest);
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_wrong_is_told_and_what_fails_fails_alone() {
    let (_server, mut clients, shop, bearing) = engine().await;
    let request = CompareRequest {
        component: bearing.clone(),
        profile: shop.profile.clone(),
        alternatives: vec![
            Alternative::default(),
            treated(&["plateau-hone", "none-such"]),
        ],
        ..Default::default()
    };
    let error = clients
        .comparisons
        .compare(request)
        .await
        .expect_err("unknown");
    assert_eq!(error.code(), Code::InvalidArgument);
    assert!(
        error.message().contains("alternatives[1].") && error.message().contains("none-such"),
        "{error}"
    );
    let change = |alternative: Alternative| UnitCandidate {
        label: String::new(),
        changes: vec![UnitChange {
            component: bearing.clone(),
            alternative: Some(alternative),
            ..Default::default()
        }],
    };
    let bad = SurfaceState {
        properties: HashMap::from([("rq_m".to_owned(), -1.0)]),
        ..Default::default()
    };
    let bad = Alternative {
        surfaces: HashMap::from([("shell".to_owned(), bad)]),
        ..Default::default()
    };
    let candidates = vec![change(bad), change(treated(&["polymer-bearing-coat"]))];
    let answer = compare_unit(&mut clients, &shop, candidates).await;
    assert!(answer.candidates[0].error.is_none());
    let error = answer.candidates[1].error.as_ref().expect("a refusal");
    assert_eq!(error.code, i32::from(Code::InvalidArgument));
}

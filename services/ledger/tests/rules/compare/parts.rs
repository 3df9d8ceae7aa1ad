//! Alternatives of a component.

use super::{close, face, limit};
use crate::shop::{Shop, part, profile};
use proptest::prelude::*;
use ringland_ledger::{
    Alternative, Basis, CompareRequest, ComparedTreatment, Comparison, Draws, ErrorKind,
    LedgerError, RenewalPrice, SurfaceState,
};
use ringland_store::Table;

fn request(id: &str, alternatives: &[Alternative]) -> CompareRequest {
    CompareRequest {
        component: part(id),
        profile: Some(profile("race")),
        alternatives: alternatives.to_vec(),
        draws: Draws::default(),
        ahead_events: Vec::new(),
        price: None,
    }
}

fn compare(shop: &Shop, id: &str, alternatives: &[Alternative]) -> Comparison {
    shop.ledger.compare(&request(id, alternatives)).unwrap()
}

#[test]
fn half_the_wear_is_twice_the_life_of_every_drawn_part() {
    let shop = Shop::open();
    shop.installed("wp", "wear_part", "engine-a");
    let mut request = request("wp", &[Alternative::default(), face(0.5)]);
    request.price = Some(RenewalPrice {
        part: 60.0,
        labour: 40.0,
    });
    let comparison = shop.ledger.compare(&request).unwrap();
    let labels: Vec<&str> = comparison
        .alternatives
        .iter()
        .map(|a| a.label.as_str())
        .collect();
    assert_eq!(labels, ["as it is", "other face"]);
    let difference = &comparison.differences[0];
    for quantile in [
        difference.life_ratio.p05,
        difference.life_ratio.p50,
        difference.life_ratio.p95,
    ] {
        close(quantile.at_least, 2.0);
        close(quantile.at_most, 2.0);
    }
    close(difference.mean_life_ratio.at_most, 2.0);
    assert!((difference.longer.more - 1.0).abs() < 1e-12);
    // The other half of the cost is worth one renewal more.
    let payback = difference.payback.unwrap();
    close(payback.break_even_price.at_least, 100.0);
    close(payback.break_even_drawn.p05.at_least, 100.0);
    assert!((payback.probability_pays - 1.0).abs() < 1e-12);
    let cost = comparison.alternatives[0].cost.unwrap();
    let mean = comparison.alternatives[0].mean_life_events;
    close(cost.mean.at_most, 100.0 / mean.at_least.unwrap());
    assert!(comparison.alternatives.iter().all(|a| a.model_prior_only));
    for said in [
        "x2.0",
        "wear stays the first limit",
        "nothing of this shop proves it yet",
    ] {
        assert!(
            difference.verdict.contains(said),
            "{said}: {}",
            difference.verdict
        );
    }
    assert_eq!(comparison.cautions, ["a measured limit comes first"]);
}

#[test]
fn what_is_compared_is_what_a_prediction_of_a_new_part_says() {
    let shop = Shop::open();
    let name = shop.installed("wp", "wear_part", "engine-a");
    let comparison = compare(&shop, "wp", &[Alternative::default(), face(0.5)]);
    let prediction = shop.predict(&name).unwrap();
    let first = &comparison.alternatives[0];
    assert_eq!(first.life, prediction.life);
    assert_eq!(first.mechanisms, prediction.mechanisms);
    assert_eq!(first.readings, prediction.readings);
    assert_eq!(
        first.risk_next_event.to_bits(),
        prediction.risk_next_event.to_bits()
    );
    assert_eq!(
        comparison,
        compare(&shop, "wp", &[Alternative::default(), face(0.5)])
    );
}

#[test]
fn the_present_condition_is_kept_and_nothing_is_stored() {
    let shop = Shop::open();
    let name = shop.installed("wp", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 900.0);
    let before = shop.store.dump(&[Table::Conditions, Table::Predictions]);
    let [_, _, commits, _] = shop.store.counts();
    let new = compare(&shop, "wp", &[Alternative::default(), face(0.5)]);
    assert_eq!(
        shop.store.counts()[2],
        commits,
        "a comparison of new parts commits nothing"
    );
    assert_eq!(
        shop.store.dump(&[Table::Conditions, Table::Predictions]),
        before
    );
    let mut request = request("wp", &[Alternative::default(), face(0.5)]);
    request.draws.basis = Basis::Present;
    let present = shop.ledger.compare(&request).unwrap();
    assert!(present.alternatives[0].life.events.p50 < new.alternatives[0].life.events.p50);
    assert_eq!(
        present.alternatives[0].life,
        shop.predict(&name).unwrap().life
    );
    assert!(
        present
            .notes
            .iter()
            .any(|note| note.expected.contains("crack check"))
    );
    assert!(
        !new.notes
            .iter()
            .any(|note| note.expected.contains("crack check"))
    );
}

#[test]
fn lives_beyond_the_horizon_are_at_least_that() {
    let shop = Shop::open();
    shop.installed("wp", "wear_part", "engine-a");
    let mut request = request("wp", &[Alternative::default(), face(0.1), face(1.0)]);
    request.draws.horizon_events = Some(2.0);
    let comparison = shop.ledger.compare(&request).unwrap();
    let [longer, same] = comparison.differences.as_slice() else {
        panic!("two differences");
    };
    // Ten times a life of about two: beyond the horizon whatever is drawn; some of the first are too.
    assert!(comparison.alternatives[1].beyond_horizon_probability >= 1.0);
    assert!(longer.life_ratio.p95.at_most.is_none());
    assert!(longer.longer.more > 0.0 && longer.longer.open > 0.0);
    assert!(longer.verdict.contains("open") || longer.verdict.contains("at least"));
    // The same part is the same part beyond the horizon too.
    close(same.life_ratio.p05.at_least, 1.0);
    close(same.life_ratio.p95.at_most, 1.0);
    assert!((same.longer.equal - 1.0).abs() < 1e-12);
    assert!(
        same.verdict.contains("reads nothing of what differs"),
        "{}",
        same.verdict
    );
}

#[test]
fn everything_wrong_with_a_call_comes_at_once() {
    let shop = Shop::open();
    shop.installed("wp", "wear_part", "engine-a");
    let fields = |error: LedgerError| -> Vec<String> {
        assert_eq!(error.kind(), ErrorKind::InvalidArgument, "{error}");
        error.violations().iter().map(|v| v.field.clone()).collect()
    };
    let mut wrong = request("wp", &[Alternative::default()]);
    wrong.draws.horizon_events = Some(0.0);
    wrong.draws.samples = Some(3);
    wrong.price = Some(RenewalPrice {
        part: -1.0,
        labour: 0.0,
    });
    let said = fields(shop.ledger.compare(&wrong).unwrap_err());
    assert_eq!(
        said,
        ["horizon_events", "samples", "alternatives", "price.part"]
    );
    let mut lip = face(1.0);
    lip.surfaces.insert("lip".into(), SurfaceState::default());
    let many = vec![Alternative::default(); 9];
    let said = fields(shop.ledger.compare(&request("wp", &many)).unwrap_err());
    assert_eq!(said, ["alternatives"]);
    let untold = Alternative {
        treatments: vec![ComparedTreatment {
            treatment: "polishing-by-moonlight".into(),
            ..ComparedTreatment::default()
        }],
        ..Alternative::default()
    };
    let wrong = request("wp", &[limit(-1.0), lip, untold]);
    let said = fields(shop.ledger.compare(&wrong).unwrap_err());
    assert_eq!(said.len(), 3, "{said:?}");
    assert_eq!(said[0], "alternatives[0].spec.numbers.limit");
    assert!(
        said[1].starts_with("alternatives[1].surfaces.lip"),
        "{said:?}"
    );
    assert!(said[2].starts_with("alternatives[2]."), "{said:?}");
    let missing = shop
        .ledger
        .compare(&request("none", &[face(1.0), face(2.0)]));
    assert_eq!(missing.unwrap_err().kind(), ErrorKind::NotFound);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Any two states of a face: against itself a ratio of one, against each other inverse ratios.
    #[test]
    fn laws_of_ratios(one in 0.1..10.0_f64, other in 0.1..10.0_f64, horizon in prop::option::of(1.0..20.0_f64)) {
        let shop = Shop::open();
        shop.installed("wp", "wear_part", "engine-a");
        let ask = |a: f64, b: f64| {
            let mut request = request("wp", &[face(a), face(b)]);
            request.draws.horizon_events = horizon;
            shop.ledger.compare(&request).unwrap().differences.swap_remove(0)
        };
        let same = ask(one, one);
        prop_assert_eq!((same.life_ratio.p05.at_least, same.life_ratio.p95.at_most), (Some(1.0), Some(1.0)));
        let (there, back) = (ask(one, other), ask(other, one));
        prop_assert_eq!(there.longer.more.to_bits(), back.longer.less.to_bits());
        prop_assert_eq!(there.longer.open.to_bits(), back.longer.open.to_bits());
        if let (Some(x), Some(y)) = (there.life_ratio.p50.at_least, back.life_ratio.p50.at_most) {
            // The median of an even number of draws is a mean of two, whose inverse is not quite the mean of inverses.
            prop_assert!((x * y - 1.0).abs() < 0.01, "{} {}", x, y);
        }
    }
}

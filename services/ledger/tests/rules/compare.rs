//! Comparisons: alternatives of a component, and what moves the earliest limit of a unit.

use crate::{
    fake::{FakePlugin, wear_part},
    shop::{Shop, build, part, profile, unit},
};
use proptest::prelude::*;
use ringland_host::contract::Card;
use ringland_ledger::{
    Alternative, Basis, ChangeTarget, CompareRequest, CompareUnitRequest, ComparedTreatment,
    Comparison, Draws, ErrorKind, LedgerError, Reason, RenewalPrice, Spec, SurfaceState,
    UnitCandidate, UnitChange, UnitComparison,
};
use ringland_store::Table;
use std::collections::BTreeMap;

/// With another wear coefficient of the face, exact unless a spread is given.
fn face(coefficient: f64) -> Alternative {
    let name = "wear_coefficient_m2_n".to_owned();
    let surface = SurfaceState {
        properties: BTreeMap::from([(name, coefficient)]),
        ..SurfaceState::default()
    };
    Alternative {
        surfaces: BTreeMap::from([("face".into(), surface)]),
        ..Alternative::default()
    }
}

fn limit(limit: f64) -> Alternative {
    Alternative {
        spec: Spec {
            numbers: BTreeMap::from([("limit".into(), limit)]),
            ..Spec::default()
        },
        ..Alternative::default()
    }
}

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

/// The wear part under another name, wearing so many times as fast.
fn other_type(component_type: &str, factor: f64) -> FakePlugin {
    let card = Card {
        component_type: component_type.into(),
        ..wear_part()
    };
    FakePlugin {
        rate: 1e-7 * factor,
        ..FakePlugin::of(card)
    }
}

fn candidate(component_type: &str, alternative: Alternative) -> UnitCandidate {
    UnitCandidate {
        label: String::new(),
        changes: vec![UnitChange {
            target: ChangeTarget::Type(component_type.into()),
            alternative,
        }],
    }
}

fn unit_request(candidates: &[UnitCandidate]) -> CompareUnitRequest {
    CompareUnitRequest {
        unit: unit("engine-a"),
        profile: None,
        candidates: candidates.to_vec(),
        draws: Draws::default(),
        steps: None,
    }
}

fn compare_unit(shop: &Shop, candidates: &[UnitCandidate]) -> UnitComparison {
    shop.ledger.compare_unit(&unit_request(candidates)).unwrap()
}

/// A unit of two types, the second wearing `factor` times as fast as the first.
fn two_parts(factor: f64) -> Shop {
    let shop = Shop::open();
    shop.activate(&other_type("other_part", factor));
    shop.installed("one", "wear_part", "engine-a");
    shop.installed("two", "other_part", "engine-a");
    shop
}

fn close(value: Option<f64>, expected: f64) {
    let value = value.unwrap();
    assert!(
        (value - expected).abs() < 1e-9 * expected.abs(),
        "{value} {expected}"
    );
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

#[test]
fn a_change_to_what_is_never_first_moves_nothing() {
    // The second wears a hundred times as fast: no draw of the first comes first.
    let shop = two_parts(100.0);
    let answer = compare_unit(&shop, &[candidate("wear_part", face(0.01))]);
    assert_eq!(answer.earliest.limits.len(), 1);
    assert_eq!(answer.earliest.limits[0].component, part("two"));
    let effect = answer.candidates[0].effect.as_ref().unwrap();
    assert_eq!(effect.earliest, answer.earliest);
    assert!((effect.later.equal - 1.0).abs() < 1e-12);
    assert_eq!(effect.median_change_events.at_most, Some(0.0));
    assert_eq!(effect.change_events.p95.at_most, Some(0.0));
    close(effect.own_life_ratios[0].at_least.or(Some(100.0)), 100.0);
    assert!(answer.steps.is_empty(), "what moves nothing is not advised");
    assert!(
        answer.verdict.contains("Nothing that was tried moves"),
        "{}",
        answer.verdict
    );
}

#[test]
fn changes_are_ranked_by_the_unit_and_not_by_their_own_gain() {
    let shop = two_parts(3.0);
    let candidates = [
        candidate("wear_part", face(0.1)),
        candidate("other_part", face(0.5)),
    ];
    let answer = compare_unit(&shop, &candidates);
    let labels: Vec<&str> = answer.candidates.iter().map(|c| c.label.as_str()).collect();
    assert_eq!(
        labels,
        ["other face on other part", "other face on wear part"]
    );
    let effects: Vec<_> = answer
        .candidates
        .iter()
        .map(|c| c.effect.as_ref().unwrap())
        .collect();
    close(effects[0].own_life_ratios[0].at_most, 2.0);
    close(effects[1].own_life_ratios[0].at_most, 10.0);
    // One after another both help, as the limit moves from the second to the first.
    assert_eq!(answer.steps.len(), 2);
    assert_eq!(answer.steps[0].label, labels[0]);
    let limiting: Vec<_> = answer
        .steps
        .iter()
        .map(|s| s.earliest.limits[0].component.clone())
        .collect();
    assert_eq!(answer.earliest.limits[0].component, part("two"));
    assert_eq!(limiting, [part("two"), part("two")]);
    let medians: Vec<f64> = answer
        .steps
        .iter()
        .map(|s| s.earliest.life.events.p50)
        .collect();
    assert!(answer.earliest.life.events.p50 < medians[0] && medians[0] < medians[1]);
    assert_eq!(
        answer.earliest,
        compare_unit(&shop, &candidates).earliest,
        "again the same"
    );
}

#[test]
fn changes_to_one_part_come_one_after_another() {
    // The other part lasts so long that the changed one is the limit all the while.
    let shop = two_parts(0.01);
    let candidates = [
        candidate("wear_part", face(0.2)),
        candidate("wear_part", limit(4.0)),
    ];
    let answer = compare_unit(&shop, &candidates);
    assert_eq!(answer.steps.len(), 2, "{:?}", answer.steps);
    let both = UnitCandidate {
        label: "both".into(),
        changes: candidates.iter().flat_map(|c| c.changes.clone()).collect(),
    };
    let at_once = compare_unit(&shop, &[both]);
    let effect = at_once.candidates[0].effect.as_ref().unwrap();
    assert_eq!(effect.earliest, answer.steps[1].earliest);
}

#[test]
fn a_part_that_fails_fails_alone_and_is_told() {
    let shop = two_parts(2.0);
    let trap = FakePlugin {
        traps: true,
        ..other_type("trap_part", 1.0)
    };
    shop.activate(&trap);
    shop.installed("three", "trap_part", "engine-a");
    let candidates = [
        candidate("trap_part", face(0.5)),
        candidate("other_part", limit(-1.0)),
        candidate("other_part", face(0.5)),
    ];
    let answer = compare_unit(&shop, &candidates);
    let lives: Vec<bool> = answer.components.iter().map(|c| c.life.is_ok()).collect();
    assert_eq!(lives, [true, false, true], "one, three, two");
    assert!(
        answer
            .notes
            .iter()
            .any(|note| note.field == "components/three")
    );
    let reasons: Vec<Option<Reason>> = answer
        .candidates
        .iter()
        .map(|c| c.effect.as_ref().err().map(LedgerError::reason))
        .collect();
    assert_eq!(
        reasons,
        [None, Some(Reason::ModelFailed), Some(Reason::SpecRefused)]
    );
    let shares: f64 = answer.earliest.limits.iter().map(|l| l.probability).sum();
    assert!((shares - 1.0).abs() < 1e-9);
    assert!(
        answer
            .notes
            .iter()
            .any(|note| note.value.contains("independently"))
    );
}

#[test]
fn a_call_for_a_unit_has_limits() {
    let shop = two_parts(2.0);
    let refuse = |request: &CompareUnitRequest| shop.ledger.compare_unit(request).unwrap_err();
    let unknown = refuse(&unit_request(&[candidate("gear_set", face(1.0))]));
    let fields: Vec<&str> = unknown
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["candidates[0].changes[0].component_type"]);
    let many = vec![candidate("wear_part", face(1.0)); 65];
    assert_eq!(
        refuse(&unit_request(&many)).violations()[0].field,
        "candidates"
    );
    let mut empty = unit_request(&[UnitCandidate::default()]);
    empty.steps = Some(9);
    let fields: Vec<String> = refuse(&empty)
        .violations()
        .iter()
        .map(|v| v.field.clone())
        .collect();
    assert_eq!(fields, ["steps", "candidates[0].changes"]);
    let bare = CompareUnitRequest {
        unit: unit("engine-b"),
        ..unit_request(&[])
    };
    assert_eq!(refuse(&bare).reason(), Reason::NotInstalled);
}

#[test]
fn parts_that_end_at_once_share_the_first_place() {
    let shop = Shop::open();
    // No spread and the same rate: every draw is a tie.
    let mut card = wear_part();
    card.mechanisms.iter_mut().for_each(|m| m.rate_ln_sd = 0.0);
    shop.activate_card(card);
    shop.installed("one", "wear_part", "engine-a");
    shop.installed("two", "wear_part", "engine-a");
    let answer = compare_unit(&shop, &[candidate("wear_part", face(0.5))]);
    for limit in &answer.earliest.limits {
        assert!((limit.probability - 0.5).abs() < 1e-9, "{limit:?}");
    }
    // A change to one of the two is worth nothing.
    let one = UnitCandidate {
        label: String::new(),
        changes: vec![UnitChange {
            target: ChangeTarget::Component(part("one")),
            alternative: face(0.5),
        }],
    };
    let answer = compare_unit(&shop, &[one]);
    let effect = answer.candidates[0].effect.as_ref().unwrap();
    assert_eq!(effect.median_change_events.at_most, Some(0.0));
    assert_eq!(answer.candidates[0].label, "other face on one");
    assert_eq!(build("engine-a", "b1").parent(), answer.unit);
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

    /// The unit is never better than any of its parts, whatever is done to the others.
    #[test]
    fn a_unit_is_no_better_than_its_parts(factor in 0.2..5.0_f64, coefficient in 0.05..1.0_f64) {
        let shop = two_parts(factor);
        let answer = compare_unit(&shop, &[candidate("wear_part", face(coefficient))]);
        for part in &answer.components {
            let life = part.life.as_ref().unwrap().life.events;
            prop_assert!(answer.earliest.life.events.p50 <= life.p50);
            prop_assert!(answer.earliest.life.events.p95 <= life.p95);
        }
        let effect = answer.candidates[0].effect.as_ref().unwrap();
        let untouched = answer.components[1].life.as_ref().unwrap().life.events;
        prop_assert!(effect.earliest.life.events.p50 <= untouched.p50, "bounded by the other part");
        prop_assert!(effect.later.less <= 0.0, "less wear is never earlier");
    }
}

//! What moves the earliest limit of a unit.

use super::{close, face, limit};
use crate::{
    fake::{FakePlugin, wear_part},
    shop::{Shop, build, part, unit},
};
use proptest::prelude::*;
use ringland_host::contract::Card;
use ringland_ledger::{
    Alternative, ChangeTarget, CompareUnitRequest, Draws, LedgerError, Reason, UnitCandidate,
    UnitChange, UnitComparison,
};

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

//! Does a treatment of a part pay.

use super::{events, known, median_ratio};
use ringland_proto::v1::{
    Alternative, AlternativeForecast, CompareRequest, ComparedTreatment, Comparison,
    ComparisonBasis, EvidenceGrade, RenewalPrice,
};
use ringland_tests::{Clients, Shop, install, open_shop};

pub(super) fn treated(ids: &[&str]) -> Alternative {
    let treatments = ids.iter().map(|id| ComparedTreatment {
        treatment: (*id).into(),
        ..Default::default()
    });
    Alternative {
        treatments: treatments.collect(),
        ..Default::default()
    }
}

async fn compare(
    clients: &mut Clients,
    shop: &Shop,
    component: &str,
    alternatives: Vec<Alternative>,
) -> Comparison {
    let request = CompareRequest {
        component: component.into(),
        profile: shop.profile.clone(),
        alternatives,
        price: Some(RenewalPrice {
            part: 400.0,
            labour: 900.0,
        }),
        ..Default::default()
    };
    let answer = clients.comparisons.compare(request).await;
    answer.expect(component).into_inner()
}

/// Common practice, no source: a plateau-honed bore about doubles the life of the rings, and seats more slowly. Checked in
/// direction and within a factor, not in value.
#[tokio::test(flavor = "multi_thread")]
async fn rings_in_a_plateau_honed_bore_live_longer_and_seat_more_slowly() {
    let (_server, mut clients, shop) = open_shop(&["ring_pack"]).await;
    let mut honed = treated(&["plateau-hone"]);
    honed.treatments[0].price = Some(180.0);
    let alternatives = vec![Alternative::default(), honed, Alternative::default()];
    let answer = compare(&mut clients, &shop, &shop.component, alternatives).await;
    let labels: Vec<&str> = answer
        .alternatives
        .iter()
        .map(|a| a.label.as_str())
        .collect();
    assert_eq!(labels, ["as it is", "plateau hone", "as it is (2)"]);
    assert_eq!(answer.basis(), ComparisonBasis::New);
    let (plain, honed) = (&answer.alternatives[0], &answer.alternatives[1]);
    let difference = &answer.differences[0];

    // As a prediction of the part, which has run next to nothing, says.
    let predicted = shop.predict(&mut clients).await.expect("a prediction");
    let now = predicted.life.and_then(|life| life.events).expect("a life");
    assert!((events(plain).p50 / now.p50 - 1.0).abs() < 0.1, "{plain:?}");

    let ratio = median_ratio(difference).at_least.expect("a bound");
    assert!(ratio > 1.0 && ratio < 4.0, "{ratio}");
    assert!(difference.probability_longer > 0.5);
    let seats = |forecast: &AlternativeForecast| {
        let seating = forecast.seating.and_then(|seating| seating.events);
        known(seating.expect("the rings seat").p50)
    };
    assert!(
        seats(plain) > 0.0 && seats(honed) > seats(plain),
        "{} {}",
        seats(plain),
        seats(honed)
    );

    // Friction power in both, now and at each of the usual times.
    let powers: Vec<f64> = difference.power_changes.iter().map(|c| c.events).collect();
    assert_eq!(powers, [0.0, 1.0, 2.0, 4.0, 8.0, 16.0]);
    assert!(
        difference
            .power_changes
            .iter()
            .all(|c| c.first_w > 0.0 && c.alternative_w > 0.0)
    );
    let ahead: Vec<f64> = honed.readings[0].ahead.iter().map(|a| a.events).collect();
    assert_eq!(
        ahead,
        [1.0, 2.0, 4.0, 8.0, 16.0],
        "the grid of the seating does not show"
    );

    // First probabilities, and what the numbers rest on.
    for each in [plain, honed] {
        let first: f64 = each.mechanisms.iter().map(|m| m.first_probability).sum();
        assert!((first + each.beyond_horizon_probability - 1.0).abs() < 1e-9);
        assert!(each.model_prior_only);
    }
    assert_eq!(honed.evidence.len(), 1);
    assert_eq!(honed.evidence[0].grade(), EvidenceGrade::CommonPractice);
    assert!(plain.evidence.is_empty());
    assert!(
        difference
            .verdict
            .contains("nothing of this shop proves it yet"),
        "{}",
        difference.verdict
    );
    assert!(!answer.cautions.is_empty() && !answer.leaves_out.is_empty());

    // Price of a renewal over the life, and what the hone may cost.
    let cost = honed.cost.expect("a cost");
    assert!(
        (cost.renewal_price - 1480.0).abs() < 1e-9 && (cost.treatments_price - 180.0).abs() < 1e-9
    );
    let payback = difference.payback.expect("a payback");
    let worth = payback
        .break_even_drawn
        .expect("quantiles")
        .p50
        .expect("a median");
    assert!((worth.at_least.expect("a bound") - 1300.0 * (ratio - 1.0)).abs() < 1e-6 * 1300.0);

    // A against A: one in every draw.
    let same = &answer.differences[1];
    let of_same = same.life_ratio.expect("a ratio");
    for quantile in [of_same.p05, of_same.p50, of_same.p95] {
        assert!((known(quantile) - 1.0).abs() < 1e-12);
    }
    assert!((same.probability_equal - 1.0).abs() < 1e-12);
}

/// Zimmerli, "Shot blasting and its effects on fatigue life", in "Surface Treatment of Metals" (ASM 1941), as the read-me of
/// the valve spring's model tells: a peened spring carries about half as much again. At the slope of its fatigue line
/// (about ten) no life of a spring that was not peened comes near that of one that was.
#[tokio::test(flavor = "multi_thread")]
async fn a_peened_spring_outlives_one_that_is_not() {
    let (_server, mut clients, shop) = open_shop(&["ring_pack", "valve_spring"]).await;
    let spring = install(&mut clients, &shop.build, "spring", "valve_spring").await;
    let alternatives = vec![
        Alternative::default(),
        treated(&["shot-peen"]),
        treated(&["shot-peen", "fine-particle-peen"]),
    ];
    let answer = compare(&mut clients, &shop, &spring, alternatives).await;
    for difference in &answer.differences {
        assert!(
            difference.probability_longer > 0.99,
            "{}",
            difference.verdict
        );
    }
    let [bare, peened, twice] = answer.alternatives.as_slice() else {
        panic!("three alternatives");
    };
    assert!(events(peened).p50 > 10.0 * events(bare).p50.max(1e-6));
    assert!(events(twice).p50 >= events(peened).p50);
    assert_eq!(twice.evidence.len(), 2);
    // Fatigue kept the bare wire; relieved of it, another mechanism has its share.
    assert_eq!(bare.limiting_mechanism, "fatigue");
    let fatigue = |forecast: &AlternativeForecast| {
        let mut mechanisms = forecast.mechanisms.iter();
        let found = mechanisms.find(|m| m.mechanism == "fatigue");
        found.expect("fatigue").first_probability
    };
    assert!(fatigue(twice) <= fatigue(bare));
}

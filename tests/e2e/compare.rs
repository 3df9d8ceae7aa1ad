//! Comparisons over real gRPC with the real plugins: does a treatment pay, what becomes the limit instead, and what moves the
//! earliest limit of a unit.

use ringland_proto::v1::{
    Alternative, AlternativeForecast, Bounds, CompareRequest, CompareUnitRequest,
    ComparedTreatment, Comparison, ComparisonBasis, Difference, EvidenceGrade, Quantiles,
    RenewalPrice, SurfaceState, UnitCandidate, UnitChange, UnitComparison,
};
use ringland_tests::{Clients, Server, Shop, install, plugin, program};
use std::{collections::HashMap, process::Command};
use tonic::Code;

fn treated(ids: &[&str]) -> Alternative {
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

fn events(forecast: &AlternativeForecast) -> Quantiles {
    let life = forecast.life.and_then(|life| life.events);
    life.expect("a life")
}

/// A number that no life beyond the horizon leaves open.
fn known(bounds: Option<Bounds>) -> f64 {
    let Bounds { at_least, at_most } = bounds.expect("bounds");
    assert_eq!(at_least, at_most, "known");
    at_least.expect("known")
}

fn median_ratio(difference: &Difference) -> Bounds {
    let ratio = difference.life_ratio.expect("a ratio");
    ratio.p50.expect("a median")
}

/// Common practice, no source: a plateau-honed bore about doubles the life of the rings, and seats more slowly. Checked in
/// direction and within a factor, not in value.
#[tokio::test(flavor = "multi_thread")]
async fn rings_in_a_plateau_honed_bore_live_longer_and_seat_more_slowly() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("a shop");
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
    let plugins = [
        plugin("ringland-plugin-ring-pack"),
        plugin("ringland-plugin-valve-spring"),
    ];
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("a shop");
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

/// Rings and bearing in an engine.
async fn engine(clients: &mut Clients) -> (Shop, String) {
    let shop = Shop::open(clients, "a").await.expect("a shop");
    let bearing = install(clients, &shop.build, "bearing", "plain_bearing").await;
    (shop, bearing)
}

/// Common practice, no source: doubling the rings alone is worthless beyond the life of the bearings. As a consequence of the
/// lives, checked in sign and bound.
#[tokio::test(flavor = "multi_thread")]
async fn doubling_the_rings_alone_gains_no_more_than_the_bearing_lets_it() {
    let plugins = [
        plugin("ringland-plugin-ring-pack"),
        plugin("ringland-plugin-plain-bearing"),
    ];
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let (shop, bearing) = engine(&mut clients).await;
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
    let plugins = [
        plugin("ringland-plugin-ring-pack"),
        plugin("ringland-plugin-plain-bearing"),
    ];
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let (shop, bearing) = engine(&mut clients).await;
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

#[tokio::test(flavor = "multi_thread")]
async fn the_commands_say_what_a_builder_asks() {
    let plugins = [
        plugin("ringland-plugin-ring-pack"),
        plugin("ringland-plugin-plain-bearing"),
    ];
    let server = Server::start(&plugins.each_ref().map(|p| p.as_path())).await;
    let mut clients = server.clients().await;
    let (shop, _) = engine(&mut clients).await;
    let file = server.folder().join("liner.toml");
    let text = "label = \"smoother\"\n[surfaces.bore.properties]\nrq_m = 0.2e-6\n";
    std::fs::write(&file, text).expect("a file");
    let profile = format!("--profile={}", shop.profile);
    let with_file = format!("--with={}", file.display());
    let said = ringland(
        &server,
        &[
            "compare",
            &shop.component,
            "--with=plateau-hone",
            &with_file,
            &profile,
            "--part-price=400",
            "--labour-price=900",
            "--treatment-price=plateau-hone=180",
        ],
    );
    for part in [
        "as it is",
        "plateau hone",
        "smoother",
        "life, events",
        "comes first",
        "time to seat",
        "friction power",
        "an event costs",
        "Readings over time",
        "Verdict",
        "nothing of this shop proves it",
        "Cautions",
    ] {
        assert!(said.contains(part), "{part} is missing from\n{said}");
    }
    let unit = ringland(
        &server,
        &[
            "compare-unit",
            &shop.unit,
            "--try=ring_pack=plateau-hone",
            &profile,
        ],
    );
    for part in [
        "first of the unit",
        "What moves the earliest limit",
        "plateau hone on ring pack",
        "Verdict",
        "independently",
    ] {
        assert!(unit.contains(part), "{part} is missing from\n{unit}");
    }
    println!("{said}\n{unit}");
}

/// What a command says that must succeed.
fn ringland(server: &Server, arguments: &[&str]) -> String {
    let output = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(arguments)
        .env("COLUMNS", "120")
        .output()
        .expect("the command runs");
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}\n{out}\n{err}");
    out
}

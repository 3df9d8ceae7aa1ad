//! Ends of parts in the ledger.

use prost_types::Timestamp;
use ringland_proto::v1::{
    AnalyzeLivesRequest, AnalyzeReplacementsRequest, CompareGroupsRequest, Component, EndCause,
    LifeQuery, RetireComponentRequest, analyze_lives_request, analyze_replacements_request,
    compare_groups_request,
};
use ringland_tests::{Clients, Shop, at, enter, open_shop, put_in};
use tonic::Code;
use tonic_types::StatusExt;

/// New rings in a shop's build from an hour on, treated or not.
async fn rings(
    clients: &mut Clients,
    shop: &Shop,
    id: &str,
    treatments: &[&str],
    from_h: i64,
) -> String {
    let component = Component {
        component_type: "ring_pack".into(),
        treatments: treatments.iter().map(ToString::to_string).collect(),
        ..Default::default()
    };
    let name = enter(clients, id, component).await.expect("created");
    let installed = put_in(clients, &shop.build, &name, at(3600 * from_h)).await;
    installed.expect("installed");
    name
}

fn retire(
    component: &str,
    time: Timestamp,
    cause: EndCause,
    mechanism: &str,
) -> RetireComponentRequest {
    RetireComponentRequest {
        component: component.into(),
        retire_time: Some(time),
        cause: cause.into(),
        mechanism: mechanism.into(),
        retired_by: "builder".into(),
        ..Default::default()
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn one_treated_and_one_untreated_unit_prove_nothing() {
    let (_server, mut clients, untreated) = open_shop(&["ring_pack"]).await;
    let mut evidence = clients.evidence.clone();
    let treated = Shop::open(&mut clients, "b").await.expect("the shop opens");
    // The shops' own rings have seen the first log; from the start treated ones beside them in b.
    let peened = rings(&mut clients, &treated, "peened", &["plateau-hone"], 0).await;

    let wrong = retire(&peened, at(90_000), EndCause::ReachedLimit, "end_gab");
    let refused = evidence.retire_component(wrong).await.expect_err("refused");
    let details = refused.get_details_bad_request().expect("details");
    assert_eq!(details.field_violations[0].field, "mechanism");

    let end = retire(
        &untreated.component,
        at(90_000),
        EndCause::ReachedLimit,
        "end_gap",
    );
    let ended = evidence
        .retire_component(end.clone())
        .await
        .expect("retired")
        .into_inner();
    let retirement = ended.retirement.expect("an end");
    assert_eq!(
        (retirement.cause(), retirement.mechanism.as_str()),
        (EndCause::ReachedLimit, "end_gap")
    );
    let again = evidence.retire_component(end).await.expect_err("refused");
    assert_eq!(again.code(), Code::FailedPrecondition);
    let back = put_in(
        &mut clients,
        &untreated.build,
        &untreated.component,
        at(100_000),
    )
    .await
    .expect_err("refused");
    assert_eq!(back.code(), Code::FailedPrecondition);
    assert!(back.message().contains("retired"), "{}", back.message());
    // What takes its place counts as a replacement.
    rings(&mut clients, &untreated, "second", &[], 26).await;

    let query = LifeQuery {
        component_type: "ring_pack".into(),
        ..Default::default()
    };
    let request = AnalyzeLivesRequest {
        source: Some(analyze_lives_request::Source::Query(query.clone())),
    };
    let found = evidence
        .analyze_lives(request)
        .await
        .expect("analysed")
        .into_inner();
    let counts = found.counts.expect("counts");
    assert_eq!(
        (counts.parts, counts.ended, counts.units),
        (3, 1, 2),
        "{:?}",
        found.lives
    );
    assert!(
        found
            .findings
            .iter()
            .any(|f| f.field == "components/second" && f.remedy.contains("has not run"))
    );

    let request = CompareGroupsRequest {
        source: Some(compare_groups_request::Source::Query(query)),
        ..Default::default()
    };
    let found = evidence
        .compare_groups(request)
        .await
        .expect("compared")
        .into_inner();
    assert!(!found.proven);
    assert!(
        found
            .verdict
            .starts_with("Nothing is proven: one unit cannot prove it")
            && found.verdict.contains("about 9 ends in each group"),
        "{}",
        found.verdict
    );

    let request = AnalyzeReplacementsRequest {
        source: Some(analyze_replacements_request::Source::ComponentType(
            "ring_pack".into(),
        )),
    };
    let found = evidence
        .analyze_replacements(request)
        .await
        .expect("analysed")
        .into_inner();
    let ages: Vec<usize> = found.units.iter().map(|unit| unit.ages.len()).collect();
    assert_eq!(ages, [1, 0], "{:?}", found.units);
}

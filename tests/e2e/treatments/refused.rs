//! What is forbidden is refused, and changes nothing.

use super::{apply, check, errors, get};
use ringland_proto::v1::{Component, CreateComponentRequest, ListRevisionsRequest};
use ringland_tests::{Server, plugin};
use std::path::Path;
use tonic::Code;
use tonic_types::StatusExt;

#[tokio::test(flavor = "multi_thread")]
async fn what_is_forbidden_is_refused_with_every_reason_and_changes_nothing() {
    let files = ["valve-spring", "gear-set", "rod-bolt"];
    let files = files.map(|name| plugin(&format!("ringland-plugin-{name}")));
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let found = errors(&check(&mut clients, "rod_bolt", &["nitride", "shot-peen"]).await);
    assert_eq!(found.len(), 2, "{found:?}");
    // One way and not the other.
    let found = errors(
        &check(
            &mut clients,
            "gear_set",
            &["shot-peen", "superfinish", "final-size"],
        )
        .await,
    );
    assert!(found.is_empty(), "{found:?}");
    let found = errors(&check(&mut clients, "gear_set", &["superfinish", "shot-peen"]).await);
    assert!(
        found.len() == 1 && found[0].contains("shot-peen after superfinish"),
        "{found:?}"
    );
    let found = errors(&check(&mut clients, "valve_spring", &["shot-peen", "superfinish"]).await);
    assert!(
        found.len() == 1 && found[0].contains("superfinish after shot-peen"),
        "{found:?}"
    );
    let found = errors(&check(&mut clients, "gear_set", &["final-size", "superfinish"]).await);
    assert!(
        found.len() == 1 && found[0].contains("smaller"),
        "{found:?}"
    );

    let create = CreateComponentRequest {
        component_id: "gears".into(),
        component: Some(Component {
            component_type: "gear_set".into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    let gears = clients
        .components
        .create_component(create)
        .await
        .expect("gears");
    let gears = gears.into_inner().name;
    apply(&mut clients, &gears, &["superfinish"], "")
        .await
        .expect("superfinished");
    let refused = apply(
        &mut clients,
        &gears,
        &["hard-carbon", "shot-peen", "nitride"],
        "",
    )
    .await;
    let refused = refused.expect_err("two stages too late");
    assert_eq!(refused.code(), Code::InvalidArgument);
    let details = refused.get_error_details();
    assert_eq!(
        details.error_info().expect("a reason").reason,
        "TREATMENT_REFUSED"
    );
    let violations = &details.bad_request().expect("violations").field_violations;
    assert_eq!(
        violations.len(),
        5,
        "two for peening, three for nitriding after it: {violations:?}"
    );
    let unknown = apply(&mut clients, &gears, &["moon-dust"], "")
        .await
        .expect_err("unknown");
    assert!(unknown.message().contains("moon-dust") && unknown.message().contains("shot-peen"));
    let list = ListRevisionsRequest {
        parent: gears.clone(),
        ..Default::default()
    };
    let revisions = clients
        .components
        .list_revisions(list)
        .await
        .expect("revisions")
        .into_inner();
    assert_eq!(revisions.revisions.len(), 2, "nothing of what was refused");
    assert_eq!(get(&mut clients, &gears).await.treatments, ["superfinish"]);
}

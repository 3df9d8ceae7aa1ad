//! Limits measured past, cracks, and what they say to the others of a batch.

use super::{line, median, of, raced, reading, record};
use ringland_proto::v1::{
    Action, Component, CrackCheck, CrackMethod, CrackResult, ExplainInspectionRequest, Explanation,
    Finding, UpdateComponentRequest,
};
use ringland_tests::{Clients, Server, Shop, plugin, program};
use std::process::Command;

#[tokio::test(flavor = "multi_thread")]
async fn a_limit_measured_past_and_a_crack_overrule_and_abuse_is_no_wear() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = raced(&mut clients).await;
    let before = shop.predict(&mut clients).await.expect("a prediction");
    let (_, limit) = reading(&before, "end_gap_m");
    let past = vec![line("end_gap_m", limit.expect("a limit") + 3.0e-5, 5e-6)];
    let recorded = record(&mut clients, of(&shop.component, 40 * 3600, past))
        .await
        .expect("recorded");
    let overruled = shop.predict(&mut clients).await.expect("a prediction");
    assert_eq!(overruled.overruled_by[0].reading, "end_gap_m");
    assert!(median(&overruled) == 0.0 && (overruled.risk_next_event - 1.0).abs() < 1e-12);
    let action = overruled.advice.expect("advice").action();
    assert!(
        matches!(action, Action::Replace | Action::Stop),
        "{action:?}"
    );

    // Explained as abuse it is not learnt as a rate, and the finding stands.
    let name = recorded.inspection.expect("an inspection").name;
    let request = ExplainInspectionRequest {
        name,
        reading: "end_gap_m".into(),
        explanation: Explanation::Abuse.into(),
        by: "builder".into(),
        reason: "run without an air filter".into(),
        ..Default::default()
    };
    let explained = clients
        .inspections
        .explain_inspection(request)
        .await
        .expect("explained");
    assert!(
        explained
            .into_inner()
            .comparisons
            .iter()
            .all(|comparison| !comparison.learnt)
    );
    let still = shop.predict(&mut clients).await.expect("a prediction");
    assert!(!still.overruled_by.is_empty());
    let rate = still
        .mechanisms
        .iter()
        .find(|m| m.mechanism == "end_gap")
        .and_then(|m| m.rate.clone());
    assert!((rate.expect("a rate").median - 1.0).abs() < 1e-9);

    let mut cracked = of(&shop.component, 41 * 3600, Vec::new());
    cracked.crack_checks = vec![CrackCheck {
        method: CrackMethod::Penetrant.into(),
        mechanisms: vec!["tension".into()],
        result: CrackResult::Indication.into(),
        indication_length_m: Some(2e-3),
        ..Default::default()
    }];
    record(&mut clients, cracked).await.expect("recorded");
    let stopped = shop.predict(&mut clients).await.expect("a prediction");
    assert_eq!(stopped.advice.expect("advice").action(), Action::Stop);
}

/// Writes a batch down for a component.
async fn put_into(clients: &mut Clients, component: &str, batch: &str) {
    let request = UpdateComponentRequest {
        component: Some(Component {
            name: component.into(),
            batch: batch.into(),
            ..Default::default()
        }),
        update_mask: Some(prost_types::FieldMask {
            paths: vec!["batch".into()],
        }),
        ..Default::default()
    };
    let updated = clients.components.update_component(request).await;
    updated.expect("a batch");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_finding_reaches_the_batch_until_it_is_explained_and_early_ones_ask_for_another_cause() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = raced(&mut clients).await;
    let mate = Shop::open(&mut clients, "b").await.expect("another engine");
    for component in [&shop.component, &mate.component] {
        put_into(&mut clients, component, "b-7").await;
    }
    let of_batch = |finding: &&Finding| finding.field.starts_with("batch.");
    let before = mate.predict(&mut clients).await.expect("a prediction");
    assert!(!before.notes.iter().any(|note| of_batch(&note)));

    // Rings that have run three races, past a limit that they reach after dozens.
    let (_, limit) = reading(&before, "end_gap_m");
    let past = vec![line("end_gap_m", limit.expect("a limit") + 3.0e-5, 5e-6)];
    let recorded = record(&mut clients, of(&shop.component, 40 * 3600, past))
        .await
        .expect("recorded");
    let said = recorded.findings.iter().find(of_batch).expect("a word");
    assert!(said.value.contains(&mate.component), "{said:?}");
    let alone = |finding: &&Finding| finding.remedy.contains("use alone explains this with");
    let asked = recorded.findings.iter().find(alone).expect("a question");
    let own = shop.predict(&mut clients).await.expect("a prediction");
    assert!(own.notes.contains(asked), "{:?}", own.notes);

    let told = mate.predict(&mut clients).await.expect("a prediction");
    let word = told.notes.iter().find(of_batch).expect("a word");
    let name = recorded.inspection.expect("an inspection").name;
    assert!(word.value.contains(&name), "{word:?}");
    assert!(told.overruled_by.is_empty() && !told.notes.iter().any(|note| alone(&note)));
    let command = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(["predict", "--unit", "engine-b", "--profile", &mate.profile])
        .output()
        .expect("the command runs");
    let shown = String::from_utf8_lossy(&command.stdout);
    assert!(
        command.status.success() && shown.contains("batch b-7"),
        "{shown}{}",
        String::from_utf8_lossy(&command.stderr)
    );

    let request = ExplainInspectionRequest {
        name,
        reading: "end_gap_m".into(),
        explanation: Explanation::AssemblyError.into(),
        by: "builder".into(),
        reason: "gapped for another bore".into(),
        ..Default::default()
    };
    let explained = clients.inspections.explain_inspection(request).await;
    explained.expect("explained");
    let after = mate.predict(&mut clients).await.expect("a prediction");
    assert!(!after.notes.iter().any(|note| of_batch(&note)));
}

//! The shop's own entries, and a plugin from outside.

use super::{catalogue::catalogue, check, errors};
use ringland_proto::v1::{GetTreatmentRequest, PutTreatmentRequest, Treatment};
use ringland_tests::{Clients, Server, activate, install_model, outside_plugin};
use tonic::Code;
use tonic_types::StatusExt;

/// The shop's own treatment of a component type that the catalogue has never heard of.
const OWN: &str = r#"[[treatments]]
id = "lantern-plate-finish"
label = "plate finish of our own"
description = "Tumbled and peened plates, our sheet 12."
grade = "shop"
stage = "superfinish"
price = 180
lead_days = 5
[[treatments.effects]]
component_types = ["differential_clutch"]
surfaces = ["plates"]
wear_coefficient_m2_n = { multiply = 0.7, ln_sd = 0.3 }
"#;

async fn put(clients: &mut Clients, text: &str, etag: &str) -> Result<Treatment, tonic::Status> {
    let request = PutTreatmentRequest {
        text: text.into(),
        etag: etag.into(),
        ..Default::default()
    };
    let put = clients.treatments.put_treatment(request).await;
    put.map(tonic::Response::into_inner)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_plugin_from_outside_has_treatments_without_a_line_of_its_own() {
    let server = Server::start(&[]).await;
    let mut clients = server.clients().await;
    let model = install_model(&mut clients, &outside_plugin()).await;
    activate(&mut clients, &model).await;

    let none = check(&mut clients, "differential_clutch", &["superfinish"]).await;
    assert!(none.changes.is_empty() && errors(&none).is_empty());
    let first = put(&mut clients, OWN, "").await.expect("put");
    assert_eq!((first.revision, first.price), (1, Some(180.0)));
    let done = check(
        &mut clients,
        "differential_clutch",
        &["lantern-plate-finish"],
    )
    .await;
    assert_eq!((done.price, done.lead_days), (Some(180.0), Some(5.0)));
    let change = &done.changes[0];
    let wear = |state: &Option<ringland_proto::v1::SurfaceState>| {
        state.as_ref().expect("a state").properties["wear_coefficient_m2_n"]
    };
    assert!(
        (wear(&change.after) / wear(&change.before) - 0.7).abs() < 1e-12,
        "{change:?}"
    );
    let listed = catalogue(&mut clients, "differential_clutch").await;
    assert!(listed.iter().any(|t| t.name == first.name), "{listed:?}");

    // A second revision; the first stays known.
    let text = OWN
        .replace("0.7,", "0.8,")
        .replace("stage", "supersedes = \"superfinish\"\nstage");
    let stale = put(&mut clients, &text, "0000")
        .await
        .expect_err("a stale etag");
    assert_eq!(stale.code(), Code::Aborted);
    let second = put(&mut clients, &text, &first.etag)
        .await
        .expect("put again");
    assert_eq!(
        (second.revision, second.supersedes.as_str()),
        (2, "treatments/superfinish")
    );
    let mut read = async |name: &str, revision| {
        let request = GetTreatmentRequest {
            name: name.into(),
            revision,
        };
        clients
            .treatments
            .get_treatment(request)
            .await
            .expect(name)
            .into_inner()
    };
    assert_eq!(read(&first.name, 1).await, first);
    assert_eq!(read(&first.name, 0).await, second);
    assert_eq!(
        read("treatments/superfinish", 0).await.superseded_by,
        [second.name]
    );

    let taken = put(
        &mut clients,
        &OWN.replace("lantern-plate-finish", "shot-peen"),
        "",
    )
    .await;
    assert_eq!(taken.expect_err("built in").code(), Code::AlreadyExists);
    let bad = OWN
        .replace("0.7", "-1")
        .replace("wear_co", "ware_co")
        .replace("\"shop\"", "\"sure\"");
    let bad = put(&mut clients, &bad, "").await.expect_err("three faults");
    let details = bad.get_error_details();
    let violations = &details.bad_request().expect("violations").field_violations;
    let fields: Vec<&str> = violations.iter().map(|v| v.field.as_str()).collect();
    assert!(
        fields.len() >= 2 && fields.iter().all(|f| f.starts_with("treatments[lantern")),
        "{fields:?}"
    );
}

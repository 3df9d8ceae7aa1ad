//! Treatments over real gRPC and on the command line: the catalogue against the cards of every model, what a treated
//! part gains by its surfaces alone, what is refused, the shop's own entries.

use ringland_proto::v1::{
    ActivateModelRequest, ApplyTreatmentsRequest, Card, CheckTreatmentsRequest,
    CheckTreatmentsResponse, Component, CreateComponentRequest, GetComponentRequest,
    GetModelRequest, GetTreatmentRequest, InstallModelRequest, ListModelsRequest,
    ListRevisionsRequest, ListTreatmentsRequest, PredictRequest, PropertyOperation,
    PutTreatmentRequest, Severity, SurfaceEffect, Treatment, TreatmentUse, UpdateUnitRequest,
    WatchPredictionsRequest, check_treatments_request::Subject, watch_predictions_response::Change,
};
use ringland_tests::{
    Clients, Server, Shop, at, install, outside_plugin, plugin, plugins, program,
};
use std::{collections::BTreeMap, path::Path, process::Command, time::Duration};
use tonic::Code;
use tonic_types::StatusExt;

async fn catalogue(clients: &mut Clients, component_type: &str) -> Vec<Treatment> {
    let request = ListTreatmentsRequest {
        page_size: 100,
        component_type: component_type.into(),
        ..Default::default()
    };
    let listed = clients.treatments.list_treatments(request).await;
    listed.expect("a list").into_inner().treatments
}

async fn cards(clients: &mut Clients) -> BTreeMap<String, Card> {
    let request = ListModelsRequest {
        page_size: 100,
        ..Default::default()
    };
    let listed = clients.models.list_models(request).await;
    let mut cards = BTreeMap::new();
    for model in listed.expect("a list").into_inner().models {
        let request = GetModelRequest { name: model.name };
        let model = clients.models.get_model(request).await;
        let card = model.expect("a model").into_inner().card.expect("a card");
        cards.insert(card.component_type.clone(), card);
    }
    cards
}

fn uses(treatments: &[&str]) -> Vec<TreatmentUse> {
    let of = |treatment: &&str| TreatmentUse {
        treatment: (*treatment).to_owned(),
        surfaces: Vec::new(),
    };
    treatments.iter().map(of).collect()
}

async fn check(
    clients: &mut Clients,
    component_type: &str,
    treatments: &[&str],
) -> CheckTreatmentsResponse {
    let described = Component {
        component_type: component_type.into(),
        ..Default::default()
    };
    let request = CheckTreatmentsRequest {
        subject: Some(Subject::Described(described)),
        treatments: uses(treatments),
        ..Default::default()
    };
    let checked = clients.treatments.check_treatments(request).await;
    checked.expect("a check").into_inner()
}

fn errors(check: &CheckTreatmentsResponse) -> Vec<String> {
    let errors = check
        .findings
        .iter()
        .filter(|f| f.severity() == Severity::Error);
    errors
        .map(|f| format!("{}: {}; {}", f.field, f.value, f.expected))
        .collect()
}

/// Everything of an effect is something that the model of that type reads, within its range.
fn assert_read(treatment: &str, card: &Card, effect: &SurfaceEffect) {
    for name in &effect.surfaces {
        let place = format!("{treatment}: {name} of {}", card.component_type);
        let surface = card.surfaces.iter().find(|s| s.name == *name);
        let surface = surface.unwrap_or_else(|| panic!("{place} is not on the card"));
        let reads_stress = effect.residual_stress.is_none() || surface.residual_stress;
        assert!(reads_stress, "{place}: residual stress");
        for change in &effect.properties {
            let property = surface
                .properties
                .iter()
                .find(|p| p.name == change.property);
            let property = property.unwrap_or_else(|| panic!("{place}: {}", change.property));
            let value = match change.operation() {
                PropertyOperation::Multiply => change.value * property.default_value,
                _ => change.value,
            };
            let range = property.minimum..=property.maximum;
            assert!(
                range.contains(&value),
                "{place}: {} {value}",
                change.property
            );
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_model_sees_what_the_catalogue_writes() {
    let files = plugins();
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let cards = cards(&mut clients).await;
    assert_eq!(cards.len(), 21);
    let treatments = catalogue(&mut clients, "").await;
    let card = |treatment: &Treatment, kind: &String| {
        let card = cards.get(kind);
        card.unwrap_or_else(|| panic!("{}: no model of {kind}", treatment.name))
    };
    for treatment in &treatments {
        for effect in &treatment.effects {
            for kind in &effect.component_types {
                assert_read(&treatment.name, card(treatment, kind), effect);
            }
        }
        for forbidden in &treatment.forbidden {
            for kind in &forbidden.component_types {
                let known = &card(treatment, kind).surfaces;
                let known = |name: &String| known.iter().any(|s| s.name == *name);
                assert!(
                    forbidden.surfaces.iter().all(known),
                    "{}: {forbidden:?}",
                    treatment.name
                );
            }
        }
        for kind in treatment
            .not_modelled
            .iter()
            .flat_map(|row| &row.component_types)
        {
            card(treatment, kind);
        }
    }
    // What is listed for a type can be done to it and is seen; what has no effect says so.
    for kind in cards.keys() {
        let listed = catalogue(&mut clients, kind).await;
        for treatment in &treatments {
            let effects = treatment.effects.iter();
            let seen = effects.clone().any(|e| e.component_types.contains(kind));
            let mut forbidden = treatment.forbidden.iter();
            let whole =
                forbidden.any(|f| f.surfaces.is_empty() && f.component_types.contains(kind));
            let checked = check(&mut clients, kind, &[&treatment.name]).await;
            let found = errors(&checked);
            let place = format!("{} on {kind}: {found:?}", treatment.name);
            assert_eq!(!found.is_empty(), whole, "{place}");
            let changed = !checked.changes.is_empty();
            assert!(!changed || seen, "{place}: {:?}", checked.changes);
            let told = checked
                .findings
                .iter()
                .any(|f| f.value.starts_with("no effect of"));
            assert_eq!(told, !whole && !seen, "{place}");
            let is_listed = listed.iter().any(|t| t.name == treatment.name);
            let step = treatment.effects.is_empty();
            assert_eq!(is_listed, (seen || step) && !whole, "{place}");
        }
    }
}

async fn predict(clients: &mut Clients, shop: &Shop, component: &str) -> (f64, f64) {
    let request = PredictRequest {
        component: component.into(),
        profile: shop.profile.clone(),
        ..Default::default()
    };
    let predicted = clients.predictions.predict(request).await;
    let prediction = predicted.expect(component).into_inner();
    let events = prediction.life.and_then(|life| life.events);
    (events.expect("a life").p50, prediction.risk_next_event)
}

async fn apply(
    clients: &mut Clients,
    component: &str,
    treatments: &[&str],
    request_id: &str,
) -> Result<ringland_proto::v1::ApplyTreatmentsResponse, tonic::Status> {
    let request = ApplyTreatmentsRequest {
        component: component.into(),
        treatments: uses(treatments),
        effective_time: Some(at(10)),
        note: "sheet 7".into(),
        request_id: request_id.into(),
    };
    let applied = clients.treatments.apply_treatments(request).await;
    applied.map(tonic::Response::into_inner)
}

async fn get(clients: &mut Clients, name: &str) -> Component {
    let request = GetComponentRequest { name: name.into() };
    clients
        .components
        .get_component(request)
        .await
        .expect(name)
        .into_inner()
}

async fn next(
    watch: &mut tonic::Streaming<ringland_proto::v1::WatchPredictionsResponse>,
) -> Change {
    let message = tokio::time::timeout(Duration::from_secs(60), watch.message()).await;
    let message = message
        .expect("in time")
        .expect("a change")
        .expect("the watch goes on");
    message.change.expect("a change says what")
}

/// A peened spring outlives a bare one (Zimmerli's pairs of limits in Shigley: 398 against 241 MPa; order only), by its surface
/// and nothing else: one entered with the same surface, and no treatment, has the same life to the bit.
#[tokio::test(flavor = "multi_thread")]
async fn a_peened_spring_lives_longer_by_its_surface_alone() {
    let files =
        ["ring-pack", "valve-spring"].map(|name| plugin(&format!("ringland-plugin-{name}")));
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let unit = ringland_proto::v1::Unit {
        name: shop.unit.clone(),
        event_profile: shop.profile.clone(),
        ..Default::default()
    };
    let paths = vec!["event_profile".into()];
    let update = UpdateUnitRequest {
        unit: Some(unit),
        update_mask: Some(prost_types::FieldMask { paths }),
    };
    clients
        .units
        .update_unit(update)
        .await
        .expect("the unit takes its event");
    let bare = install(&mut clients, &shop.build, "spring-bare", "valve_spring").await;
    let peened = install(&mut clients, &shop.build, "spring-peened", "valve_spring").await;

    let request = WatchPredictionsRequest {
        targets: vec![peened.clone()],
    };
    let watch = clients.predictions.watch_predictions(request).await;
    let mut watch = watch.expect("a watch").into_inner();
    let Change::Prediction(before) = next(&mut watch).await else {
        panic!("a prediction first")
    };
    assert!(matches!(next(&mut watch).await, Change::CaughtUp(_)));
    let applied = apply(
        &mut clients,
        &peened,
        &["shot-peen", "fine-particle-peen"],
        "r-1",
    )
    .await;
    let applied = applied.expect("peened");
    let revision = applied.revision.expect("a revision");
    assert_eq!(revision.treatments, ["shot-peen", "fine-particle-peen"]);
    assert!(
        revision.reason.contains("shot-peen (catalogue 1."),
        "{}",
        revision.reason
    );
    assert!(
        revision.reason.ends_with(": sheet 7"),
        "{}",
        revision.reason
    );
    let told = |word: &str| {
        applied
            .findings
            .iter()
            .any(|f| format!("{f:?}").contains(word))
    };
    assert!(
        told("sanctioning body") && told("crack") && told("stock"),
        "{:?}",
        applied.findings
    );
    let p50 =
        |p: &ringland_proto::v1::Prediction| p.life.and_then(|l| l.events).expect("a life").p50;
    // The unit's new event was told of shortly before: the prediction of before may come once more.
    loop {
        let Change::Prediction(after) = next(&mut watch).await else {
            panic!("the watcher is told")
        };
        if p50(&after) > 2.0 * p50(&before) {
            break;
        }
    }
    // The same request again is the same revision.
    let again = apply(
        &mut clients,
        &peened,
        &["shot-peen", "fine-particle-peen"],
        "r-1",
    )
    .await;
    assert_eq!(again.expect("again").revision.expect("it"), revision);

    let component = get(&mut clients, &peened).await;
    assert_eq!(component.treatments, revision.treatments);
    let by_hand = Component {
        component_type: "valve_spring".into(),
        surfaces: component.surfaces,
        ..Default::default()
    };
    let request = CreateComponentRequest {
        component_id: "spring-by-hand".into(),
        component: Some(by_hand),
        ..Default::default()
    };
    let by_hand = clients
        .components
        .create_component(request)
        .await
        .expect("by hand");
    let by_hand = by_hand.into_inner().name;
    let treated = predict(&mut clients, &shop, &peened).await;
    let untreated = predict(&mut clients, &shop, &bare).await;
    assert!(
        treated.0 > 2.0 * untreated.0 && treated.1 < untreated.1,
        "{treated:?} {untreated:?}"
    );
    // Drawn with its own seed, so the medians agree and not the bits; the risk is no draw.
    let same = predict(&mut clients, &shop, &by_hand).await;
    assert!(
        (same.0 / treated.0 - 1.0).abs() < 0.15,
        "{same:?} {treated:?}"
    );
}

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
    let bytes = std::fs::read(outside_plugin()).expect("the plugin can be read");
    let pieces = bytes.chunks(200_000).map(|piece| InstallModelRequest {
        chunk: piece.to_vec(),
    });
    let model = clients
        .models
        .install_model(tokio_stream::iter(pieces.collect::<Vec<_>>()))
        .await;
    let request = ActivateModelRequest {
        name: model.expect("the plugin installs").into_inner().name,
        ..Default::default()
    };
    clients
        .models
        .activate_model(request)
        .await
        .expect("active");

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

fn ringland(server: &Server, arguments: &[&str]) -> (bool, String) {
    let output = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(arguments)
        .env("COLUMNS", "120")
        .output();
    let output = output.expect("the command runs");
    let text = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
    (output.status.success(), text.into_owned())
}

#[tokio::test(flavor = "multi_thread")]
async fn the_command_lists_shows_checks_applies_and_puts() {
    let server = Server::start(&[&plugin("ringland-plugin-gear-set")]).await;
    let run = |arguments: &[&str]| ringland(&server, arguments);
    let (done, text) = run(&["treatment", "list", "--type", "gear_set"]);
    assert!(
        done && text.contains("superfinish") && !text.contains("plateau-hone"),
        "{text}"
    );
    let (done, text) = run(&["treatment", "show", "shot-peen"]);
    assert!(
        done && text.contains("-435 MPa, -609 at 50 um") && text.contains("common practice"),
        "{text}"
    );
    let (done, text) = run(&[
        "component",
        "create",
        "gears",
        "--type",
        "gear_set",
        "--treatment",
        "nitride",
    ]);
    assert!(done && text.contains("nitride"), "{text}");
    let (done, text) = run(&[
        "treatment",
        "check",
        "--component",
        "gears",
        "--do",
        "shot-peen",
        "superfinish:flank",
    ]);
    assert!(
        done && text.contains("4.000e-7") && text.contains("8.000e-8") && text.contains("root"),
        "{text}"
    );
    let (done, text) = run(&[
        "treatment",
        "check",
        "--type",
        "gear_set",
        "--do",
        "shot-peen:flank",
    ]);
    assert!(!done && text.contains("roughens ground flanks"), "{text}");
    let from = ["--from", "2026-03-01T00:00:00Z", "--note", "sheet 3"];
    let arguments = [
        "treatment",
        "apply",
        "gears",
        "--do",
        "shot-peen",
        "superfinish",
    ];
    let (done, text) = run(&[&arguments[..], &from[..]].concat());
    assert!(
        done && text.contains("sheet 3") && text.contains("sanctioning body"),
        "{text}"
    );
    let (done, text) = run(&["component", "history", "gears"]);
    assert!(done && text.contains("superfinish"), "{text}");
    let (_, own) = run(&["treatment", "show", "superfinish", "--toml"]);
    let file = server.folder().join("own.toml");
    let own = own.replacen(
        "id = \"superfinish\"",
        "id = \"our-finish\"\nprice = 95.5",
        1,
    );
    std::fs::write(&file, own).expect("the file is written");
    let file = file.to_string_lossy().into_owned();
    let (done, text) = run(&["treatment", "put", &file]);
    assert!(
        done && text.contains("treatments/our-finish, revision 1"),
        "{text}"
    );
    let (done, text) = run(&["--json", "treatment", "show", "our-finish"]);
    assert!(done && text.contains("\"price\": 95.5"), "{text}");
}

//! The other shop systems, as outsiders wrote them, against a real server: the dyno and the fleet
//! page in Python, and the differential-clutch plugin.

use ringland_proto::v1::{
    Build, Component, CreateBuildRequest, CreateComponentRequest, CreateProfileRequest,
    CreateUnitRequest, InstallComponentRequest, PredictRequest, Profile, Unit, UnitKind,
};
use ringland_tests::{
    Clients, Server, Shop, activate, at, corner_and_straight, install_model, open_shop,
    outside_plugin, record_table,
};
use std::path::{Path, PathBuf};
use tokio::process::Command;

/// The Python that has the clients' packages; `tests/run` makes it.
fn python() -> PathBuf {
    let python = std::env::var_os("RINGLAND_PYTHON");
    PathBuf::from(
        python.expect("RINGLAND_PYTHON names a Python with tests/requirements.txt: use tests/run"),
    )
}

async fn run(script: &str, arguments: &[&str]) -> String {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sdk/examples");
    let output = Command::new(python())
        .arg(examples.join(script))
        .args(arguments)
        .output()
        .await
        .expect("Python runs");
    let (out, err) = (
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr),
    );
    assert!(output.status.success(), "{script} failed:\n{out}\n{err}");
    out.into_owned()
}

async fn shop() -> (Server, Clients, Shop) {
    let (server, mut clients, shop) = open_shop(&["ring_pack"]).await;
    let set = shop.set_event(&mut clients).await;
    set.expect("the unit takes its event");
    (server, clients, shop)
}

#[tokio::test(flavor = "multi_thread")]
async fn the_dyno_streams_a_pull_and_is_told_the_ring_life() {
    let (server, mut clients, shop) = shop().await;
    let address = server.url.trim_start_matches("http://");
    let out = run(
        "dyno-client/dyno.py",
        &[
            "--server",
            address,
            "--unit",
            &shop.unit,
            "--component",
            &shop.component,
            "--start",
            "2026-03-02T09:00:00Z",
        ],
    )
    .await;
    let told = shop.predict(&mut clients).await.expect("a prediction");
    let p50 = told
        .life
        .and_then(|life| life.events)
        .expect("life in events")
        .p50;
    assert!(out.contains("P50"), "{out}");
    assert!(
        out.contains(&format!("{p50:.1}")),
        "the same median, {p50}:\n{out}"
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn the_dyno_asks_during_the_break_in_whether_to_pull_again() {
    let (server, _clients, shop) = shop().await;
    let address = server.url.trim_start_matches("http://");
    let ask = async |start: &str, blow_by: &str| {
        let arguments = [
            "--server",
            address,
            "--unit",
            &shop.unit,
            "--component",
            &shop.component,
            "--start",
            start,
            "--blow-by",
            blow_by,
        ];
        run("dyno-client/dyno.py", &arguments).await
    };
    let early = ask("2026-03-02T09:00:00Z", "170,105").await;
    assert!(early.contains("Break-in: ONE MORE PULL"), "{early}");
    let late = ask("2026-03-02T09:10:00Z", "170,105,90,86,85,85").await;
    assert!(late.contains("Break-in: STOP"), "{late}");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_fleet_page_polls_every_component() {
    let (server, _clients, shop) = shop().await;
    let address = server.url.trim_start_matches("http://");
    let out = run("fleet-poller/poll.py", &["--server", address, "--once"]).await;
    assert!(
        out.contains(shop.component.trim_start_matches("components/")),
        "{out}"
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn a_plugin_from_outside_is_installed_activated_and_answers() {
    let server = Server::start(&[]).await;
    let mut clients = server.clients().await;
    let model = install_model(&mut clients, &outside_plugin()).await;
    assert_eq!(
        (model.component_type.as_str(), model.active),
        ("differential_clutch", false)
    );
    activate(&mut clients, &model).await;

    let unit = Unit {
        kind: UnitKind::FinalDrive.into(),
        ..Default::default()
    };
    let request = CreateUnitRequest {
        unit_id: "axle".into(),
        unit: Some(unit),
        ..Default::default()
    };
    let unit = clients
        .units
        .create_unit(request)
        .await
        .expect("a unit")
        .into_inner()
        .name;
    let request = CreateBuildRequest {
        parent: unit.clone(),
        build_id: "b1".into(),
        build: Some(Build {
            assembly_time: Some(at(0)),
            ..Default::default()
        }),
        ..Default::default()
    };
    let build = clients
        .builds
        .create_build(request)
        .await
        .expect("a build")
        .into_inner()
        .name;
    let component = Component {
        component_type: "differential_clutch".into(),
        ..Default::default()
    };
    let request = CreateComponentRequest {
        component_id: "plates".into(),
        component: Some(component),
        ..Default::default()
    };
    let component = clients
        .components
        .create_component(request)
        .await
        .expect("plates");
    let component = component.into_inner().name;
    let request = InstallComponentRequest {
        component: component.clone(),
        build,
        install_time: Some(at(0)),
        ..Default::default()
    };
    clients
        .components
        .install_component(request)
        .await
        .expect("installed");

    let duty = corner_and_straight();
    let request = CreateProfileRequest {
        profile_id: "event".into(),
        profile: Some(Profile {
            duty: Some(duty.clone()),
            ..Default::default()
        }),
        ..Default::default()
    };
    let profile = clients
        .duty
        .create_profile(request)
        .await
        .expect("a profile")
        .into_inner()
        .name;
    let ask = PredictRequest {
        component,
        profile,
        ..Default::default()
    };
    let fresh = clients
        .predictions
        .predict(ask.clone())
        .await
        .expect("a life")
        .into_inner();

    record_table(&mut clients, &unit, "race", at(3600), duty)
        .await
        .expect("a race");
    let used = clients
        .predictions
        .predict(ask)
        .await
        .expect("a life")
        .into_inner();
    let median = |p: &ringland_proto::v1::Prediction| {
        p.life
            .as_ref()
            .and_then(|life| life.events)
            .expect("life in events")
            .p50
    };
    assert!(
        median(&used) < median(&fresh),
        "{} {}",
        median(&used),
        median(&fresh)
    );
    assert!(!used.cautions.is_empty());
}

//! Parts of a cylinder head over real gRPC: what one part loses another feels, and what drops a valve is called the loss of the unit.

use std::collections::HashMap;

use ringland_proto::v1::{
    Component, Consequence, CreateComponentRequest, InstallComponentRequest, PredictRequest,
    Prediction,
};
use ringland_tests::{Clients, Server, Shop, at, lap_csv, plugin, record_csv};
use std::path::Path;

/// Rate of the default spring \[N/m\]: G d⁴ / 8 D³ n of the card's numbers.
const RATE_N_M: f64 = 41_772.0;
/// Sink of the worn retainer \[m\].
const SINK_M: f64 = 0.2e-3;

async fn install(clients: &mut Clients, shop: &Shop, suffix: &str, component: Component) -> String {
    let component_type = component.component_type.clone();
    let request = CreateComponentRequest {
        component_id: format!("{}-{suffix}", component_type.replace('_', "-")),
        component: Some(component),
        ..Default::default()
    };
    let created = clients.components.create_component(request).await;
    let name = created.expect(&component_type).into_inner().name;
    let request = InstallComponentRequest {
        component: name.clone(),
        build: shop.build.clone(),
        position: "head".into(),
        install_time: Some(at(0)),
        ..Default::default()
    };
    let installed = clients.components.install_component(request).await;
    installed.expect(&component_type);
    name
}

async fn predict(clients: &mut Clients, shop: &Shop, component: &str) -> Prediction {
    let request = PredictRequest {
        component: component.into(),
        profile: shop.profile.clone(),
        ..Default::default()
    };
    let predicted = clients.predictions.predict(request).await;
    predicted.expect(component).into_inner()
}

/// A head with a retainer that has sunk so far: predictions of its spring, retainer and valve after a log.
async fn head(clients: &mut Clients, suffix: &str, sink_m: f64) -> [Prediction; 3] {
    let shop = Shop::open(clients, suffix).await.expect("the shop opens");
    let part = |component_type: &str, opening: HashMap<String, f64>| Component {
        component_type: component_type.into(),
        opening_condition: opening,
        ..Default::default()
    };
    let sunk = HashMap::from([("sink_m".to_owned(), sink_m)]);
    let parts = [
        part("valve_spring", HashMap::new()),
        part("spring_retainer", sunk),
        part("valve", HashMap::new()),
    ];
    let mut names = Vec::new();
    for part in parts {
        names.push(install(clients, &shop, suffix, part).await);
    }
    let id = format!("hard-{suffix}");
    let log = record_csv(clients, &shop.unit, &id, at(20_000), &lap_csv(4000)).await;
    log.expect("a log");
    let mut predictions = Vec::new();
    for name in &names {
        predictions.push(predict(clients, &shop, name).await);
    }
    predictions.try_into().expect("three parts")
}

fn seat_load_n(spring: &Prediction) -> f64 {
    let mut readings = spring.readings.iter();
    let reading = readings.find(|reading| reading.reading == "seat_load_n");
    reading
        .and_then(|reading| reading.now)
        .expect("a seat load")
        .p50
}

#[tokio::test(flavor = "multi_thread")]
async fn a_sunk_retainer_unloads_the_spring() {
    let files = ["ring-pack", "valve-spring", "spring-retainer", "valve"]
        .map(|name| plugin(&format!("ringland-plugin-{name}")));
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let [spring, retainer, valve] = head(&mut clients, "new", 0.0).await;
    let [unloaded, ..] = head(&mut clients, "sunk", SINK_M).await;

    // The spring stands taller by the sink: its load falls by rate times sink.
    let lost_n = seat_load_n(&spring) - seat_load_n(&unloaded);
    let expected_n = RATE_N_M * SINK_M;
    assert!(
        (lost_n / expected_n - 1.0).abs() < 0.02,
        "{lost_n} {expected_n}"
    );
    let loss = |spring: &Prediction| {
        let mut mechanisms = spring.mechanisms.iter();
        let loss = mechanisms
            .find(|m| m.mechanism == "load_loss")
            .expect("a loss");
        loss.life.and_then(|life| life.events).expect("a life").p50
    };
    assert!(loss(&unloaded) < loss(&spring));

    // A broken spring, a torn retainer, a broken groove or head drops the valve.
    for (part, mechanism) in [
        (&spring, "fatigue"),
        (&retainer, "pull_through"),
        (&valve, "groove_fatigue"),
        (&valve, "head_cracking"),
    ] {
        let mut mechanisms = part.mechanisms.iter();
        let found = mechanisms.find(|m| m.mechanism == mechanism);
        let consequence = found.expect(mechanism).consequence();
        assert_eq!(consequence, Consequence::UnitLoss, "{mechanism}");
    }
}

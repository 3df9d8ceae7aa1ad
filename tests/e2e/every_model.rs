//! Every model of this workspace over real gRPC: one of each in one engine, one log, one prediction each.

use ringland_proto::v1::{
    BatchPredictRequest, Component, CreateComponentRequest, InstallComponentRequest,
    ListModelsRequest, PredictRequest, Prediction, batch_predict_result::Result as Answer,
};
use ringland_tests::{Clients, Server, Shop, at, lap_csv, plugins, record_csv};
use std::path::Path;

/// Component types of the installed models.
async fn types(clients: &mut Clients) -> Vec<String> {
    let request = ListModelsRequest {
        page_size: 100,
        ..Default::default()
    };
    let models = clients.models.list_models(request).await;
    let models = models.expect("a list").into_inner().models;
    assert!(models.iter().all(|model| model.active), "{models:?}");
    models
        .into_iter()
        .map(|model| model.component_type)
        .collect()
}

/// A component with the card's defaults, in the shop's build from its start.
async fn install(clients: &mut Clients, shop: &Shop, component_type: &str) -> String {
    let request = CreateComponentRequest {
        component_id: component_type.replace('_', "-"),
        component: Some(Component {
            component_type: component_type.into(),
            ..Default::default()
        }),
        ..Default::default()
    };
    let created = clients.components.create_component(request).await;
    let name = created.expect(component_type).into_inner().name;
    let request = InstallComponentRequest {
        component: name.clone(),
        build: shop.build.clone(),
        position: "beside".into(),
        install_time: Some(at(0)),
        ..Default::default()
    };
    let installed = clients.components.install_component(request).await;
    installed.expect(component_type);
    name
}

async fn predict_all(clients: &mut Clients, shop: &Shop, names: &[String]) -> Vec<Prediction> {
    let request = |name: &String| PredictRequest {
        component: name.clone(),
        profile: shop.profile.clone(),
        ..Default::default()
    };
    let batch = BatchPredictRequest {
        requests: names.iter().map(request).collect(),
    };
    let answers = clients.predictions.batch_predict(batch).await;
    let answers = answers.expect("answers").into_inner().results;
    let predicted = answers.into_iter().zip(names).map(|(answer, name)| {
        let Some(Answer::Prediction(prediction)) = answer.result else {
            panic!("{name}: {answer:?}")
        };
        prediction
    });
    predicted.collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn one_of_each_takes_a_log_and_tells_its_life() {
    let files = plugins();
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let types = types(&mut clients).await;
    assert_eq!(types.len(), files.len(), "one model a plugin: {types:?}");

    let mut names = Vec::new();
    for component_type in &types {
        names.push(install(&mut clients, &shop, component_type).await);
    }
    let fresh = predict_all(&mut clients, &shop, &names).await;
    let log = record_csv(&mut clients, &shop.unit, "hard", at(20_000), &lap_csv(4000)).await;
    log.expect("a log");
    let used = predict_all(&mut clients, &shop, &names).await;

    for (before, after) in fresh.iter().zip(&used) {
        let name = &before.component;
        let median = |prediction: &Prediction| {
            let events = prediction.life.and_then(|life| life.events);
            events.expect(name).p50
        };
        // Longer than the horizon stays longer than the horizon. Lives are drawn anew: the medians of two sets of 512 draws with a spread
        // of 0.45 differ by 3.5 % (one standard error), more than an hour of use takes from a long life.
        assert!(median(after) <= 1.1 * median(before), "{name}");
        assert!(after.risk_next_event >= before.risk_next_event, "{name}");
        assert!(
            !after.mechanisms.is_empty() && !after.readings.is_empty(),
            "{name}"
        );
        assert!(!after.cautions.is_empty(), "{name} shows its cautions");
        let uses = |prediction: &Prediction| prediction.r#use.map_or(0, |usage| usage.duty_records);
        assert_eq!(uses(after), uses(before) + 1, "{name}");
    }
}

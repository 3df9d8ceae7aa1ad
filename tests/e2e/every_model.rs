//! Every model of this workspace over real gRPC: one of each in an engine or a driveline, one log each, one prediction each.

use ringland_proto::v1::{
    BatchPredictRequest, GetModelRequest, ListModelsRequest, Model, PredictRequest, Prediction,
    batch_predict_result::Result as Answer,
};
use ringland_tests::{
    Clients, Log, Server, Shop, at, install, lap_csv, lap_map, open_driveline, plugins, record_log,
};
use std::path::Path;

/// The installed models with their cards.
async fn models(clients: &mut Clients) -> Vec<Model> {
    let request = ListModelsRequest {
        page_size: 100,
        ..Default::default()
    };
    let listed = clients.models.list_models(request).await;
    let listed = listed.expect("a list").into_inner().models;
    assert!(listed.iter().all(|model| model.active), "{listed:?}");
    let mut models = Vec::new();
    for Model { name, .. } in listed {
        let model = clients.models.get_model(GetModelRequest { name }).await;
        models.push(model.expect("a model").into_inner());
    }
    models
}

/// Whether a model reads what the log of an engine has.
fn is_of_engine(model: &Model) -> bool {
    let card = model.card.as_ref().expect("a card");
    let known: Vec<String> = lap_map().columns.into_iter().map(|c| c.channel).collect();
    let mut required = card.channels.iter().filter(|need| need.required);
    let shocks = ["launch", "clutch_engagement", "shift", "impact"];
    required.all(|need| known.contains(&need.name))
        && !card
            .shocks
            .iter()
            .any(|need| shocks.contains(&need.kind.as_str()))
}

async fn predict_all(clients: &mut Clients, profile: &str, names: &[String]) -> Vec<Prediction> {
    let request = |name: &String| PredictRequest {
        component: name.clone(),
        profile: profile.into(),
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
    let driveline = open_driveline(&mut clients, "a")
        .await
        .expect("a driveline");
    let models = models(&mut clients).await;
    assert_eq!(models.len(), files.len(), "one model a plugin: {models:?}");

    let (mut engine_parts, mut driveline_parts) = (Vec::new(), Vec::new());
    for model in &models {
        let (build, parts) = if is_of_engine(model) {
            (&shop.build, &mut engine_parts)
        } else {
            (&driveline.build, &mut driveline_parts)
        };
        let id = model.component_type.replace('_', "-");
        parts.push(install(&mut clients, build, &id, &model.component_type).await);
    }
    let hard = Log {
        csv: lap_csv(4000),
        map: lap_map(),
    };
    let units = [
        (&shop.unit, &shop.profile, engine_parts, hard),
        (
            &driveline.unit,
            &driveline.profile,
            driveline_parts,
            Log::drive(8),
        ),
    ];
    for (unit, profile, parts, log) in units {
        let fresh = predict_all(&mut clients, profile, &parts).await;
        let request_id = format!("hard-{}", unit.replace('/', "-"));
        let recorded = record_log(&mut clients, unit, &request_id, at(20_000), log).await;
        recorded.expect("a log");
        let used = predict_all(&mut clients, profile, &parts).await;
        for (before, after) in fresh.iter().zip(&used) {
            no_better(before, after);
        }
    }
}

/// Use lengthens no life, lowers no risk, and is counted; the answer is whole.
fn no_better(before: &Prediction, after: &Prediction) {
    let name = &before.component;
    let median = |prediction: &Prediction| {
        let events = prediction.life.and_then(|life| life.events);
        events.expect(name).p50
    };
    // The draws are the same before and after. Longer than the horizon stays longer than the horizon.
    let (fresh, used) = (median(before), median(after));
    assert!(used <= fresh * (1.0 + 1e-9), "{name}: {used} after {fresh}");
    assert!(after.risk_next_event >= before.risk_next_event, "{name}");
    assert!(
        !after.mechanisms.is_empty() && !after.readings.is_empty(),
        "{name}"
    );
    assert!(!after.cautions.is_empty(), "{name} shows its cautions");
    let uses = |prediction: &Prediction| prediction.r#use.map_or(0, |usage| usage.duty_records);
    assert_eq!(uses(after), uses(before) + 1, "{name}");
}

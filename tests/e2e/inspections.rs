//! Inspections over real gRPC: the poller sees predictions change when one lands, a plugin from outside has it all without a line of
//! its own, a limit measured past overrules, and nothing is learnt of a reading that cannot be.

use ringland_proto::v1::{
    Action, ActivateModelRequest, CheckInspectionRequest, Component, CrackCheck, CrackMethod,
    CrackResult, CreateProfileRequest, ExplainInspectionRequest, Explanation, Finding,
    GetCorrectionRequest, Inspection, InstallModelRequest, ListInspectionsRequest,
    MasterComparison, Material, MeasuredReading, MechanismPrediction, PredictRequest, Prediction,
    Profile, RecordInspectionRequest, RecordInspectionResponse, ThermalState,
    UpdateComponentRequest, UpdateUnitRequest, WatchPredictionsRequest, WatchPredictionsResponse,
    watch_predictions_response::Change,
};
use ringland_tests::{
    Clients, Server, Shop, at, corner_and_straight, install, lap_csv, open_driveline,
    outside_plugin, plugin, program, record_csv, record_table,
};
use std::{process::Command, time::Duration};
use tonic::{Code, Status};
use tonic_types::StatusExt;

fn line(reading: &str, value: f64, sd: f64) -> MeasuredReading {
    MeasuredReading {
        reading: reading.into(),
        value,
        instrument: "gauge".into(),
        instrument_id: "gauge 1".into(),
        instrument_sd: Some(sd),
        ..Default::default()
    }
}

fn of(component: &str, seconds: i64, readings: Vec<MeasuredReading>) -> Inspection {
    Inspection {
        component: component.into(),
        inspection_time: Some(at(seconds)),
        inspected_by: "builder".into(),
        readings,
        ..Default::default()
    }
}

async fn record(
    clients: &mut Clients,
    inspection: Inspection,
) -> Result<RecordInspectionResponse, Status> {
    let request = RecordInspectionRequest {
        inspection: Some(inspection),
        ..Default::default()
    };
    let answer = clients.inspections.record_inspection(request).await?;
    Ok(answer.into_inner())
}

fn median(prediction: &Prediction) -> f64 {
    let life = prediction.life.and_then(|life| life.events);
    life.expect("a life").p50
}

fn reading(prediction: &Prediction, name: &str) -> (f64, Option<f64>) {
    let found = prediction.readings.iter().find(|r| r.reading == name);
    let found = found.expect("a reading");
    (found.now.expect("quantiles").p50, found.limit)
}

/// A shop whose rings have run three races.
async fn raced(clients: &mut Clients) -> Shop {
    let shop = Shop::open(clients, "a").await.expect("the shop opens");
    for (n, hour) in [(0, 10), (1, 20), (2, 30)] {
        let id = format!("race-{n}");
        let csv = lap_csv(1200);
        record_csv(clients, &shop.unit, &id, at(hour * 3600), &csv)
            .await
            .expect(&id);
    }
    shop
}

async fn next(watch: &mut tonic::Streaming<WatchPredictionsResponse>) -> Change {
    let message = tokio::time::timeout(Duration::from_secs(60), watch.message()).await;
    let message = message.expect("a change in time").expect("a change");
    message
        .expect("the watch goes on")
        .change
        .expect("a change says what")
}

#[tokio::test(flavor = "multi_thread")]
async fn a_watcher_and_a_poller_see_an_inspection_land() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = raced(&mut clients).await;
    let unit = ringland_proto::v1::Unit {
        name: shop.unit.clone(),
        event_profile: shop.profile.clone(),
        ..Default::default()
    };
    let request = UpdateUnitRequest {
        unit: Some(unit),
        update_mask: Some(prost_types::FieldMask {
            paths: vec!["event_profile".into()],
        }),
    };
    clients.units.update_unit(request).await.expect("an event");
    let request = WatchPredictionsRequest {
        targets: vec![shop.component.clone()],
    };
    let watch = clients.predictions.watch_predictions(request).await;
    let mut watch = watch.expect("a watch").into_inner();
    while !matches!(next(&mut watch).await, Change::CaughtUp(_)) {}

    let before = shop.predict(&mut clients).await.expect("a prediction");
    let (gap_m, limit) = reading(&before, "end_gap_m");
    let limit_m = limit.expect("a limit");
    // Half of the way to the limit again as worn as the model thinks: the rings wear faster here.
    let worn_m = gap_m + 0.2 * (limit_m - gap_m);
    let lines = vec![line("end_gap_m", worn_m, 2.0e-6)];
    let recorded = record(&mut clients, of(&shop.component, 40 * 3600, lines.clone()));
    let recorded = recorded.await.expect("recorded");
    let comparison = &recorded.comparisons[0];
    assert_eq!(comparison.mechanism, "end_gap");
    assert!(
        comparison.learnt && comparison.ln_rate.expect("a rate") > 0.0,
        "{comparison:?}"
    );

    let after = shop.predict(&mut clients).await.expect("a prediction");
    assert!(
        median(&after) < median(&before),
        "{} {}",
        median(&after),
        median(&before)
    );
    let (now_m, _) = reading(&after, "end_gap_m");
    assert!(
        now_m > gap_m && now_m < worn_m + 2.0e-6,
        "{gap_m} {now_m} {worn_m}"
    );
    let rate = after.mechanisms.iter().find(|m| m.mechanism == "end_gap");
    let rate = rate.and_then(|m| m.rate.clone()).expect("a rate");
    assert!(
        rate.median > 1.0 && rate.evidence.contains("1 reading"),
        "{rate:?}"
    );
    let layers: Vec<&str> = rate
        .layers
        .iter()
        .map(|layer| layer.layer.as_str())
        .collect();
    assert!(
        layers.contains(&"shop") && layers.contains(&"unit"),
        "{layers:?}"
    );
    // A poller asks again for what it was told.
    let request = PredictRequest {
        component: shop.component.clone(),
        profile: shop.profile.clone(),
        ..Default::default()
    };
    let polled = clients
        .predictions
        .predict(request)
        .await
        .expect("polled")
        .into_inner();
    assert_eq!(polled.name, after.name);
    let seen = loop {
        if let Change::Prediction(seen) = next(&mut watch).await
            && median(&seen) < median(&before)
        {
            break seen;
        }
    };
    assert!((median(&seen) / median(&after) - 1.0).abs() < 1e-12);

    // The same at the same time is there already; another time with the same digits is doubted, not refused.
    let again = record(&mut clients, of(&shop.component, 40 * 3600, lines.clone())).await;
    assert_eq!(again.expect_err("refused").code(), Code::AlreadyExists);
    let copied = record(&mut clients, of(&shop.component, 41 * 3600, lines)).await;
    assert!(!copied.expect("recorded").findings.is_empty());

    let request = GetCorrectionRequest {
        component: shop.component.clone(),
    };
    let correction = clients
        .inspections
        .get_correction(request)
        .await
        .expect("a correction");
    assert_eq!(correction.into_inner().comparisons.len(), 2);
    let request = ListInspectionsRequest {
        parent: shop.component.clone(),
        ..Default::default()
    };
    let listed = clients
        .inspections
        .list_inspections(request)
        .await
        .expect("listed");
    assert_eq!(listed.into_inner().inspections.len(), 2);
}

#[tokio::test(flavor = "multi_thread")]
async fn what_cannot_be_is_refused_at_once_and_cold_leak_down_is_not_learnt() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = raced(&mut clients).await;
    let bad = of(
        &shop.component,
        40 * 3600,
        vec![
            line("end_gab_m", 5e-4, 1e-5),
            line("end_gap_m", f64::NAN, -1.0),
        ],
    );
    let refused = record(&mut clients, bad).await.expect_err("refused");
    assert_eq!(refused.code(), Code::InvalidArgument);
    let details = refused.get_details_bad_request().expect("details");
    assert!(details.field_violations.len() >= 3, "{details:?}");
    let request = ListInspectionsRequest {
        parent: shop.component.clone(),
        ..Default::default()
    };
    let listed = clients
        .inspections
        .list_inspections(request)
        .await
        .expect("listed");
    assert!(listed.into_inner().inspections.is_empty());

    let before = shop.predict(&mut clients).await.expect("a prediction");
    let mut cold = line("leak_down_fraction", 0.11, 0.01);
    cold.set_thermal_state(ThermalState::Cold);
    let recorded = record(&mut clients, of(&shop.component, 40 * 3600, vec![cold])).await;
    let recorded = recorded.expect("recorded");
    assert!(
        recorded.findings.iter().any(|f| f.remedy.contains("hot")),
        "{:?}",
        recorded.findings
    );
    assert!(
        recorded
            .comparisons
            .iter()
            .all(|comparison| !comparison.learnt)
    );
    let after = shop.predict(&mut clients).await.expect("a prediction");
    assert!((median(&after) / median(&before) - 1.0).abs() < 1e-12);

    // 86 mm of iron 10 K warmer than a master at 20 degC reads 9.46 um long: 86e-3 x 11e-6 x 10 (ISO 1; expansion from memory).
    let mut warm = line("end_gap_m", 5.0e-4, 5e-6);
    warm.master = Some(MasterComparison {
        part_temperature_k: 303.15,
        master_temperature_k: 293.15,
        size_m: 0.086,
        part_material: Material::Iron.into(),
        ..Default::default()
    });
    let request = CheckInspectionRequest {
        inspection: Some(of(&shop.component, 41 * 3600, vec![warm])),
    };
    let checked = clients
        .inspections
        .check_inspection(request)
        .await
        .expect("checked");
    let measured = checked.into_inner().comparisons[0].measured;
    assert!((5.0e-4 - measured - 9.46e-6).abs() < 1e-12, "{measured}");
}

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

/// Median events that the plates alone would last.
fn plates_left(prediction: &Prediction) -> f64 {
    let of_plates = |m: &&MechanismPrediction| m.mechanism == "plate_wear";
    let plates = prediction.mechanisms.iter().find(of_plates);
    let life = plates.and_then(|m| m.life.as_ref()).expect("a life");
    life.events.expect("quantiles").p50
}

#[tokio::test(flavor = "multi_thread")]
async fn a_plugin_from_outside_is_corrected_without_a_line_of_its_own() {
    let server = Server::start(&[]).await;
    let mut clients = server.clients().await;
    let bytes = std::fs::read(outside_plugin()).expect("the plugin can be read");
    let pieces: Vec<InstallModelRequest> = bytes
        .chunks(200_000)
        .map(|piece| InstallModelRequest {
            chunk: piece.to_vec(),
        })
        .collect();
    let model = clients
        .models
        .install_model(tokio_stream::iter(pieces))
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
    let line_up = open_driveline(&mut clients, "a")
        .await
        .expect("a driveline");
    let plates = install(
        &mut clients,
        &line_up.build,
        "plates",
        "differential_clutch",
    )
    .await;
    for (event, hour) in [("race-1", 10), ("race-2", 20)] {
        let table = corner_and_straight();
        record_table(&mut clients, &line_up.unit, event, at(hour * 3600), table)
            .await
            .expect(event);
    }
    let profile = CreateProfileRequest {
        profile_id: "corners".into(),
        profile: Some(Profile {
            duty: Some(corner_and_straight()),
            ..Default::default()
        }),
        ..Default::default()
    };
    let profile = clients.duty.create_profile(profile).await;
    let predict = PredictRequest {
        component: plates.clone(),
        profile: profile.expect("a profile").into_inner().name,
        ..Default::default()
    };
    let before = clients
        .predictions
        .predict(predict.clone())
        .await
        .expect("predicted")
        .into_inner();
    // Half as much again as the model expects, by an instrument that can tell.
    let (expected_m, _) = reading(&before, "stack_loss_m");
    let told = line("stack_loss_m", 1.5 * expected_m, 0.05 * expected_m);
    let recorded = record(&mut clients, of(&plates, 40 * 3600, vec![told])).await;
    let recorded = recorded.expect("recorded");
    let comparison = &recorded.comparisons[0];
    assert!(
        comparison.learnt && comparison.mechanism == "plate_wear",
        "{comparison:?}"
    );
    let after = clients
        .predictions
        .predict(predict)
        .await
        .expect("predicted")
        .into_inner();
    // The oil ends the pack sooner; what was learnt is of the plates.
    let (was, is) = (plates_left(&before), plates_left(&after));
    assert!(is < 0.85 * was, "{is} of {was}");
}

#[test]
fn the_command_records_lists_explains_and_shows_the_correction() {
    let runtime = tokio::runtime::Runtime::new().expect("a runtime");
    let (server, component) = runtime.block_on(async {
        let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
        let mut clients = server.clients().await;
        let shop = raced(&mut clients).await;
        (server, shop.component)
    });
    let id = component.trim_start_matches("components/");
    let run = |arguments: &[&str]| {
        let output = Command::new(program("ringland"))
            .arg(format!("--server={}", server.url))
            .args(arguments)
            .env("COLUMNS", "120")
            .output()
            .expect("the command runs");
        let text =
            String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
        (output.status.success(), text.into_owned())
    };
    let (done, text) = run(&["inspection", "correction", id]);
    assert!(done && text.contains("prior"), "{text}");
    let arguments = ["--at", "2026-03-02T16:00:00Z", "--by", "builder"];
    let gauge = [
        "--instrument",
        "feeler gauge",
        "--instrument-id",
        "feeler 2",
        "--sd",
        "10um",
    ];
    let record = ["inspection", "record", id, "--reading", "end_gap_m=20thou"];
    let (done, text) = run(&[&record[..], &arguments[..], &gauge[..]].concat());
    assert!(done && text.contains("end gap"), "{text}");
    let (done, text) = run(&["inspection", "list", id]);
    assert!(done && text.contains("builder"), "{text}");
    let (done, text) = run(&["inspection", "correction", id]);
    assert!(done && text.contains("shop"), "{text}");
    let unknown = ["inspection", "record", id, "--reading", "end_gab_m=20thou"];
    let later = ["--at", "2026-03-02T17:00:00Z", "--by", "builder"];
    let (done, text) = run(&[&unknown[..], &later[..]].concat());
    assert!(
        !done && text.contains("end_gab_m") && text.contains("end_gap_m"),
        "{text}"
    );
    runtime.block_on(async move { drop(server) });
}

//! What lands is seen by watcher and poller; what cannot be is refused, what is not comparable is not learnt.

use super::{line, median, next, of, raced, reading, record};
use ringland_proto::v1::{
    CheckInspectionRequest, GetCorrectionRequest, ListInspectionsRequest, MasterComparison,
    Material, PredictRequest, ThermalState, UpdateUnitRequest, WatchPredictionsRequest,
    watch_predictions_response::Change,
};
use ringland_tests::{Server, plugin};
use tonic::Code;
use tonic_types::StatusExt;

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

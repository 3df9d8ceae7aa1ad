//! What is found at parts, done to them, and learnt of their ends.

use super::{PLATE, close};
use crate::setup::{hour, log, one_hour, serve};
use ringland_proto::v1 as api;

/// After an hour of duty, as a micrometer would show it.
const WORN_M: f64 = 3e-3 - 3.6e-5;

#[tokio::test]
pub(super) async fn inspections() {
    let server = serve().await;
    server.with_plate().await;
    let recorded = server.duty().record_duty(log(one_hour("log-1", 1))).await;
    recorded.unwrap();
    let mut client = server.inspections();
    let measured = api::MeasuredReading {
        reading: "thickness_m".into(),
        value: WORN_M,
        ..Default::default()
    };
    let inspection = api::Inspection {
        component: PLATE.into(),
        inspection_time: Some(hour(3)),
        inspected_by: "builder".into(),
        readings: vec![measured],
        ..Default::default()
    };
    let check = api::CheckInspectionRequest {
        inspection: Some(inspection.clone()),
    };
    let checked = client.check_inspection(check).await.unwrap().into_inner();
    close(checked.comparisons[0].predicted, WORN_M);
    let record = api::RecordInspectionRequest {
        inspection: Some(inspection),
        request_id: String::new(),
    };
    let recorded = client.record_inspection(record).await.unwrap().into_inner();
    close(recorded.comparisons[0].measured, WORN_M);
    let inspection = recorded.inspection.unwrap();
    let get = api::GetInspectionRequest {
        name: inspection.name.clone(),
    };
    let got = client.get_inspection(get).await.unwrap().into_inner();
    assert_eq!(got, inspection);
    let list = api::ListInspectionsRequest {
        parent: PLATE.into(),
        ..Default::default()
    };
    let listed = client.list_inspections(list).await.unwrap().into_inner();
    assert_eq!(listed.inspections, [got]);
    let explain = api::ExplainInspectionRequest {
        name: inspection.name,
        reading: "thickness_m".into(),
        explanation: api::Explanation::InstrumentBias.into(),
        by: "builder".into(),
        reason: "the micrometer was dropped".into(),
        ..Default::default()
    };
    let explained = client.explain_inspection(explain).await.unwrap();
    let explained = explained.into_inner().inspection.unwrap();
    assert_eq!(
        explained.readings[0].explanation(),
        api::Explanation::InstrumentBias
    );
    assert_eq!(explained.readings[0].explanation_history[0].by, "builder");
    let correction = api::GetCorrectionRequest {
        component: PLATE.into(),
    };
    let correction = client.get_correction(correction).await.unwrap();
    let correction = correction.into_inner();
    assert_eq!(correction.mechanisms[0].mechanism, "wear");
    assert!(!correction.comparisons[0].learnt, "a bias is no wear");
}

/// The shop's own: half the wear.
const FINISH: &str = r#"[[treatments]]
id = "fine-finish"
label = "fine finish of our own"
description = "Tumbled plates, our sheet 3."
grade = "shop"
stage = "superfinish"
[[treatments.effects]]
component_types = ["test_plate"]
surfaces = ["face"]
wear_coefficient_m2_n = { multiply = 0.5, ln_sd = 0.3 }
"#;

#[tokio::test]
pub(super) async fn treatments() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.treatments();
    let put = api::PutTreatmentRequest {
        text: FINISH.into(),
        ..Default::default()
    };
    let put = client.put_treatment(put).await.unwrap().into_inner();
    assert_eq!(
        (put.name.as_str(), put.revision),
        ("treatments/fine-finish", 1)
    );
    let get = api::GetTreatmentRequest {
        name: put.name.clone(),
        revision: 0,
    };
    let got = client.get_treatment(get).await.unwrap().into_inner();
    assert_eq!(got, put);
    let list = api::ListTreatmentsRequest {
        component_type: "test_plate".into(),
        ..Default::default()
    };
    let listed = client.list_treatments(list).await.unwrap().into_inner();
    assert!(
        listed
            .treatments
            .iter()
            .any(|listed| listed.name == put.name)
    );
    let finish = api::TreatmentUse {
        treatment: "fine-finish".into(),
        surfaces: Vec::new(),
    };
    let check = api::CheckTreatmentsRequest {
        subject: Some(api::check_treatments_request::Subject::Component(
            PLATE.into(),
        )),
        treatments: vec![finish.clone()],
        effective_time: None,
    };
    let checked = client.check_treatments(check).await.unwrap().into_inner();
    let after = checked.changes[0].after.as_ref().unwrap();
    close(after.properties["wear_coefficient_m2_n"], 0.5);
    let apply = api::ApplyTreatmentsRequest {
        component: PLATE.into(),
        treatments: vec![finish],
        effective_time: Some(hour(5)),
        note: "sheet 3".into(),
        request_id: String::new(),
    };
    let applied = client.apply_treatments(apply).await.unwrap().into_inner();
    assert_eq!(applied.revision.unwrap().effective_time, Some(hour(5)));
    let get = api::GetComponentRequest { name: PLATE.into() };
    let treated = server.components().get_component(get).await.unwrap();
    assert_eq!(treated.into_inner().treatments, ["fine-finish"]);
}

#[tokio::test]
pub(super) async fn evidence() {
    let server = serve().await;
    server.with_plate().await;
    let mut client = server.evidence();
    let retire = api::RetireComponentRequest {
        component: PLATE.into(),
        retire_time: Some(hour(9)),
        cause: api::EndCause::ReachedLimit.into(),
        mechanism: "wear".into(),
        retired_by: "builder".into(),
        ..Default::default()
    };
    let retired = client.retire_component(retire).await.unwrap().into_inner();
    assert_eq!(retired.installed_build, "", "taken out with it");
    let life = |age: f64, group: &str| api::ObservedLife {
        age,
        ended: true,
        group: group.into(),
        ..Default::default()
    };
    let given = api::GivenLives {
        lives: [10.0, 12.0, 14.0]
            .into_iter()
            .flat_map(|age| [life(age, "untreated"), life(2.0 * age, "peened")])
            .collect(),
        age_unit: "events".into(),
    };
    let analyze = api::AnalyzeLivesRequest {
        source: Some(api::analyze_lives_request::Source::Given(given.clone())),
    };
    let analysis = client.analyze_lives(analyze).await.unwrap().into_inner();
    let counts = analysis.counts.unwrap();
    assert_eq!(
        (counts.parts, counts.ended, counts.total_age),
        (6, 6, 108.0)
    );
    let compare = api::CompareGroupsRequest {
        source: Some(api::compare_groups_request::Source::Given(given)),
        ..Default::default()
    };
    let groups = client.compare_groups(compare).await.unwrap().into_inner();
    let median = |group: &Option<api::GroupSummary>| group.as_ref().unwrap().median;
    assert_eq!(
        (median(&groups.base), median(&groups.other)),
        (Some(12.0), Some(24.0))
    );
    let given = api::GivenReplacements {
        units: vec![api::RepairedUnit {
            unit: "engine-x".into(),
            ages: vec![5.0, 11.0],
            end: 20.0,
        }],
        age_unit: "h".into(),
    };
    let analyze = api::AnalyzeReplacementsRequest {
        source: Some(api::analyze_replacements_request::Source::Given(given)),
    };
    let replacements = client.analyze_replacements(analyze).await.unwrap();
    let steps: Vec<f64> = replacements
        .into_inner()
        .steps
        .iter()
        .map(|step| step.mean.unwrap().value)
        .collect();
    assert_eq!(steps, [1.0, 2.0]);
}

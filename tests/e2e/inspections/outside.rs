//! A plugin from outside has it all without a line of its own.

use super::{line, of, reading, record};
use ringland_proto::v1::{
    ActivateModelRequest, CreateProfileRequest, InstallModelRequest, MechanismPrediction,
    PredictRequest, Prediction, Profile,
};
use ringland_tests::{
    Server, at, corner_and_straight, install, open_driveline, outside_plugin, record_table,
};

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

//! A model from outside, without the readings.

use super::{Cell, DAY, new_component, pulls};
use ringland_proto::v1::{AssessPowerFadeRequest, AssessSeatingRequest};
use ringland_tests::{at, outside_plugin, plugin, put_in};
use tonic::Code;
use tonic_types::StatusExt;

/// A part from outside whose model says nothing of seating: the refusal names what it would take.
#[tokio::test(flavor = "multi_thread")]
async fn a_model_without_the_readings_is_refused_by_their_names() {
    let outside = outside_plugin();
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack"), &outside]).await;
    let plates = new_component(&mut cell.clients, "plates", "differential_clutch").await;
    let request = AssessSeatingRequest {
        component: plates.clone(),
        pulls: pulls(&DAY),
        ..Default::default()
    };
    let status = cell
        .clients
        .running_in
        .assess_seating(request)
        .await
        .expect_err("no such readings");
    assert_eq!(status.code(), Code::FailedPrecondition);
    for part in ["seating_fraction", "blow_by_m3_s", "differential_clutch"] {
        assert!(status.message().contains(part), "{status}");
    }
    let details = status.get_error_details();
    assert_eq!(
        details.error_info().expect("a reason").reason,
        "READING_MISSING"
    );
    // In a build, it is left out of the power and said to be.
    let installed = put_in(&mut cell.clients, &cell.shop.build, &plates, at(0)).await;
    installed.expect("installed");
    let request = AssessPowerFadeRequest {
        unit: cell.shop.unit.clone(),
        profile: cell.shop.profile.clone(),
        ..Default::default()
    };
    let found = cell
        .clients
        .running_in
        .assess_power_fade(request)
        .await
        .expect("a fade")
        .into_inner();
    assert!(
        found.left_out.iter().any(|line| line.contains(&plates)),
        "{:?}",
        found.left_out
    );
}

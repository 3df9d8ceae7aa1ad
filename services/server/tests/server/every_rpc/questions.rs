//! Questions of the week.

use super::{BUILD, NEW_LIFE, PLATE, UNIT, close};
use crate::setup::{Served, build, header, hour, install, log, plate, reduced, serve, unit};
use ringland_proto::v1::{self as api, record_duty_request::Payload};

/// An hour of use and 100 s of over-rev, which wear the plate like any other time.
async fn over_rev(server: &Served) -> String {
    let column = |value: f64| api::Column {
        values: vec![value],
    };
    let shock = api::DutyShocks {
        kind: "over_rev".into(),
        fields: [
            "start_s",
            "duration_s",
            "peak_engine_speed_rad_s",
            "mean_engine_speed_rad_s",
            "mean_engine_torque_n_m",
        ]
        .map(Into::into)
        .into(),
        columns: [5.0, 100.0, 985.0, 979.0, 0.0].map(column).into(),
    };
    let duty = api::DutyTable {
        duration_s: 3700.0,
        time_s: vec![3600.0, 100.0],
        points: vec![api::Column {
            values: vec![500.0, 980.0],
        }],
        shocks: vec![shock],
        ..reduced(3700.0)
    };
    let payloads = vec![Payload::Header(header("missed", 1)), Payload::Reduced(duty)];
    let recorded = server.duty().record_duty(log(payloads)).await.unwrap();
    recorded.into_inner().duty_record.unwrap().name
}

#[tokio::test]
pub(super) async fn questions_about_a_unit() {
    let server = serve().await;
    server.with_plate().await;
    let record = over_rev(&server).await;
    let mut client = server.questions();
    let ask = api::AskOneMoreEventRequest {
        target: UNIT.into(),
        ..Default::default()
    };
    let event = client.ask_one_more_event(ask).await.unwrap().into_inner();
    let outlook = event.parts[0].outlook.as_ref().unwrap();
    assert_eq!((outlook.component.as_str(), outlook.risk), (PLATE, 0.0));
    let left = outlook.life.as_ref().unwrap().events.unwrap().p50;
    close(left, NEW_LIFE - 3700.0 / 3600.0);
    let ask = api::AskOverRevCostRequest {
        duty_record: record,
        ..Default::default()
    };
    let shock = client.ask_over_rev_cost(ask).await.unwrap().into_inner();
    close(shock.removed_time_s, 100.0);
    let lost = shock.lost_events.unwrap().p50.unwrap();
    close(lost.at_least.unwrap(), 100.0 / 3600.0);
    let ask = api::AskSpeedChangeRequest {
        unit: UNIT.into(),
        changes_rad_s: vec![20.94],
        ..Default::default()
    };
    let speed = client.ask_speed_change(ask).await.unwrap().into_inner();
    let part = &speed.alternatives[0].parts[0];
    let ratio = part.life_ratio.unwrap().p50.unwrap();
    assert_eq!(ratio.at_least, Some(1.0), "plates wear with time alone");
}

#[tokio::test]
pub(super) async fn questions_about_several_units() {
    let server = serve().await;
    server.with_plate().await;
    server.units().create_unit(unit("engine-b")).await.unwrap();
    let elsewhere = build("units/engine-b", "b1");
    server.builds().create_build(elsewhere).await.unwrap();
    let mut components = server.components();
    let other = plate("plate-2", 3e-3);
    components.create_component(other).await.unwrap();
    let there = api::InstallComponentRequest {
        build: "units/engine-b/builds/b1".into(),
        install_time: Some(hour(0)),
        ..install("plate-2", 0)
    };
    components.install_component(there).await.unwrap();
    let mut client = server.questions();
    let ask = api::AskPartMoveRequest {
        component: PLATE.into(),
        unit: "units/engine-b".into(),
        position: "cylinder 1".into(),
        ..Default::default()
    };
    let moved = client.ask_part_move(ask).await.unwrap().into_inner();
    assert_eq!(moved.replaces, "components/plate-2");
    assert_eq!(moved.from.unwrap().build, BUILD);
    // 27.8 events: the limit comes in the 28th.
    let ask = api::AskSpareRequest {
        units: vec![UNIT.into(), "units/engine-b".into()],
        events: 28,
        spare_price: 500.0,
        lead_time_days: 14.0,
        days_between_events: 7.0,
        missed_event_cost: 4_500.0,
        ..Default::default()
    };
    let spare = client.ask_spare(ask).await.unwrap().into_inner();
    let down = |event: usize| spare.events[event - 1].down_probability;
    assert_eq!((down(27), down(28)), (0.0, 1.0));
}

//! Calendars, plans, ages of replacement, decisions other than advised.

use super::{NEW_LIFE, PLATE, UNIT, close};
use crate::setup::{Served, hour, serve};
use ringland_proto::v1::{self as api, find_replacement_age_request::Source};

const CALENDAR: &str = "calendars/season";

/// Three races, one a week.
async fn put_season(server: &Served) -> api::Calendar {
    let race = |week: i64| api::CalendarEvent {
        code: format!("R{week}"),
        start_time: Some(hour(168 * week)),
        race: true,
        ..Default::default()
    };
    let season = api::Calendar {
        display_name: "Season".into(),
        events: (1..=3).map(race).collect(),
        ..Default::default()
    };
    let put = api::PutCalendarRequest {
        calendar_id: "season".into(),
        calendar: Some(season),
        ..Default::default()
    };
    let put = server.plans().put_calendar(put).await.unwrap();
    put.into_inner()
}

#[tokio::test]
pub(super) async fn plans() {
    let server = serve().await;
    server.with_plate().await;
    let put = put_season(&server).await;
    let mut client = server.plans();
    let get = api::GetCalendarRequest {
        name: CALENDAR.into(),
        revision: 1,
    };
    assert_eq!(client.get_calendar(get).await.unwrap().into_inner(), put);
    let list = client.list_calendars(api::ListCalendarsRequest::default());
    assert_eq!(list.await.unwrap().into_inner().calendars, [put]);
    let make = api::MakePlanRequest {
        unit: UNIT.into(),
        calendar: CALENDAR.into(),
        ..Default::default()
    };
    let plan = client.make_plan(make).await.unwrap().into_inner();
    let used = plan.events.iter().map(|event| event.parts[0].used_p50);
    for (used, events) in used.zip([1.0, 2.0, 3.0]) {
        close(used, events / NEW_LIFE);
    }
    assert_eq!(plan.events.len(), 3);
    let find = api::FindReplacementAgeRequest {
        source: Some(Source::Weibull(api::WeibullLaw {
            shape: 0.8,
            scale: 100.0,
            age_unit: "h".into(),
        })),
        planned_cost: 1.0,
        failure_cost: 5.0,
    };
    let age = client.find_replacement_age(find).await.unwrap();
    assert_eq!(
        age.into_inner().age,
        None,
        "what does not age is run to its end"
    );
}

#[tokio::test]
pub(super) async fn overrides() {
    let server = serve().await;
    server.with_plate().await;
    put_season(&server).await;
    let mut client = server.plans();
    let decided = api::Override {
        subject: PLATE.into(),
        calendar: CALENDAR.into(),
        event: "R2".into(),
        advice: "replace the plates before it".into(),
        decision: "run on".into(),
        decided_by: "owner".into(),
        reason: "no spare at the track".into(),
        decision_time: Some(hour(100)),
        ..Default::default()
    };
    let record = api::RecordOverrideRequest {
        r#override: Some(decided),
        request_id: String::new(),
    };
    let recorded = client.record_override(record).await.unwrap().into_inner();
    assert_eq!(recorded.decided_by, "owner");
    let list = api::ListOverridesRequest {
        subject: UNIT.into(),
        ..Default::default()
    };
    let listed = client.list_overrides(list).await.unwrap().into_inner();
    assert_eq!(listed.overrides, [recorded]);
}

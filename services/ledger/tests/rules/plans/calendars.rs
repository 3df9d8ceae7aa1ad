//! Calendars: what is kept of them, and what is ahead by them.

use super::{WEEK_H, name, plan, put, season, shop, wanted};
use crate::shop::{page, profile, steady, unit};
use ringland_ledger::{ErrorKind, LimitOwner, PartLimit, Plan, Reason};

#[test]
fn a_calendar_is_put_whole_and_kept_in_every_revision() {
    let shop = shop(&["spring_set"]);
    let first = shop
        .ledger
        .put_calendar("season", season(3, &["spring_set"]), "", "a")
        .unwrap();
    let again = shop
        .ledger
        .put_calendar("season", season(3, &["spring_set"]), "", "a")
        .unwrap();
    assert_eq!(
        (first.revision, &first),
        (1, &again),
        "the same request changes nothing"
    );
    let stale = shop
        .ledger
        .put_calendar("season", season(4, &["spring_set"]), "stale", "");
    assert_eq!(stale.unwrap_err().reason(), Reason::EtagMismatch);
    let second = shop
        .ledger
        .put_calendar("season", season(4, &["spring_set"]), &first.etag, "");
    assert_eq!(second.unwrap().revision, 2);
    assert_eq!(
        shop.ledger
            .get_calendar(&name(), 0)
            .unwrap()
            .content
            .events
            .len(),
        4
    );
    assert_eq!(shop.ledger.get_calendar(&name(), 1).unwrap(), first);
    let missing = shop.ledger.get_calendar(&name(), 3).unwrap_err();
    assert_eq!(missing.kind(), ErrorKind::NotFound);
    assert_eq!(
        shop.ledger
            .list_calendars(&page(0, ""))
            .unwrap()
            .items
            .len(),
        1
    );
}

#[test]
fn everything_wrong_with_a_calendar_comes_at_once_and_nothing_is_kept() {
    let shop = shop(&["spring_set"]);
    let mut wrong = season(2, &["spring_set"]);
    wrong.events[1].start_time = wrong.events[0].start_time;
    wrong.events[0].severity = 0.0;
    wrong.opportunities[1].after_event = "R9".into();
    wrong.parts[0].level = "sump_off".into();
    wrong.parts[0].price = f64::NAN;
    wrong.risk_caps.hazard = Some(1.0);
    wrong.limits.push(PartLimit {
        component_type: "spring_set".into(),
        most_hours: None,
        most_events: None,
        owner: LimitOwner::Maker,
        source: " ".into(),
    });
    let error = shop
        .ledger
        .put_calendar("season", wrong, "", "")
        .unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(
        fields,
        [
            "calendar.events[0].severity",
            "calendar.events[1].start_time",
            "calendar.opportunities[1].after_event",
            "calendar.parts[0].price",
            "calendar.parts[0].level",
            "calendar.limits[0].source",
            "calendar.limits[0].most_hours",
            "calendar.risk_caps.hazard",
        ]
    );
    assert_eq!(shop.ledger.list_calendars(&page(0, "")).unwrap().items, []);
    let mut unknown = season(2, &["spring_set"]);
    unknown.events[0].profile = Some(profile("none"));
    let error = shop
        .ledger
        .put_calendar("season", unknown, "", "")
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NotFound);
}

#[test]
fn events_that_are_over_and_those_of_others_are_not_planned() {
    let shop = shop(&["spring_set"]);
    let mut content = season(5, &["spring_set"]);
    content.events[3].units = vec![unit("engine-b")];
    put(&shop, content);
    let codes = |plan: &Plan| {
        plan.events
            .iter()
            .map(|e| e.code.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        codes(&shop.ledger.make_plan(&wanted()).unwrap()),
        ["R1", "R2", "R3", "R5"]
    );
    shop.run("engine-a", WEEK_H * 2.0 + 1.0, 800.0);
    assert_eq!(
        codes(&shop.ledger.make_plan(&wanted()).unwrap()),
        ["R3", "R5"]
    );
}

#[test]
fn an_oil_temperature_that_the_profile_lacks_is_said() {
    let shop = shop(&["spring_set"]);
    let mut content = season(2, &[]);
    content.events[1].oil_temp_k = Some(390.0);
    let plan = plan(&shop, content);
    assert!(
        plan.notes
            .iter()
            .any(|note| note.field == "events.R2.oil_temp_k")
    );
    let mut duty = steady(2.0, 800.0);
    duty.channels.push("oil_temp_k".into());
    duty.points.push(vec![380.0, 390.0]);
    shop.profile("warm", duty);
    let mut warm = season(2, &[]);
    for event in &mut warm.events {
        event.profile = Some(profile("warm"));
    }
    warm.events[1].oil_temp_k = Some(400.0);
    put(&shop, warm);
    let plan = shop.ledger.make_plan(&wanted()).unwrap();
    assert!(
        !plan
            .notes
            .iter()
            .any(|note| note.field.contains("oil_temp_k")),
        "{:?}",
        plan.notes
    );
}

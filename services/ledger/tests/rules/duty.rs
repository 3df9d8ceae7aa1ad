//! Duty records and profiles.

use crate::shop::{Shop, at, build, log, page, profile, steady, unit};
use ringland_ledger::{Change, ErrorKind, IntakeReport, ProfileInput, Reason};

#[test]
fn a_record_comes_back_as_it_was_sent() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.changes.lock().unwrap().clear();
    let record = shop.run("engine-a", 1.0, 500.0).duty_record;
    assert_eq!(
        record.name.to_string(),
        "units/engine-a/dutyRecords/20260101t010000z"
    );
    assert_eq!(record.build, build("engine-a", "b1"));
    assert_eq!(record.end_time, at(2.0));
    assert_eq!(record.duty, None);
    let full = shop.ledger.get_duty_record(&record.name).unwrap();
    assert_eq!(full.duty, Some(steady(1.0, 500.0)));
    // Turns = time x speed / 2 pi, by hand: 3600 s x (0.25 x 500 + 0.75 x 400) rad/s.
    let turns = 3600.0 * 425.0 / std::f64::consts::TAU;
    assert!((full.crank_revolutions - turns).abs() < 1e-6);
    assert_eq!(
        *shop.changes.lock().unwrap(),
        [Change::Components(vec![name])]
    );
    let list = shop
        .ledger
        .list_duty_records(&unit("engine-a"), &page(0, ""))
        .unwrap();
    assert_eq!(list.items, [record]);
}

#[test]
fn a_build_must_be_open_over_a_record() {
    let shop = Shop::open();
    let refused = |start: f64| {
        shop.ledger
            .record_duty(log("engine-a", "r", start, 500.0))
            .unwrap_err()
    };
    let before = refused(-0.5);
    assert_eq!(
        (before.kind(), before.reason()),
        (ErrorKind::FailedPrecondition, Reason::BuildNotOpen)
    );
    assert!(
        before.to_string().contains(&at(0.0).to_string()),
        "{before}"
    );
    shop.ledger
        .close_build(&build("engine-a", "b1"), at(10.0), "")
        .unwrap();
    let over = refused(9.5);
    assert_eq!(over.reason(), Reason::BuildNotOpen);
    assert!(over.to_string().contains(&at(10.0).to_string()), "{over}");
    assert_eq!(refused(12.0).reason(), Reason::BuildNotOpen);
    shop.run("engine-a", 9.0, 500.0);
}

#[test]
fn records_of_a_unit_do_not_overlap() {
    let shop = Shop::open();
    shop.run("engine-a", 10.0, 500.0);
    for start in [10.0, 10.5, 9.5, 10.0 + 3598.5 / 3600.0] {
        let error = shop
            .ledger
            .record_duty(log("engine-a", "r", start, 500.0))
            .unwrap_err();
        assert_eq!(error.reason(), Reason::DutyOverlap, "{start}");
        assert!(error.to_string().contains("20260101t100000z"), "{error}");
    }
    // Within the tolerance of 1 s, touching, and in another unit.
    shop.ledger
        .record_duty(log("engine-a", "r1", 10.0 + 3599.0 / 3600.0, 500.0))
        .unwrap();
    shop.ledger
        .record_duty(log("engine-a", "r2", 9.0, 500.0))
        .unwrap();
    shop.ledger
        .record_duty(log("engine-b", "r3", 10.0, 500.0))
        .unwrap();
}

/// A log with gaps covers more time than it counts.
#[test]
fn a_record_lasts_as_long_as_its_log() {
    let shop = Shop::open();
    let report = IntakeReport {
        log_duration_s: 2.0 * 3600.0,
        ..IntakeReport::default()
    };
    let mut record = log("engine-a", "r1", 1.0, 500.0);
    record.intake_report = Some(report);
    assert_eq!(
        shop.ledger
            .record_duty(record)
            .unwrap()
            .duty_record
            .end_time,
        at(3.0)
    );
    let error = shop
        .ledger
        .record_duty(log("engine-a", "r2", 2.5, 500.0))
        .unwrap_err();
    assert_eq!(error.reason(), Reason::DutyOverlap);
}

#[test]
fn a_bad_header_is_refused_by_its_fields() {
    let shop = Shop::open();
    let mut record = log("engine-a", "", 1.0, 500.0);
    record.content_sha256 = "abc".into();
    record.events = Some(0.0);
    let error = shop.ledger.record_duty(record).unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(fields, ["request_id", "content_sha256", "events"]);
    let error = shop
        .ledger
        .record_duty(log("engine-x", "r", 1.0, 500.0))
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NotFound);
}

#[test]
fn a_profile_is_the_mean_of_its_records() {
    let shop = Shop::open();
    let names = [1.0, 3.0, 5.0].map(|start| shop.run("engine-a", start, 500.0).duty_record.name);
    let input = ProfileInput {
        duty_records: names.to_vec(),
        ..ProfileInput::default()
    };
    let made = shop
        .ledger
        .create_profile("sprint", input.clone(), "r-1")
        .unwrap();
    // Three records of half an event each.
    assert!((made.events - 1.5).abs() < 1e-12);
    assert!((made.duration_s - 7200.0).abs() < 1e-9);
    assert_eq!(made.duty.as_ref().unwrap().shocks[0].columns[0].len(), 2);
    assert_eq!(
        shop.ledger
            .create_profile("sprint", input.clone(), "r-1")
            .unwrap(),
        made
    );
    assert_eq!(shop.ledger.get_profile(&profile("sprint")).unwrap(), made);
    let taken = shop
        .ledger
        .create_profile("sprint", input.clone(), "")
        .unwrap_err();
    assert_eq!(taken.reason(), Reason::ResourceExists);
    let both = ProfileInput {
        duty: Some(steady(1.0, 1.0)),
        ..input
    };
    let error = shop.ledger.create_profile("both", both, "").unwrap_err();
    assert_eq!(error.violations()[0].field, "profile.duty_records");
    let neither = shop
        .ledger
        .create_profile("none", ProfileInput::default(), "")
        .unwrap_err();
    assert_eq!(neither.violations()[0].field, "profile.duty");
    let listed = shop.ledger.list_profiles(&page(0, "")).unwrap();
    assert_eq!(listed.items.len(), 2);
    assert!(listed.items.iter().all(|profile| profile.duty.is_none()));
}

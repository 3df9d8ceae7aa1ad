//! Request ids, etags, masks, pages, lost races.

use crate::shop::{LOG, Shop, at, build, engine, log, page, part, unit};
use ringland_ledger::{
    BuildInput, ComponentInput, ErrorKind, LedgerError, LedgerOptions, Reason, UnitInput,
};
use std::sync::atomic::Ordering;

#[test]
fn the_same_request_again_gives_the_same_answer_and_changes_nothing() {
    let shop = Shop::open();
    let ledger = &shop.ledger;
    let once = |ledger: &ringland_ledger::Ledger| {
        let unit_made = ledger.create_unit("engine-c", engine(), "r-1").unwrap();
        let input = BuildInput {
            assembly_time: Some(at(0.0)),
            ..BuildInput::default()
        };
        let build_made = ledger
            .create_build(&unit("engine-c"), "b1", input, "r-1")
            .unwrap();
        let input = ComponentInput {
            component_type: "wear_part".into(),
            ..ComponentInput::default()
        };
        let part_made = ledger.create_component("wp-c", input, "r-1").unwrap();
        let place = build("engine-c", "b1");
        let installed = ledger
            .install_component(&part("wp-c"), &place, "1", at(1.0), "r-1")
            .unwrap();
        let record = ledger
            .record_duty(log("engine-c", "r-1", 2.0, 500.0))
            .unwrap();
        let rework = ledger
            .record_rework(&part("wp-c"), "reface", at(4.0), "", "r-1")
            .unwrap();
        let removed = ledger
            .remove_component(&part("wp-c"), at(5.0), "r-1")
            .unwrap();
        let closed = ledger.close_build(&place, at(6.0), "r-1").unwrap();
        (
            unit_made,
            build_made,
            part_made,
            installed,
            record.duty_record,
            rework,
            removed,
            closed,
        )
    };
    let first = once(ledger);
    let before = shop.store.dump(&LOG);
    let commits = shop.store.commits.load(Ordering::Relaxed);
    assert_eq!(once(ledger), first);
    assert_eq!(shop.store.dump(&LOG), before);
    // One barrier each: what is answered again is on disk.
    assert_eq!(shop.store.commits.load(Ordering::Relaxed), commits + 8);
    assert!(
        ledger
            .record_duty(log("engine-c", "r-1", 2.0, 500.0))
            .unwrap()
            .replayed
    );
}

#[test]
fn a_request_id_with_other_content_is_refused() {
    let shop = Shop::open();
    shop.ledger
        .create_unit("engine-c", engine(), "r-1")
        .unwrap();
    let error = shop
        .ledger
        .create_unit("engine-d", engine(), "r-1")
        .unwrap_err();
    assert_eq!(error.reason(), Reason::RequestIdReused);
    assert_eq!(error.kind(), ErrorKind::AlreadyExists);
    shop.ledger
        .record_duty(log("engine-a", "r-2", 1.0, 500.0))
        .unwrap();
    let error = shop
        .ledger
        .record_duty(log("engine-a", "r-2", 5.0, 500.0))
        .unwrap_err();
    assert_eq!(error.reason(), Reason::RequestIdReused);
    assert_eq!(error.reason().code(), "REQUEST_ID_REUSED");
}

/// What intake makes of a log may change with its version; the log is the same.
#[test]
fn a_log_is_the_same_by_what_was_sent() {
    let shop = Shop::open();
    let first = log("engine-a", "r-1", 1.0, 500.0);
    let mut again = first.clone();
    again.duty.points[0][0] += 1.0;
    shop.ledger.record_duty(first).unwrap();
    assert!(shop.ledger.record_duty(again).unwrap().replayed);
}

#[test]
fn a_lost_race_is_tried_again_but_not_for_ever() {
    let shop = Shop::open();
    shop.store.conflicts.store(7, Ordering::Relaxed);
    shop.ledger.create_unit("engine-c", engine(), "").unwrap();
    shop.store.conflicts.store(8, Ordering::Relaxed);
    let error = shop
        .ledger
        .create_unit("engine-d", engine(), "")
        .unwrap_err();
    assert_eq!(
        (error.kind(), error.reason()),
        (ErrorKind::Aborted, Reason::ConcurrentChange)
    );
    shop.ledger.create_unit("engine-d", engine(), "").unwrap();
}

#[test]
fn nothing_is_acknowledged_that_the_store_did_not_take() {
    let shop = Shop::open();
    shop.store.failures.store(1, Ordering::Relaxed);
    let error = shop
        .ledger
        .record_duty(log("engine-a", "r-1", 1.0, 500.0))
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Unavailable);
    assert!(
        !shop
            .ledger
            .record_duty(log("engine-a", "r-1", 1.0, 500.0))
            .unwrap()
            .replayed
    );
}

#[test]
fn an_update_changes_what_the_mask_names() {
    let shop = Shop::open();
    let before = shop.ledger.get_unit(&unit("engine-a")).unwrap();
    let input = UnitInput {
        display_name: "Spare".into(),
        ..UnitInput::default()
    };
    let mask = ["display_name".to_owned()];
    let after = shop
        .ledger
        .update_unit(&before.name, input.clone(), &mask, &before.etag)
        .unwrap();
    assert_eq!(after.display_name, "Spare");
    assert_eq!(after.event_profile, before.event_profile);
    assert_ne!(after.etag, before.etag);
    assert_eq!(shop.ledger.get_unit(&before.name).unwrap(), after);
    let stale = shop
        .ledger
        .update_unit(&before.name, input.clone(), &mask, &before.etag);
    assert_eq!(stale.unwrap_err().reason(), Reason::EtagMismatch);
    for mask in [vec![], vec!["kind".to_owned()]] {
        let error = shop
            .ledger
            .update_unit(&before.name, input.clone(), &mask, "")
            .unwrap_err();
        assert_eq!(error.violations()[0].field, "update_mask");
    }
}

#[test]
fn treatments_are_a_revision_and_leave_the_rest_alone() {
    let shop = Shop::open();
    let name = shop.part("wp-1", "wear_part");
    let done = |treatments: &[&str]| ComponentInput {
        treatments: treatments.iter().map(|id| (*id).to_owned()).collect(),
        ..ComponentInput::default()
    };
    let update = |input: ComponentInput, hours: Option<f64>| {
        let mask = ["treatments".to_owned()];
        let from = hours.map(at);
        shop.ledger
            .update_component(&name, input, &mask, "", from, "sheet 12")
    };
    let before = shop.ledger.get_component(&name).unwrap();
    let after = update(done(&["nitride", "superfinish"]), Some(2.0)).unwrap();
    assert_eq!(after.treatments, ["nitride", "superfinish"]);
    assert_eq!(
        (&after.spec, &after.surfaces),
        (&before.spec, &before.surfaces)
    );
    // An earlier time does not reach over the later revision.
    let earlier = update(done(&["nitride"]), Some(1.0)).unwrap();
    assert_eq!(earlier.treatments, ["nitride", "superfinish"]);
    let revisions = shop.ledger.list_revisions(&name, &page(0, "")).unwrap();
    let told: Vec<usize> = revisions.items.iter().map(|r| r.treatments.len()).collect();
    assert_eq!(told, [0, 1, 2], "by effective time");
    let error = update(done(&["nitride"]), None).unwrap_err();
    assert_eq!(error.violations()[0].field, "effective_time");
    let error = update(done(&["nitride", "Shot Peen", ""]), Some(3.0)).unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(
        fields,
        ["component.treatments[1]", "component.treatments[2]"]
    );
    let error = update(done(&["nitride"; 65]), Some(3.0)).unwrap_err();
    assert_eq!(error.violations()[0].value, "65");
}

#[test]
fn every_offending_field_comes_back_at_once() {
    let shop = Shop::open();
    let mut input = UnitInput::default();
    input.shock_thresholds.oil_overheat_temp_k = Some(130.0);
    let error = shop.ledger.create_unit("engine-c", input, "").unwrap_err();
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    assert_eq!(
        fields,
        ["unit.kind", "unit.shock_thresholds.oil_overheat_temp_k"]
    );
    let error = shop
        .ledger
        .create_unit("Engine C", engine(), "")
        .unwrap_err();
    assert_eq!(error.violations()[0].field, "unit_id");
}

/// Following the tokens gives every row once, and a token opens its own list only.
#[test]
fn pages_give_every_row_once() {
    let shop = Shop::open();
    for i in 0..23 {
        shop.part(&format!("wp-{i:02}"), "wear_part");
    }
    let list = |size: i32, token: &str| {
        shop.ledger.list_components(
            &ringland_ledger::ComponentFilter::default(),
            &page(size, token),
        )
    };
    for size in [1, 7, 23, 24, 100] {
        let mut names = Vec::new();
        let mut token = String::new();
        loop {
            let found = list(size, &token).unwrap();
            assert!(found.items.len() <= size as usize);
            names.extend(found.items.into_iter().map(|c| c.name.to_string()));
            token = found.next_page_token;
            if token.is_empty() {
                break;
            }
        }
        assert_eq!(names.len(), 23);
        assert!(names.is_sorted());
    }
    let token = list(2, "").unwrap().next_page_token;
    let error = shop.ledger.list_units(&page(2, &token)).unwrap_err();
    assert_eq!(error.reason(), Reason::PageTokenInvalid);
}

#[test]
fn a_row_that_is_too_large_is_refused() {
    let shop = Shop::opened(LedgerOptions {
        max_row_bytes: 600,
        ..LedgerOptions::default()
    });
    let labels = (0..40)
        .map(|i| (format!("label-{i}"), "x".repeat(100)))
        .collect();
    let input = UnitInput { labels, ..engine() };
    let error = shop.ledger.create_unit("engine-c", input, "").unwrap_err();
    assert!(
        matches!(error, LedgerError::ResourceExhausted { limit: 600, .. }),
        "{error}"
    );
}

//! Whether rings are seated.

use super::{Cell, DAY, pulls};
use ringland_proto::v1::{AssessSeatingRequest, LeakDownState, Quantiles, SeatingDecision};
use ringland_tests::plugin;
use tonic::Code;
use tonic_types::StatusExt;

pub(super) fn in_order(q: Quantiles) -> bool {
    q.p05.is_finite() && q.p05 <= q.p50 && q.p50 <= q.p95 && q.p95.is_finite()
}

/// Asked after every pull, the cell is told to pull again until the rings are seated; the model's prediction stands beside
/// what was read, and the day's cost is counted.
#[tokio::test(flavor = "multi_thread")]
async fn the_cell_asks_after_each_pull_and_is_told_when_to_stop() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut stopped = None;
    for count in 1..=5 {
        let found = cell.seating(count).await;
        println!("{count} readings: {:?}, {}", found.decision(), found.reason);
        println!(
            "  predicted {:?}",
            found
                .pulls
                .iter()
                .map(|p| p.predicted_seated_share.map(|q| q.p50))
                .collect::<Vec<_>>()
        );
        println!(
            "  end {:?}, predicted {:?}, cost {:?}",
            found.end_blow_by_m3_s, found.predicted_end_blow_by_m3_s, found.cost
        );
        println!("  {:?}", found.assumptions.first());
        assert_ne!(
            found.decision(),
            SeatingDecision::NotSeating,
            "{}",
            found.reason
        );
        assert!(
            in_order(found.seated_share.expect("a share"))
                && in_order(found.pulls_to_seated.expect("pulls"))
        );
        assert_eq!(found.pulls.len(), count);
        if count > 1 {
            // The first reading came before any pull, then one record for each.
            assert!(found.pulls[0].duty_record.is_empty());
            assert!(
                found.pulls[count - 1].duty_record.contains("dutyRecords"),
                "{found:?}"
            );
            let predicted = found
                .pulls
                .iter()
                .map(|pull| pull.predicted_seated_share.expect("by the model").p50);
            let predicted: Vec<f64> = predicted.collect();
            assert!(
                predicted.windows(2).all(|pair| pair[0] < pair[1]),
                "{predicted:?}"
            );
            assert!(
                found
                    .pulls
                    .iter()
                    .all(|pull| pull.predicted_blow_by_m3_s.is_some_and(in_order))
            );
            let cost = found.cost.expect("records and a profile are known");
            assert_eq!(cost.duty_records as usize, count - 1);
            assert!(
                cost.life_events > 0.0 && cost.events_by_time > 0.0,
                "{cost:?}"
            );
        } else {
            assert!(found.cost.is_none());
        }
        assert!(!found.cautions.is_empty() && !found.assumptions.is_empty());
        if found.decision() == SeatingDecision::Stop {
            stopped = Some(count - 1);
            break;
        }
        cell.pull(count).await;
    }
    let stopped = stopped.expect("it stops");
    assert!((2..=4).contains(&stopped), "after pull {stopped}");
}

/// The record of each reading may be named; one of another unit's or time is refused.
#[tokio::test(flavor = "multi_thread")]
async fn records_are_named_or_refused_and_leak_down_goes_along() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    let first = cell.pull(1).await;
    let second = cell.pull(2).await;
    let mut request = AssessSeatingRequest {
        component: cell.rings.clone(),
        pulls: pulls(&DAY[1..3]),
        ..Default::default()
    };
    for (pull, (record, leak_down)) in request
        .pulls
        .iter_mut()
        .zip([(&first, 0.05), (&second, 0.04)])
    {
        pull.duty_record.clone_from(record);
        pull.leak_down_fraction = Some(leak_down);
        pull.leak_down_state = LeakDownState::Hot.into();
    }
    let found = cell
        .clients
        .running_in
        .assess_seating(request.clone())
        .await
        .expect("an assessment")
        .into_inner();
    assert_eq!(found.pulls[0].duty_record, first);
    assert!(found.end_leak_down_fraction.is_some_and(in_order));
    assert!(
        found
            .pulls
            .iter()
            .all(|pull| pull.predicted_leak_down_fraction.is_some_and(in_order))
    );
    request.pulls[1].duty_record = format!("{}/dutyRecords/20200101t000000z", cell.shop.unit);
    let status = cell
        .clients
        .running_in
        .assess_seating(request.clone())
        .await
        .expect_err("no such record");
    assert_eq!(status.code(), Code::FailedPrecondition, "{status}");
    request.pulls[1].duty_record = "units/engine-a".into();
    let status = cell
        .clients
        .running_in
        .assess_seating(request)
        .await
        .expect_err("no record's name");
    assert_eq!(status.code(), Code::InvalidArgument);
    let details = status.get_error_details();
    let fields = &details.bad_request().expect("fields").field_violations;
    assert_eq!(fields[0].field, "pulls[1].duty_record");
}

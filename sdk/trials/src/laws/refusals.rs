//! What a model refuses of the calls that follow `prepare`.

use std::slice::from_ref;

use ringland_plugin::{Duty, Finding, ForecastRequest, Model};

use super::bad_numbers_are_all_named;
use crate::{Prepared, fields};

/// Far beyond the range of any channel and any field of a shock.
const FAR: f64 = 1e15;

/// Everything that every model refuses: a spec out of the card's ranges, duty, requests, conditions, openings, maps and operations that cannot be. `event` has
/// operating points, counted cycles, and at least one shock of each kind, whose fields are tried too.
#[track_caller]
pub fn bad_input_is_refused<M: Model>(prepared: &Prepared<M>, event: &Duty) {
    let shocks = event.shocks.iter().all(|table| table.rows() > 0);
    let cycles = event.cycles.iter().all(|cycles| !cycles.counts.is_empty());
    assert!(
        shocks && cycles,
        "an event without a shock of each kind and counted cycles tries less than it could"
    );
    bad_numbers_are_all_named::<M>();
    bad_duty_is_refused(prepared, event);
    bad_requests_are_refused(prepared, event);
    bad_conditions_and_maps_are_refused(prepared, event);
}

/// Duty that is not numbers, or is out of any range, is refused row by row, everything at once, by `advance` and `forecast`; so is duty of the wrong shape.
/// `event` has operating points and, to try their fields, shocks.
#[track_caller]
pub fn bad_duty_is_refused<M: Model>(prepared: &Prepared<M>, event: &Duty) {
    for bad in [f64::NAN, FAR, -FAR] {
        let (broken, expected) = broken::<M>(event, bad);
        let refused = advance_refuses(prepared, &broken);
        let mut found = fields(&refused);
        found.sort_unstable();
        assert_eq!(found, expected, "duty with {bad} in every column");
        let asked = prepared.request(&prepared.begin(), &broken);
        assert!(
            prepared.try_asked(asked).is_err(),
            "forecast took an event with {bad}"
        );
    }
    let mut late = event.clone();
    let row = late.time_s.len() - 1;
    late.time_s[row] = -1.0;
    let refused = advance_refuses(prepared, &late);
    assert_eq!(fields(&refused), [format!("duty.time_s[{row}]")]);
    let breaks: [fn(&mut Duty); 6] = [
        |duty| duty.points[0].truncate(1),
        |duty| duty.points.truncate(1),
        |duty| duty.time_s.truncate(1),
        |duty| duty.shocks.clear(),
        |duty| duty.mates.clear(),
        |duty| duty.cycles.clear(),
    ];
    for break_it in breaks {
        let mut broken = event.clone();
        break_it(&mut broken);
        if broken != *event {
            advance_refuses(prepared, &broken);
        }
    }
}

/// One bad value in every column (in different rows of operating points), and the names by which each has to be refused, sorted. Mates have no range: only
/// what is no number is bad.
fn broken<M: Model>(event: &Duty, bad: f64) -> (Duty, Vec<String>) {
    let need = M::card().duty;
    let mut broken = event.clone();
    let mut expected = vec!["duty.time_s[0]".to_string()];
    broken.time_s[0] = bad;
    for (index, (channel, column)) in need.channels.iter().zip(&mut broken.points).enumerate() {
        let row = (index + 1) % column.len();
        column[row] = bad;
        expected.push(format!("duty.{}[{row}]", channel.name));
    }
    for (shock, table) in need.shocks.iter().zip(&mut broken.shocks) {
        for (field, column) in shock.fields.iter().zip(&mut table.columns) {
            if let Some(value) = column.first_mut() {
                *value = bad;
                expected.push(format!("duty.{}.{field}[0]", shock.kind));
            }
        }
    }
    for (channel, cycles) in need.cycles.iter().zip(&mut broken.cycles) {
        for (name, column) in [
            ("ranges", &mut cycles.ranges),
            ("counts", &mut cycles.counts),
        ] {
            if let Some(value) = column.first_mut() {
                *value = bad;
                expected.push(format!("duty.cycles.{channel}.{name}[0]"));
            }
        }
    }
    for (index, value) in broken.mates.iter_mut().enumerate().filter(|_| bad.is_nan()) {
        *value = bad;
        expected.push(format!("duty.mates[{index}]"));
    }
    expected.sort_unstable();
    (broken, expected)
}

#[track_caller]
fn advance_refuses<M: Model>(prepared: &Prepared<M>, duty: &Duty) -> Vec<Finding> {
    let refused = prepared.try_advance(&prepared.begin(), from_ref(duty));
    refused.expect_err("advance took bad duty")
}

/// A request of the wrong length or with numbers out of reason is refused, each by its field.
#[track_caller]
pub fn bad_requests_are_refused<M: Model>(prepared: &Prepared<M>, event: &Duty) {
    let refused = |change: &dyn Fn(&mut ForecastRequest)| {
        let mut request = prepared.request(&prepared.begin(), event);
        change(&mut request);
        prepared
            .try_asked(request)
            .expect_err("forecast took a bad request")
    };
    let all = refused(&|request| {
        request.rates.pop();
        request.horizon_events = f64::INFINITY;
        request.ahead_events[0] = -1.0;
    });
    assert_eq!(fields(&all), ["rates", "horizon_events", "ahead_events"]);
    let rates = refused(&|request| {
        request.rates[0].ln_mean = f64::NAN;
        request.rates[0].ln_sd = -1.0;
    });
    assert_eq!(fields(&rates), ["rates.ln_mean", "rates.ln_sd"]);
    for bad in [f64::NAN, -1.0, 0.0] {
        let horizon = refused(&|request| request.horizon_events = bad);
        assert_eq!(fields(&horizon), ["horizon_events"], "a horizon of {bad}");
    }
    for bad in [f64::NAN, f64::INFINITY] {
        let ahead = refused(&|request| request.ahead_events[0] = bad);
        assert_eq!(fields(&ahead), ["ahead_events"], "readings at {bad}");
    }
}

/// A condition of the wrong length, not numbers or out of the slots' ranges, an opening of the wrong length, a map that is not this specimen's, a specimen of the wrong length and an
/// operation that the card does not have are refused.
#[track_caller]
pub fn bad_conditions_and_maps_are_refused<M: Model>(prepared: &Prepared<M>, event: &Duty) {
    let card = M::card();
    let (specimen, map) = (|| prepared.specimen.clone(), || prepared.map.clone());
    let new = prepared.begin();
    for (index, slot) in card.condition.iter().enumerate() {
        for bad in [f64::NAN, slot.maximum + FAR + slot.maximum.abs()] {
            let mut worn = new.clone();
            worn[index] = bad;
            let refused = prepared.try_advance(&worn, &[]);
            let refused = refused.expect_err("advance took a bad condition");
            assert_eq!(
                fields(&refused),
                [format!("condition.{}", slot.name)],
                "at {bad}"
            );
            let asked = prepared.request(&worn, event);
            assert!(
                prepared.try_asked(asked).is_err(),
                "forecast took {} at {bad}",
                slot.name
            );
        }
    }
    let longer = [new.as_slice(), &[0.0]].concat();
    for wrong in [&new[1..], longer.as_slice()] {
        let refused = prepared.try_advance(wrong, &[]);
        assert_eq!(
            fields(&refused.expect_err("advance took a bad condition")),
            ["condition"]
        );
    }
    for slots in [card.condition.len() - 1, card.condition.len() + 1] {
        let begun = M::begin(specimen(), map(), vec![None; slots]);
        assert!(begun.is_err(), "begin took an opening of {slots} slots");
    }
    if !prepared.map.is_empty() {
        let refused = M::advance(specimen(), vec![1.0; 5], new.clone(), vec![]);
        let refused = refused.expect_err("advance took a strange map");
        assert_eq!(fields(&refused), ["prepared"]);
    }
    let mut short = specimen();
    short.numbers.pop();
    assert!(
        M::advance(short, map(), new.clone(), vec![]).is_err(),
        "advance took a short spec"
    );
    let unknown = card.operations.len() as u32;
    let refused = M::rework(specimen(), map(), new, unknown);
    let refused = refused.expect_err("rework took an unknown operation");
    assert_eq!(fields(&refused), ["operation"]);
}

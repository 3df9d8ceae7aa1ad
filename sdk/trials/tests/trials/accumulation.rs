//! Laws of `advance`.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model};
use ringland_trials::{AnyRecord, Record, laws};

use crate::wheel::*;

/// Any use.
fn any() -> BoxedStrategy<Duty> {
    AnyRecord::<Wheel<SOUND>>::new()
        .channel("engine_speed_rad_s", 0.0..1000.0)
        .channel("contamination_factor", 1.0..4.0)
        .shock("over_rev", &[0.1..3.0, 900.0..1200.0], 3)
        .shock("launch", &[100.0..600.0], 3)
        .cycles("engine_torque_n_m", [0.0..50.0, 0.0..50.0, 1.0..9.0])
        .mate("road.sink_m", 0.0..0.1)
        .strategy()
}

fn trends<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let starts = wheel.any_used(&[("wear_m", 1.0e-3..0.1), ("growth_m", -0.1..-1.0e-3)]);
    laws::slots_follow_their_trends(&wheel, &starts, &any());
}

fn cuts<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    laws::cut_records_add_up(&wheel, &wheel.any_used(&[]), &any(), 1e-9);
}

fn records<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let starts = wheel.any_used(&[("wear_m", 1.0e-4..1.0e-3)]);
    laws::order_of_records_does_not_matter(&wheel, &starts, &any(), 1e-9);
}

fn points<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    laws::order_within_a_record_does_not_matter(&wheel, &wheel.any_used(&[]), &any(), 1e-9);
}

fn nothing_adds<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let used = wheel.after(&event());
    laws::nothing_adds_nothing(&wheel, &used, &nothing());
    laws::nothing_adds_nothing(&wheel, &used, &Record::of::<Wheel<FAULT>>(&[]).duty());
}

fn range<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let long = Record::of::<Wheel<FAULT>>(&[1.0e8]);
    let long = long.channel("engine_speed_rad_s", 2000.0).duty();
    let forecast = laws::slots_stay_within_the_card(&wheel, &wheel.begin(), &long, 3);
    assert_eq!(forecast.notes[0].field, "tread_wear");
}

#[test]
fn a_sound_wheel_passes() {
    trends::<SOUND>();
    cuts::<SOUND>();
    records::<SOUND>();
    points::<SOUND>();
    nothing_adds::<SOUND>();
    range::<SOUND>();
    let model = wheel::<SOUND>();
    assert_eq!(model.rework(&[1.0e-3, -1.0e-3], "retread"), [0.0, 0.0]);
    assert_eq!(Wheel::<SOUND>::card().operations.len(), 1);
}

#[test]
#[should_panic(expected = "slots follow their trends: Test failed: wear_m goes from")]
fn healing_is_caught() {
    trends::<HEALS>();
}

#[test]
#[should_panic(expected = "a cut record adds up to the whole")]
fn time_squared_is_caught() {
    cuts::<SQUARES_TIME>();
}

#[test]
#[should_panic(expected = "order of records does not matter")]
fn memory_of_records_is_caught() {
    records::<REMEMBERS_RECORDS>();
}

#[test]
#[should_panic(expected = "order within a record does not matter")]
fn memory_of_points_is_caught() {
    points::<REMEMBERS_POINTS>();
}

#[test]
#[should_panic(expected = "nothing adds nothing: the condition moved")]
fn wear_at_rest_is_caught() {
    nothing_adds::<WEARS_AT_REST>();
}

#[test]
#[should_panic(expected = "nothing adds nothing: risk of tread_wear")]
fn risk_at_rest_is_caught() {
    nothing_adds::<RISKS_HALF>();
}

#[test]
#[should_panic(expected = "nothing adds nothing: a life of tread_wear ends")]
fn a_life_that_ends_at_rest_is_caught() {
    nothing_adds::<OTHER_FORECAST_EACH_TIME>();
}

#[test]
#[should_panic(expected = "slots stay within the card: wear_m is")]
fn a_slot_out_of_range_is_caught() {
    range::<LEAVES_ITS_RANGE>();
}

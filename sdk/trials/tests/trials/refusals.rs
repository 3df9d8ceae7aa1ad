//! Laws of refusal.

use ringland_trials::laws;

use crate::wheel::*;

fn duty<const FAULT: u8>() {
    laws::bad_duty_is_refused(&wheel::<FAULT>(), &event());
}

fn requests<const FAULT: u8>() {
    laws::bad_requests_are_refused(&wheel::<FAULT>(), &event());
}

fn conditions<const FAULT: u8>() {
    laws::bad_conditions_and_maps_are_refused(&wheel::<FAULT>(), &event());
}

fn all<const FAULT: u8>() {
    laws::bad_input_is_refused(&wheel::<FAULT>(), &event());
}

#[test]
fn a_sound_wheel_passes() {
    duty::<SOUND>();
    requests::<SOUND>();
    conditions::<SOUND>();
    all::<SOUND>();
}

/// One for each of the laws that it is made of.
#[test]
#[should_panic(expected = "findings")]
fn all_catches_a_bad_spec() {
    all::<TELLS_ONE_FINDING>();
}

#[test]
#[should_panic(expected = "advance took bad duty")]
fn all_catches_bad_duty() {
    all::<TAKES_ANY_DUTY>();
}

#[test]
#[should_panic(expected = "forecast took a bad request")]
fn all_catches_a_bad_request() {
    all::<TAKES_ANY_REQUEST>();
}

#[test]
#[should_panic(expected = "advance took a bad condition")]
fn all_catches_a_bad_condition() {
    all::<TAKES_ANY_CONDITION>();
}

#[test]
#[should_panic(expected = "advance took bad duty")]
fn taking_any_duty_is_caught() {
    duty::<TAKES_ANY_DUTY>();
}

#[test]
#[should_panic(expected = "forecast took an event with NaN")]
fn taking_any_event_is_caught() {
    duty::<TAKES_ANY_EVENT>();
}

#[test]
#[should_panic(expected = "forecast took a bad request")]
fn taking_any_request_is_caught() {
    requests::<TAKES_ANY_REQUEST>();
}

#[test]
#[should_panic(expected = "advance took a bad condition")]
fn taking_any_condition_is_caught() {
    conditions::<TAKES_ANY_CONDITION>();
}

#[test]
#[should_panic(expected = "advance took a strange map")]
fn taking_any_map_is_caught() {
    conditions::<TAKES_ANY_MAP>();
}

#[test]
#[should_panic(expected = "rework took an unknown operation")]
fn taking_any_operation_is_caught() {
    conditions::<TAKES_ANY_OPERATION>();
}

#[test]
#[should_panic(expected = "an event without a shock of each kind")]
fn an_event_that_tries_less_is_told() {
    laws::bad_input_is_refused(&wheel::<SOUND>(), &nothing());
}

//! Laws that every model keeps. A plugin's tests call them with a specimen, the duty that matters to it and a tolerance that it can
//! answer for; each panics with the law and what broke it.

mod accumulation;
mod forecasts;
mod refusals;
mod specs;

pub use accumulation::{
    cut_records_add_up, nothing_adds_nothing, order_of_records_does_not_matter,
    order_of_records_does_not_matter_to, order_within_a_record_does_not_matter,
    slots_follow_their_trends, slots_stay_within_the_card,
};
pub use forecasts::{
    forecast_is_sound, higher_rate_never_lengthens_life, limit_reached_leaves_no_life,
    nearer_horizon_cuts_the_same_lives, risk_agrees_with_lives, same_input_same_bits,
    sound_forecast,
};
pub use refusals::{
    bad_conditions_and_maps_are_refused, bad_duty_is_refused, bad_input_is_refused,
    bad_requests_are_refused,
};
pub use specs::{
    Read, bad_numbers_are_all_named, findings_are, nothing_is_wrong, numbers_are_read_in_order,
};

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

/// Cases tried of a law that holds for any duty.
const CASES: u32 = 48;

/// Tries a law on drawn values.
#[track_caller]
fn hold<S: Strategy>(law: &str, drawn: &S, check: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = Config {
        cases: CASES,
        failure_persistence: None,
        ..Config::default()
    };
    if let Err(failure) = TestRunner::new(config).run(drawn, check) {
        panic!("{law}: {failure}");
    }
}

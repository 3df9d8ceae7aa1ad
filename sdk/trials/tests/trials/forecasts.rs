//! Laws of `forecast`.

use ringland_trials::{laws, value};

use crate::wheel::*;

fn sound<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    laws::sound_forecast(&wheel, &wheel.after(&event()), &event());
}

fn rates<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    laws::higher_rate_never_lengthens_life(&wheel, &wheel.after(&event()), &event());
}

fn risks<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let conditions = wheel.ageing(&event(), 2, 7);
    laws::risk_agrees_with_lives(&wheel, &conditions, &event(), 0.01);
}

fn limit<const FAULT: u8>() {
    let wheel = wheel::<FAULT>();
    let limit_m = value::<Wheel<FAULT>>(&wheel.specimen, "limit_wear_m");
    let worn = wheel.begin_with(&[("wear_m", limit_m)]);
    laws::limit_reached_leaves_no_life(&wheel, "tread_wear", &worn, &event(), 1.0..=1.0);
}

fn horizon<const FAULT: u8>(nearer_events: f64) {
    let wheel = wheel::<FAULT>();
    let new = wheel.begin();
    let nearer = (nearer_events, 1e-9);
    laws::nearer_horizon_cuts_the_same_lives(&wheel, "tread_wear", &new, &event(), nearer);
}

fn bits<const FAULT: u8>() {
    laws::same_input_same_bits(&wheel::<FAULT>(), &event());
}

#[test]
fn a_sound_wheel_passes() {
    sound::<SOUND>();
    rates::<SOUND>();
    risks::<SOUND>();
    limit::<SOUND>();
    horizon::<SOUND>(10.0);
    bits::<SOUND>();
}

#[test]
#[should_panic(expected = "quantiles of wear_m")]
fn swapped_quantiles_are_caught() {
    sound::<SWAPS_QUANTILES>();
}

#[test]
#[should_panic(expected = "shares of tread_wear add up to")]
fn shares_that_do_not_add_up_are_caught() {
    sound::<DOUBLES_SHARES>();
}

#[test]
#[should_panic(expected = "a higher rate never lengthens life")]
fn a_rate_that_lengthens_life_is_caught() {
    rates::<LIKES_A_HIGHER_RATE>();
}

#[test]
#[should_panic(expected = "the risk agrees with the lives: tread_wear has a risk of 0.5")]
fn a_risk_of_its_own_is_caught() {
    risks::<RISKS_HALF>();
}

#[test]
#[should_panic(expected = "a limit reached leaves no life: 0 of the lives")]
fn a_life_beyond_the_limit_is_caught() {
    limit::<OUTLIVES_ITS_LIMIT>();
}

#[test]
#[should_panic(expected = "a limit reached leaves no life: tread_wear reads")]
fn a_reading_off_its_limit_is_caught() {
    limit::<READS_OFF_ITS_LIMIT>();
}

#[test]
#[should_panic(expected = "a limit reached leaves no life: notes on [] only")]
fn a_limit_without_a_note_is_caught() {
    limit::<KEEPS_SILENT>();
}

#[test]
#[should_panic(expected = "a nearer horizon cuts the same lives")]
fn lives_by_the_horizon_are_caught() {
    horizon::<LIVES_BY_THE_HORIZON>(10.0);
}

#[test]
#[should_panic(expected = "a nearer horizon of 900 tries nothing")]
fn a_horizon_that_cuts_nothing_is_caught() {
    horizon::<SOUND>(900.0);
}

#[test]
#[should_panic(expected = "same input, same bits: map")]
fn another_map_is_caught() {
    bits::<OTHER_MAP_EACH_TIME>();
}

#[test]
#[should_panic(expected = "same input, same bits: condition")]
fn another_condition_is_caught() {
    bits::<OTHER_CONDITION_EACH_TIME>();
}

#[test]
#[should_panic(expected = "same input, same bits: forecast")]
fn another_forecast_is_caught() {
    bits::<OTHER_FORECAST_EACH_TIME>();
}

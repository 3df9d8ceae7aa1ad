//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::card::reading;
use ringland_trials::{Record, changed, engine, laws, scaled};

use crate::scenario::{Prepared, duty, event, plain, prepared, smooth, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<CylinderBore>()
        .channel("oil_temp_k", 350.0..420.0)
        .channel("coolant_temp_k", 340.0..390.0)
        .mate("ring_pack.top_face_wear_m", 0.0..3.0e-5)
        .strategy()
}

#[test]
fn no_slot_ever_falls_and_a_cut_record_gives_the_same() {
    let starts = plain().any_used(&[]);
    laws::slots_follow_their_trends(plain(), &starts, &any_duty());
    laws::cut_records_add_up(plain(), &starts, &any_duty(), 1e-9);
}

#[test]
fn order_within_a_record_does_not_matter() {
    let new = plain().any_used(&[]);
    laws::order_within_a_record_does_not_matter(plain(), &new, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More load or thinner (hotter) oil never wears less at reversal, on the map; dust multiplies.
    #[test]
    fn load_heat_and_dust_never_spare_the_bore(
        rpm in 3000.0..8000.0_f64, torque in 30.0..380.0_f64, more in 5.0..60.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let mut seated = model.begin();
        seated[5] = 100.0;
        let wear = |duty: &Duty| model.advance(&seated, std::slice::from_ref(duty)).remove(0)[0];
        let base = duty(&[(rpm, torque, 10.0)]);
        let with = |channel: &str, value: f64| {
            Record::edit::<CylinderBore>(&base).channel(channel, value)
        };
        let hot = with("coolant_temp_k", 363.15 + hotter).channel("oil_temp_k", 378.15 + hotter);
        let least = wear(&base);
        prop_assert!(wear(&duty(&[(rpm, torque + more, 10.0)])) > least);
        prop_assert!(wear(&hot.duty()) > least);
        prop_assert!((wear(&with("contamination_factor", 3.0).duty()) / least - 3.0).abs() < 1e-9);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

#[test]
fn roughness_never_lengthens_life() {
    let rough = prepared(changed::<CylinderBore>(&untreated(), "bore.rq_m", 1.2));
    let wear = |model: &Prepared| model.after(&event())[0];
    assert!(wear(&rough) > 1.05 * wear(plain()));
    assert!(wear(smooth()) < wear(plain()));
}

/// Seated, under the same rings, wear goes with time: twice the record, twice the wear.
#[test]
fn seated_wear_is_in_proportion_to_time() {
    let model = plain();
    let mut seated = model.begin();
    seated[5] = 100.0;
    let once = model.then(&seated, &event());
    let twice = model.then(&seated, &scaled::<CylinderBore>(&event(), 2.0));
    for height in 0..5 {
        assert!((twice[height] / once[height] - 2.0).abs() < 1e-9);
    }
}

/// At the limit of taper nothing is left for half of the bores; the spread between cylinders stays.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let mut worn = plain().after(&event());
    worn[1..5].fill(0.0);
    worn[0] = 1.25e-5 * (1.0 + 1e-12);
    laws::limit_reached_leaves_no_life(plain(), "taper", &worn, &event(), 0.48..=0.52);
}

#[test]
fn shares_add_up_and_over_revs_count() {
    let model = plain();
    let over_revs: [&[f64]; 2] = [&[3.0, 960.0, 100.0], &[2.0, 1000.0, 200.0]];
    let record = Record::edit::<CylinderBore>(&event());
    let event_with = record.shocks("over_rev", &over_revs).duty();
    let condition = model.after(&event_with);
    assert!(condition[0] > model.after(&event())[0]);
    let forecast = laws::sound_forecast(model, &condition, &event_with);
    assert!(forecast.mechanisms.iter().all(|m| m.shock_shares[0] > 0.0));
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let nothing = engine::standstill::<CylinderBore>();
    laws::nothing_adds_nothing(plain(), &plain().after(&event()), &nothing);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// From new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = plain().ageing(&event(), 2, 8);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

/// Fresh hone: wear, seating and glazing start again, the bore is round, the casting keeps its hours and what it has left to shift, and the
/// metal taken off is counted.
#[test]
fn rehoning_keeps_the_casting_and_counts_the_metal() {
    let model = plain();
    let used = model.repeated(&model.begin(), &event(), 3);
    let honed = model.rework(&used, "rehone");
    assert!(honed[..6].iter().all(|value| *value == 0.0));
    assert_eq!((honed[6], honed[7], honed[8]), (used[6], used[6], 0.0));
    let before = model.forecast(&used, &event());
    let after = model.forecast(&honed, &event());
    let round = |forecast: &ringland_plugin::LifeForecast, ahead: usize| {
        forecast.readings[reading::ROUNDNESS_BOTTOM].median[ahead]
    };
    assert!(round(&after, 0).abs() < 1e-15);
    let still = |forecast: &_, ahead| round(forecast, ahead) - round(forecast, 0);
    assert!((still(&after, 3) / still(&before, 3) - 1.0).abs() < 0.02);
    let cleaned_m = 2.0 * used[0] * 1.3 + round(&before, 0) + 1.0e-5;
    assert!(
        (honed[9] - cleaned_m).abs() < 1e-7,
        "{} {cleaned_m}",
        honed[9]
    );
    let again = model.rework(&honed, "rehone");
    assert!((again[9] - honed[9] - 1.0e-5).abs() < 1e-12);
}

/// Glazing counts hours at low load by what is unseated: a bore first run at idle takes on far more than one first run at full load, a
/// seated one nothing. Seating goes on at idle too, so there is no more than the time that it takes.
#[test]
fn only_an_unseated_bore_glazes() {
    let model = plain();
    let idle = duty(&[(1500.0, 10.0, 120.0)]);
    let loaded = duty(&[(7250.0, 425.0, 10.0)]);
    let started_at_idle = model.after(&idle);
    println!(
        "two hours at idle from new: glaze {:.4} h, seating {:.1}",
        started_at_idle[8], started_at_idle[5]
    );
    assert!(started_at_idle[8] > 1e-3 && started_at_idle[8] < 2.0);
    assert!(model.after(&loaded)[8] <= 0.0);
    let seated = model.after(&event());
    let later = model.then(&seated, &idle);
    assert!((later[8] - seated[8]).abs() < 1e-9);
    let mut dull = model.begin();
    dull[8] = 0.5;
    let forecast = model.forecast(&dull, &event());
    assert!((forecast.readings[reading::GLAZING].median[0] - 0.1535).abs() < 1e-3);
    assert!(
        forecast
            .notes
            .iter()
            .any(|note| note.field == "glazing_fraction")
    );
}

/// Lives of the shift are worked out, not read off a path whose points lie by the horizon.
#[test]
fn a_nearer_horizon_cuts_the_same_shift() {
    let used = plain().after(&event());
    laws::nearer_horizon_cuts_the_same_lives(plain(), "shift", &used, &event(), (3.5, 1e-12));
}

#[test]
fn forecasts_are_sound_from_new_to_worn() {
    for condition in plain().ageing(&event(), 4, 3) {
        laws::sound_forecast(plain(), &condition, &event());
    }
}

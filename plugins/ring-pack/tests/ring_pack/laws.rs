//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_ring_pack::RingPack;

use ringland_trials::{Record, changed, engine, laws, scaled};

use crate::scenario::{Prepared, duty, event, plain, prepared, smooth, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<RingPack>()
        .channel("oil_temp_k", 350.0..420.0)
        .channel("coolant_temp_k", 340.0..390.0)
        .channel("fuel_dilution_fraction", 0.0..0.06)
        .strategy()
}

#[test]
fn no_slot_ever_falls_and_a_cut_record_gives_the_same() {
    let starts = plain().any_used(&[("top_face_wear_m", 0.0..3.0e-5)]);
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

    /// More load or thinner (hotter, diluted) oil never wears less, on the map.
    #[test]
    fn load_heat_and_fuel_never_spare_the_top_face(
        rpm in 3000.0..8000.0_f64, torque in 30.0..380.0_f64, more in 5.0..60.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let seated = model.begin_with(&[("seating_dose", 100.0)]);
        let wear = |duty: &Duty| model.advance(&seated, std::slice::from_ref(duty)).remove(0)[0];
        let base = duty(&[(rpm, torque, 10.0)]);
        let with = |channel: &str, value: f64| {
            Record::edit::<RingPack>(&base).channel(channel, value)
        };
        let hot = with("coolant_temp_k", 363.15 + hotter).channel("oil_temp_k", 378.15 + hotter);
        let least = wear(&base);
        prop_assert!(wear(&duty(&[(rpm, torque + more, 10.0)])) > least);
        prop_assert!(wear(&hot.duty()) > least);
        prop_assert!(wear(&with("fuel_dilution_fraction", 0.02).duty()) > least);
        prop_assert!(wear(&with("contamination_factor", 3.0).duty()) > 2.9 * least);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

/// Rougher plateaus wear faster, smoother ones slower.
#[test]
fn roughness_never_lengthens_life() {
    let rough = prepared(changed::<RingPack>(&untreated(), "bore.rq_m", 1.2));
    let wear = |model: &Prepared| model.after(&event())[0];
    assert!(wear(&rough) > 1.05 * wear(plain()));
    assert!(wear(smooth()) < wear(plain()));
}

/// What is left of the spread is that between cylinders: half the packs are past it, half are not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let mut worn = plain().after(&event());
    // 0.10 mm of gap growth between face and bore.
    let total = (1.0e-4 + 1e-16) / std::f64::consts::TAU;
    (worn[0], worn[3]) = (0.6 * total, total - 0.6 * total);
    laws::limit_reached_leaves_no_life(plain(), "end_gap", &worn, &event(), 0.48..=0.52);
}

#[test]
fn shares_add_up_and_over_revs_count() {
    let model = plain();
    let over_revs: [&[f64]; 2] = [&[3.0, 960.0, 100.0], &[2.0, 1000.0, 200.0]];
    let record = Record::edit::<RingPack>(&event());
    let event_with = record.shocks("over_rev", &over_revs).duty();
    let condition = model.after(&event_with);
    assert!(condition[0] > model.after(&event())[0]);
    let forecast = laws::sound_forecast(model, &condition, &event_with);
    assert!(forecast.mechanisms.iter().all(|m| m.shock_shares[0] > 0.0));
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let nothing = engine::standstill::<RingPack>();
    laws::nothing_adds_nothing(plain(), &plain().after(&event()), &nothing);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// From new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = plain().ageing(&event(), 1, 9);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

#[test]
fn rehoning_starts_bore_and_seating_anew() {
    let used = plain().after(&event());
    let honed = plain().rework(&used, "rehone");
    assert_eq!((honed[3], honed[4]), (0.0, 0.0));
    assert_eq!((honed[0], honed[5]), (used[0], used[5]));
}

#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let long = scaled::<RingPack>(&event(), 1e5);
    laws::slots_stay_within_the_card(plain(), &plain().begin(), &long, 1);
}

/// Also while a half-seated pack both leaks less and grows its gaps.
#[test]
fn forecasts_are_sound_while_seating() {
    for seating in [0.0, 0.5, 2.0, 50.0] {
        let known = [("top_face_wear_m", 2.0e-6), ("seating_dose", seating)];
        laws::sound_forecast(plain(), &plain().begin_with(&known), &event());
    }
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_piston_pin::PistonPin;
use ringland_plugin_piston_pin::card::{mechanism, slot};
use ringland_trials::{Record, changed, engine, laws, scaled, with};

use crate::scenario::{coated, duty, event, event_with, plain, prepared, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<PistonPin>()
        .channel("engine_speed_rad_s", 84.0..995.0)
        .channel("engine_torque_n_m", -60.0..480.0)
        .channel("oil_temp_k", 350.0..420.0)
        .channel("fuel_dilution_fraction", 0.0..0.06)
        .channel("knock_level", 0.0..3.0)
        .shock("over_rev", &[1.0..3.0, 900.0..1000.0, 50.0..150.0], 2)
        .strategy()
}

#[test]
fn no_slot_ever_falls_and_a_cut_record_gives_the_same() {
    for model in [plain(), coated()] {
        let used = Just(model.after(&event()));
        laws::slots_follow_their_trends(model, &used, &any_duty());
        laws::cut_records_add_up(model, &used, &any_duty(), 1e-9);
    }
}

#[test]
fn order_within_a_record_does_not_matter() {
    let new = plain().any_used(&[]);
    laws::order_within_a_record_does_not_matter(plain(), &new, &any_duty(), 1e-9);
}

/// Sums and a worst case do not depend on the order of records.
#[test]
fn order_of_records_does_not_matter() {
    let new = plain().any_used(&[]);
    laws::order_of_records_does_not_matter(plain(), &new, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Heat, fuel, dust or knock: never less of anything. More load: never less wear or damage of the pin. (Severity may fall with load:
    /// the oil film yields at another crank angle, where the rod swings more slowly.)
    #[test]
    fn abuse_never_spares_the_pin(
        rpm in 3500.0..8000.0_f64, torque in 60.0..380.0_f64, more in 20.0..80.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = coated();
        let base = duty(&[(rpm, torque, 10.0)]);
        let least = model.after(&base);
        let with = |channel: &str, value: f64| {
            model.after(&Record::edit::<PistonPin>(&base).channel(channel, value).duty())
        };
        let worse = [
            ("oil_temp_k", 378.15 + hotter),
            ("fuel_dilution_fraction", 0.03),
            ("contamination_factor", 3.0),
            ("knock_level", 2.0),
        ];
        for (channel, value) in worse {
            let after = with(channel, value);
            for (worn, least) in after.iter().zip(&least) {
                prop_assert!(*worn >= 0.999 * least, "{channel} {worn} {least}");
            }
            prop_assert!(after.iter().zip(&least).any(|(worn, least)| *worn > 1.001 * least), "{channel}");
        }
        let after = with("engine_torque_n_m", torque + more);
        for index in [slot::BUSH, slot::PIN, slot::COATING_HAZARD, slot::PIN_DAMAGE] {
            prop_assert!(after[index] > least[index], "{index} {} {}", after[index], least[index]);
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

/// Wear is in proportion to the wear coefficient; friction to its coefficient.
#[test]
fn wear_scales_with_its_coefficient() {
    let mut specimen = untreated();
    specimen.surfaces[0].values[1] *= 0.5;
    specimen.surfaces[1].values[1] *= 2.0;
    let (soft, usual) = (prepared(specimen).after(&event()), plain().after(&event()));
    assert!((soft[slot::BUSH] / usual[slot::BUSH] - 2.0).abs() < 1e-9);
    assert!((soft[slot::PIN] / usual[slot::PIN] - 1.0).abs() < 1e-9);
    assert!((soft[slot::SEVERITY] / usual[slot::SEVERITY] - 0.5).abs() < 1e-9);
}

/// Rougher surfaces and a drier bush touch more; compression in the pin spares it.
#[test]
fn surfaces_act_as_they_should() {
    let usual = plain().after(&event());
    let pin = |name: &str, by: f64| {
        prepared(changed::<PistonPin>(&untreated(), name, by)).after(&event())
    };
    let rough = pin("pin.rq_m", 3.0);
    assert!(rough[slot::BUSH] > usual[slot::BUSH] && rough[slot::SEVERITY] > usual[slot::SEVERITY]);
    let dry = pin("oil_patch_m", 0.5);
    assert!(dry[slot::BUSH] > 1.2 * usual[slot::BUSH]);
    let mut peened = untreated();
    peened.surfaces[0].depth_m = vec![0.0, 1.0e-4];
    peened.surfaces[0].residual_stress_pa = vec![-4.0e8, 0.0];
    let peened = prepared(peened).after(&event());
    assert!(peened[slot::PIN_DAMAGE] < 0.5 * usual[slot::PIN_DAMAGE]);
}

/// What is left of the spread is that between cylinders: half the bushes are past it, half are not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let mut worn = plain().after(&event());
    worn[slot::PIN] = 1.0e-6;
    worn[slot::BUSH] = 17.0e-6 * (1.0 + 1e-12);
    laws::limit_reached_leaves_no_life(plain(), "bush", &worn, &event(), 0.48..=0.52);
}

/// A coating's hazard has no memory: what it has borne does not change what is left. Coatings that follow an exponential life have a mean of
/// 1/rate; in the draws, with the rate known but for its small spread, to a few parts in a hundred.
#[test]
fn a_coating_has_no_memory() {
    let model = coated();
    let mut fresh = model.request(&model.begin(), &event());
    fresh.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    fresh.horizon_events = 1e5;
    let mut old = fresh.clone();
    old.condition[slot::COATING_HAZARD] = 0.7;
    let lives = |request| {
        model.asked(request).mechanisms[mechanism::COATING]
            .lives_events
            .clone()
    };
    let (fresh, old) = (lives(fresh), lives(old));
    assert!(
        fresh
            .iter()
            .zip(&old)
            .all(|(a, b)| (a / b - 1.0).abs() < 1e-6)
    );
    let mean = fresh.iter().sum::<f64>() / fresh.len() as f64;
    let rate = model.after(&event())[slot::COATING_HAZARD];
    assert!((mean * rate - 1.0).abs() < 0.05, "{}", mean * rate);
}

#[test]
fn shares_add_up_and_shocks_count() {
    let model = coated();
    let usual = model.after(&event());
    let record = Record::edit::<PistonPin>(&event());
    let over_revs: [&[f64]; 2] = [&[3.0, 960.0, 100.0], &[2.0, 1000.0, 200.0]];
    let record = record.shocks("over_rev", &over_revs);
    let event = record.duty();
    let condition = model.after(&event);
    assert!(condition[slot::BUSH] > usual[slot::BUSH]);
    assert!(condition[slot::PIN_DAMAGE] > usual[slot::PIN_DAMAGE]);
    let forecast = laws::sound_forecast(model, &condition, &event);
    assert!(forecast.mechanisms[mechanism::BUSH].shock_shares[0] > 0.0);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().after(&event());
    for nothing in [engine::standstill::<PistonPin>(), duty(&[])] {
        laws::nothing_adds_nothing(plain(), &used, &nothing);
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// From new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = coated().ageing(&event(), 4, 12);
    laws::risk_agrees_with_lives(coated(), &conditions, &event(), 0.01);
}

#[test]
fn long_duty_stays_within_the_contract() {
    for model in [plain(), coated()] {
        let long = scaled::<PistonPin>(&event_with("knock_level", 40.0), 1e5);
        laws::slots_stay_within_the_card(model, &model.begin(), &long, 1);
        for condition in [model.after(&long), model.begin(), model.after(&event())] {
            laws::sound_forecast(model, &condition, &event());
        }
    }
}

/// A pin overloaded to scuffing scuffs within an event, however far the horizon, and the risk says the same.
#[test]
fn scuffing_is_met_within_an_event() {
    let scuffing = with::<PistonPin>(&untreated(), "limit_scuff_w_m2", 3.0e6);
    let model = prepared(scuffing);
    for horizon_events in [20.0, 1e7] {
        let mut far = model.request(&model.begin(), &event());
        far.horizon_events = horizon_events;
        let scuff = model.asked(far).mechanisms.remove(mechanism::SCUFF);
        let ended = scuff
            .lives_events
            .iter()
            .filter(|life| **life <= 1.0)
            .count();
        let never = scuff
            .lives_events
            .iter()
            .filter(|life| **life >= horizon_events)
            .count();
        assert_eq!(ended + never, 512);
        assert!((ended as f64 / 512.0 - scuff.risk_next_event).abs() < 0.01);
    }
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_piston::Piston;
use ringland_plugin_piston::card::slot;
use ringland_trials::{Record, engine, laws, scaled};

use crate::scenario::{coated, duty, event, event_with, plain, prepared, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<Piston>()
        .channel("engine_speed_rad_s", 84.0..995.0)
        .channel("engine_torque_n_m", -60.0..480.0)
        .channel("oil_temp_k", 350.0..420.0)
        .channel("coolant_temp_k", 340.0..400.0)
        .channel("oil_pressure_pa", 1.0e5..6.0e5)
        .channel("fuel_dilution_fraction", 0.0..0.06)
        .channel("knock_level", 0.0..3.0)
        .shock("over_rev", &[1.0..3.0, 900.0..1000.0, 50.0..150.0], 2)
        .shock("knock_burst", &[2.0..6.0, 2.0..4.0, 200.0..400.0], 2)
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

/// Sums that nothing feeds back on do not depend on the order of records either: softening, pin bores, boss, collapse.
#[test]
fn order_of_records_does_not_matter_to_sums() {
    let (new, sums) = (plain().any_used(&[]), slot::COLLAPSE..slot::COUNT);
    laws::order_of_records_does_not_matter_to(plain(), sums, &new, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More load, heat, fuel, dust or knock, a lost jet: never less of anything.
    #[test]
    fn abuse_never_spares_the_piston(
        rpm in 3500.0..8000.0_f64, torque in 60.0..380.0_f64, more in 20.0..80.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let base = duty(&[(rpm, torque, 10.0)]);
        let least = model.after(&base);
        let worse = [
            ("engine_torque_n_m", torque + more),
            ("oil_temp_k", 378.15 + hotter),
            ("coolant_temp_k", 363.15 + hotter),
            ("oil_pressure_pa", 1.8e5),
            ("fuel_dilution_fraction", 0.03),
            ("contamination_factor", 3.0),
            ("knock_level", 2.0),
        ];
        for (channel, value) in worse {
            let after = model.after(&Record::edit::<Piston>(&base).channel(channel, value).duty());
            for (index, (worn, least)) in after.iter().zip(&least).enumerate() {
                // Dust wears the fresh peaks of the flanks off sooner: then they weld less.
                if channel == "contamination_factor" && index == slot::WELDING {
                    continue;
                }
                // Between nodes, load can cost the map a part in a hundred of what hardly depends on it.
                prop_assert!(*worn >= 0.99 * least, "{channel} {index} {worn} {least}");
            }
            prop_assert!(after.iter().zip(&least).any(|(worn, least)| *worn > 1.001 * least), "{channel}");
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

/// Wear is in proportion to the wear coefficient: twice it, twice the sliding and impact.
#[test]
fn wear_scales_with_its_coefficient() {
    let mut specimen = untreated();
    specimen.surfaces[0].values[0] *= 2.0;
    let soft = prepared(specimen);
    let ratio = soft.after(&event())[slot::TOP_GROOVE] / plain().after(&event())[slot::TOP_GROOVE];
    assert!((ratio - 2.0).abs() < 1e-9, "{ratio}");
}

/// A rougher skirt is pressed harder on its summits; compression in the boss spares it.
#[test]
fn surfaces_act_as_they_should() {
    let mut rough = untreated();
    rough.surfaces[2].values[0] *= 1.5;
    let rough = prepared(rough).after(&event());
    assert!(rough[slot::THRUST_SKIRT] > plain().after(&event())[slot::THRUST_SKIRT]);
    let mut peened = untreated();
    peened.surfaces[5].depth_m = vec![0.0, 1.0e-4];
    peened.surfaces[5].residual_stress_pa = vec![-60.0e6, 0.0];
    let peened = prepared(peened).after(&event());
    assert!(peened[slot::BOSS] < 0.5 * plain().after(&event())[slot::BOSS]);
}

/// What is left of the spread is that between cylinders: half the grooves are past it, half are not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let mut worn = plain().after(&event());
    worn[slot::TOP_GROOVE] = 0.055e-3 * (1.0 + 1e-12);
    laws::limit_reached_leaves_no_life(plain(), "groove", &worn, &event(), 0.48..=0.52);
}

#[test]
fn shares_add_up_and_shocks_count() {
    let model = plain();
    let usual = model.after(&event());
    let record = Record::edit::<Piston>(&event());
    let over_revs: [&[f64]; 2] = [&[3.0, 960.0, 100.0], &[2.0, 1000.0, 200.0]];
    let record = record.shocks("over_rev", &over_revs);
    let event = record.shock("knock_burst", &[5.0, 4.0, 400.0]).duty();
    let condition = model.after(&event);
    assert!(condition[slot::TOP_GROOVE] > usual[slot::TOP_GROOVE]);
    assert!(condition[slot::BOSS] > usual[slot::BOSS]);
    let forecast = laws::sound_forecast(model, &condition, &event);
    let mut shares = forecast.mechanisms.iter().flat_map(|m| &m.shock_shares);
    assert!(shares.all(|share| *share > 0.0));
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().after(&event());
    for nothing in [engine::standstill::<Piston>(), duty(&[])] {
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
    let conditions = plain().ageing(&event(), 4, 7);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

#[test]
fn long_duty_stays_within_the_contract() {
    for model in [plain(), coated()] {
        let long = scaled::<Piston>(&event_with("knock_level", 40.0), 1e5);
        laws::slots_stay_within_the_card(model, &model.begin(), &long, 1);
        for condition in [model.after(&long), model.begin(), model.after(&event())] {
            laws::sound_forecast(model, &condition, &event());
        }
    }
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_valve::Valve;
use ringland_plugin_valve::card::{reading, slot};
use ringland_trials::{Record, changed, engine, fields, first, laws, quantile};

use crate::scenario::{
    WORN, channel, duty, event, exhaust, hotter, light, plain, prepared, titanium,
};

fn any_duty() -> BoxedStrategy<Duty> {
    let any = engine::any_record::<Valve>();
    any.channel("exhaust_temp_k", 500.0..1350.0)
        .channel("oil_temp_k", 330.0..420.0)
        .channel("coolant_temp_k", 320.0..390.0)
        .channel("contamination_factor", 1.0..4.0)
        .channel("knock_level", 0.0..6.0)
        .mate("spring_retainer.sink_m", 0.0..0.2e-3)
        .shock("over_rev", &[0.5..4.0, 900.0..1050.0, -50.0..300.0], 2)
        .strategy()
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [plain(), light()] {
        let starts = model.any_used(&[("recession_m", 0.0..1.0e-4), ("head_creep", 0.0..0.5)]);
        laws::slots_follow_their_trends(model, &starts, &any_duty());
        laws::cut_records_add_up(model, &starts, &any_duty(), 1e-9);
        laws::order_of_records_does_not_matter(model, &starts, &any_duty(), 1e-9);
        laws::order_within_a_record_does_not_matter(model, &starts, &any_duty(), 1e-9);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    /// At one speed more torque, knock, heat of exhaust, coolant or oil, and dirt never spare a valve, in any slot. More torque adds flow
    /// through the port: it may cool a valve whose exhaust is colder than its head, so the exhaust is hot here. Heat presses the centre of a cold head
    /// together, which spares it where it does not count: damage below 1e-8 is not compared.
    #[test]
    fn more_of_anything_at_one_speed_never_spares(rpm in 2500.0..8400.0_f64, torque in 20.0..380.0_f64, more in 0.02..0.10_f64) {
        let usual = channel(&duty(&[(rpm, torque, 30.0)]), "exhaust_temp_k", 1200.0);
        let least = plain().after(&usual);
        let harder = duty(&[(rpm, torque * (1.0 + more), 30.0)]);
        for worse in [
            channel(&harder, "exhaust_temp_k", 1200.0),
            channel(&usual, "exhaust_temp_k", 1200.0 + 500.0 * more),
            channel(&usual, "coolant_temp_k", 363.15 + 200.0 * more),
            channel(&usual, "knock_level", 30.0 * more),
            channel(&usual, "oil_temp_k", 378.15 + 200.0 * more),
            channel(&usual, "fuel_dilution_fraction", more),
            channel(&usual, "contamination_factor", 1.0 + more),
        ] {
            let after = plain().after(&worse);
            for slot in WORN {
                prop_assert!(after[slot] >= least[slot] * (1.0 - 1e-9) - 1e-8, "slot {slot}: {} {}", after[slot], least[slot]);
            }
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

/// A valve that is worse by one number or surface never lasts longer in the slot that the number is about.
#[test]
fn a_worse_valve_never_lasts_longer() {
    let usual = plain().after(&event());
    for (name, by, worse) in [
        ("seat_width_m", 0.9, slot::RECESSION),
        ("head_thickness_m", 0.95, slot::RECESSION),
        ("seat_face.wear_coefficient_m2_n", 1.1, slot::RECESSION),
        ("seat_face.hardness_pa", 0.9, slot::RECESSION),
        ("retained_mass_kg", 1.1, slot::RECESSION),
        ("retained_mass_kg", 1.1, slot::GROOVE),
        ("groove_area_m2", 0.95, slot::GROOVE),
        ("groove_notch_factor", 1.05, slot::GROOVE),
        ("groove.ra_m", 2.0, slot::GROOVE),
        ("seat_width_m", 0.9, slot::HEAD_FATIGUE),
        ("seat_width_m", 0.9, slot::HEAD_CREEP),
        ("head_thickness_m", 0.95, slot::HEAD_FATIGUE),
        ("neck_notch_factor", 1.05, slot::HEAD_FATIGUE),
        ("neck.ra_m", 2.0, slot::HEAD_FATIGUE),
        ("stem.wear_coefficient_m2_n", 1.1, slot::STEM_TOP),
        ("stem.rq_m", 1.5, slot::STEM_TOP),
        ("tip_friction", 1.2, slot::STEM_TOP),
    ] {
        let other = prepared(changed::<Valve>(&exhaust(), name, by));
        let after = other.after(&event());
        assert!(
            after[worse] > usual[worse],
            "{name}: {} {}",
            after[worse],
            usual[worse]
        );
    }
}

/// An over-rev counts as its own block at its peak speed; its shares and those of the points add up to 1.
#[test]
fn an_over_rev_is_a_block_of_its_own() {
    let usual = plain().after(&event());
    let with = engine::with_over_rev::<Valve>(&event(), 3.0, 9500.0, 300.0);
    let after = plain().after(&with);
    for slot in WORN {
        assert!(after[slot] >= usual[slot], "{slot}");
    }
    let forecast = plain().forecast(&after, &with);
    for found in &forecast.mechanisms {
        let sum: f64 = found.point_shares.iter().chain(&found.shock_shares).sum();
        assert!((sum - 1.0).abs() < 1e-9 || sum == 0.0, "{sum}");
    }
}

/// A nickel valve never galls; each other mechanism ends at its limit.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let at = |slot: &str, value: f64| plain().begin_with(&[(slot, value)]);
    let sunk = at("recession_m", 0.12e-3);
    laws::limit_reached_leaves_no_life(plain(), "seat_recession", &sunk, &event(), 1.0..=1.0);
    let worn = at("stem_top_loss_m", 22.0e-6);
    laws::limit_reached_leaves_no_life(plain(), "stem_wear", &worn, &event(), 1.0..=1.0);
    // What is left of the spread is that from valve to valve: half have cracked, half have not.
    let half = 0.488..=0.512;
    let groove = at("groove_damage", 1.0);
    laws::limit_reached_leaves_no_life(plain(), "groove_fatigue", &groove, &event(), half.clone());
    let head = plain().begin_with(&[("head_fatigue", 0.4), ("head_creep", 0.6)]);
    laws::limit_reached_leaves_no_life(plain(), "head_cracking", &head, &event(), half);
    let bare = light().begin_with(&[("stem_top_loss_m", 8.0e-6)]);
    laws::limit_reached_leaves_no_life(light(), "stem_galling", &bare, &event(), 1.0..=1.0);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().after(&event());
    for nothing in [engine::standstill::<Valve>(), duty(&[])] {
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
    let conditions = plain().ageing(&event(), 8, 6);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
    laws::risk_agrees_with_lives(light(), &light().ageing(&event(), 10, 5), &event(), 0.01);
}

/// Median life of recession is limit over rate; B10 lies e^(−1.2816 · 0.7) of it lower (closed form of a lognormal).
#[test]
fn lives_follow_the_closed_form() {
    let per_event = plain().after(&event())[slot::RECESSION];
    let forecast = plain().forecast(&plain().begin(), &event());
    let lives = &forecast.mechanisms[0].lives_events;
    let (median, b10) = (quantile(lives, 0.5), quantile(lives, 0.1));
    assert!(
        (median * per_event / 0.12e-3 - 1.0).abs() < 0.01,
        "{median}"
    );
    assert!(
        (b10 / (median * (-1.2816_f64 * 0.7).exp()) - 1.0).abs() < 0.03,
        "{b10}"
    );
}

/// Setting the lash gives lash back and nothing else; cutting the seat starts recession anew and takes margin.
#[test]
fn operations_reset_what_they_should() {
    let used = plain().repeated(&plain().begin(), &event(), 5);
    let set = plain().rework(&used, "lash_set");
    assert_eq!(set[slot::LASH_TAKEN], 0.0);
    assert_eq!(set[slot::RECESSION], used[slot::RECESSION]);
    let cut = plain().rework(&used, "seat_cut");
    assert_eq!((cut[slot::RECESSION], cut[slot::LASH_TAKEN]), (0.0, 0.0));
    assert!((cut[slot::MARGIN_LOST] - used[slot::MARGIN_LOST] - 0.1e-3).abs() < 1e-12);
    for slot in [
        slot::STEM_TOP,
        slot::GROOVE,
        slot::HEAD_FATIGUE,
        slot::HEAD_CREEP,
        slot::RUN,
    ] {
        assert_eq!(cut[slot], used[slot]);
    }
    let lash = |row: &[f64]| plain().forecast(row, &event()).readings[reading::LASH].median[0];
    assert!((lash(&used) - (0.2e-3 - used[slot::LASH_TAKEN])).abs() < 1e-12);
    assert!((lash(&set) - 0.2e-3).abs() < 1e-12);
}

/// A forecast tells of heat beyond the material, of float, of hours, of limits passed.
#[test]
fn what_must_be_known_is_told() {
    let told = |prepared: &crate::scenario::Prepared, row: &[f64], event: &Duty| {
        let forecast = prepared.forecast(row, event);
        fields(&forecast.notes)
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<String>>()
    };
    // Oil, coolant, dirt and knock are at the card's defaults in this event, and it says so.
    let quiet = told(plain(), &plain().begin(), &event());
    assert!(
        quiet.iter().all(|field| field.starts_with("event.")),
        "{quiet:?}"
    );
    let hot = told(plain(), &plain().begin(), &hotter(400.0));
    assert!(hot.contains(&"head_temp_k".to_string()), "{hot:?}");
    let fast = duty(&[(10_500.0, 300.0, 1.0)]);
    let float = told(plain(), &plain().begin(), &fast);
    for field in ["float", "seating_velocity_m_s"] {
        assert!(float.contains(&field.to_string()), "{float:?}");
    }
    let old = light().repeated(&light().begin(), &event(), 5);
    assert!(told(light(), &old, &event()).contains(&"run_s".to_string()));
    let sunk = plain().begin_with(&[("recession_m", 0.2e-3)]);
    assert!(told(plain(), &sunk, &event()).contains(&"seat_recession".to_string()));
}

/// Far off the maps and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let points = [
        (23_000.0, 4900.0, 1.6e7),
        (4000.0, 4900.0, 10.0),
        (1.0, -900.0, 1.0),
    ];
    let record = engine::record::<Valve>(&points).channel("exhaust_temp_k", 1599.0);
    let record = record
        .channel("knock_level", 50.0)
        .channel("contamination_factor", 20.0);
    let extreme = record.shock("over_rev", &[3600.0, 2500.0, 5000.0]).duty();
    for specimen in [exhaust(), titanium()] {
        let model = prepared(specimen);
        let forecast = laws::slots_stay_within_the_card(&model, &model.begin(), &extreme, 50);
        assert!(first(&forecast).iter().all(|life| *life == 0.0));
        assert!(fields(&forecast.notes).contains(&"event"));
    }
}

/// The retainer's sink unloads the spring: with a seat load at the edge the valve floats sooner and lands harder.
#[test]
fn a_sunken_retainer_lets_the_valve_float_sooner() {
    let fast = duty(&[(9200.0, 200.0, 5.0)]);
    let sunk = Record::edit::<Valve>(&fast)
        .mate("spring_retainer.sink_m", 2.0e-3)
        .duty();
    let (firm, slack) = (plain().after(&fast), plain().after(&sunk));
    assert!(slack[slot::GROOVE] > firm[slot::GROOVE]);
    assert!(slack[slot::RECESSION] > firm[slot::RECESSION]);
}

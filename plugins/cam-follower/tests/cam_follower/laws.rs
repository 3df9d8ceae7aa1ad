//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_cam_follower::CamFollower;
use ringland_plugin_cam_follower::turn::STATIONS;
use ringland_trials::{Record, engine, fields, first, laws};

use crate::trains::{event, flat, rolling};

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<CamFollower>()
        .channel("oil_temp_k", 310.0..430.0)
        .channel("fuel_dilution_fraction", 0.0..0.08)
        .channel("contamination_factor", 1.0..5.0)
        .shock("over_rev", &[0.1..5.0, 900.0..1000.0, -40.0..300.0], 2)
        .mate("spring_retainer.sink_m", 0.0..3.0e-4)
        .mate("valve.recession_m", 0.0..2.0e-4)
        .strategy()
}

/// Running-in and all: a record gives the same however it is cut.
#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [flat(), rolling()] {
        let starts = model.any_used(&[
            ("cam_turns", 0.0..1.0e5),
            ("lobe_wear_6_m", 0.0..1.0e-4),
            ("lobe_pitting_4", 0.0..0.8),
            ("follower_wear_m", 0.0..5.0e-5),
        ]);
        laws::slots_follow_their_trends(model, &starts, &any_duty());
        laws::cut_records_add_up(model, &starts, &any_duty(), 1e-9);
    }
}

/// Once run in, records commute; the operating points of one always do.
#[test]
fn order_does_not_matter_once_run_in() {
    let model = flat();
    let starts = model.any_used(&[("cam_turns", 1.0e6..2.0e6)]);
    laws::order_of_records_does_not_matter(model, &starts, &any_duty(), 1e-9);
    let fresh = model.any_used(&[("cam_turns", 0.0..1.0e4)]);
    laws::order_within_a_record_does_not_matter(model, &fresh, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// At any one speed, hotter or thinner oil and dirt never spare lobe or follower.
    #[test]
    fn hotter_thinner_and_dirtier_oil_never_spares(rpm in 1500.0..8400.0_f64, oil_k in 340.0..400.0_f64, more in 1.0..25.0_f64) {
        for model in [flat(), rolling()] {
            let at = |oil_k: f64, fuel: f64, dirt: f64| {
                let record = engine::record::<CamFollower>(&[(rpm, 200.0, 30.0)]);
                let duty = record.channel("oil_temp_k", oil_k).channel("fuel_dilution_fraction", fuel).channel("contamination_factor", dirt).duty();
                model.after(&duty)
            };
            let usual = at(oil_k, 0.0, 1.0);
            for worse in [at(oil_k + more, 0.0, 1.0), at(oil_k, 0.003 * more, 1.0), at(oil_k, 0.0, 1.0 + 0.1 * more)] {
                for (usual, worse) in usual.iter().zip(&worse) {
                    prop_assert!(*worse >= usual * (1.0 - 1e-9), "{usual} {worse}");
                }
            }
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(flat(), &flat().after(&event()), &event());
}

#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = flat().ageing(&event(), 10, 5);
    laws::risk_agrees_with_lives(flat(), &conditions, &event(), 0.01);
}

/// What is left of the spread is that from lobe to lobe: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    for (mechanism, slot, value) in [
        ("lobe_wear", "lobe_wear_6_m", 1.0e-4),
        ("follower_wear", "follower_wear_m", 5.0e-5),
        ("lobe_pitting", "lobe_pitting_6", 1.0),
        ("follower_pitting", "follower_pitting", 1.0),
        ("scuff", "scuff_severity", 1.0),
    ] {
        let used = flat().begin_with(&[(slot, value), ("cam_turns", 1.0e6)]);
        let nothing = engine::standstill::<CamFollower>();
        laws::limit_reached_leaves_no_life(flat(), mechanism, &used, &nothing, half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = flat().after(&event());
    for nothing in [
        engine::standstill::<CamFollower>(),
        engine::duty::<CamFollower>(&[]),
    ] {
        laws::nothing_adds_nothing(flat(), &used, &nothing);
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let model = flat();
    laws::nearer_horizon_cuts_the_same_lives(
        model,
        "lobe_wear",
        &model.begin(),
        &event(),
        (40.0, 0.02),
    );
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(rolling(), &event());
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let points = [
        (23_000.0, 4900.0, 1.6e7),
        (8400.0, 300.0, 1.0e7),
        (1.0, -900.0, 1.0),
    ];
    let record = engine::record::<CamFollower>(&points).channel("oil_temp_k", 460.0);
    let extreme = record.shock("over_rev", &[3600.0, 2500.0, 5000.0]).duty();
    let forecast = laws::slots_stay_within_the_card(flat(), &flat().begin(), &extreme, 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for field in ["event", "lash_growth_m", "lobe_wear"] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

/// Setting the lash and looking at the parts give no wear back.
#[test]
fn rework_clears_what_it_says() {
    let model = flat();
    let used = model.after(&event());
    let set = model.rework(&used, "lash_set");
    let seen = model.rework(&used, "inspected");
    let (scuff, lash) = (2 * STATIONS + 2, 2 * STATIONS + 3);
    for index in 0..used.len() {
        assert_eq!(set[index], if index == lash { 0.0 } else { used[index] });
        assert_eq!(seen[index], if index == scuff { 0.0 } else { used[index] });
    }
    assert!(used[lash] > 0.0 && used[scuff] > 0.0);
}

/// An over-rev counts, and its share is told.
#[test]
fn an_over_rev_adds_damage_of_its_own() {
    let model = rolling();
    let with = engine::with_over_rev::<CamFollower>(&event(), 5.0, 9300.0, 100.0);
    // Once run in: before, the over-rev's turns also seat the surfaces.
    let used = model.begin_with(&[("cam_turns", 1.0e6)]);
    let (more, usual) = (model.then(&used, &with), model.then(&used, &event()));
    assert!(more.iter().zip(&usual).all(|(more, usual)| more >= usual));
    let forecast = model.forecast(&model.begin(), &with);
    let shares = &forecast.mechanisms[2].shock_shares;
    assert!(shares[0] > 0.0, "{shares:?}");
    // A second of float is told.
    let floating = Record::edit::<CamFollower>(&event())
        .shock("over_rev", &[1.0, 1150.0, 0.0])
        .duty();
    let notes = model.forecast(&model.begin(), &floating).notes;
    assert!(
        fields(&notes).contains(&"event.engine_speed_rad_s"),
        "{notes:?}"
    );
}

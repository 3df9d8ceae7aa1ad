//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_rolling_bearing::RollingBearing;
use ringland_plugin_rolling_bearing::card::slot;
use ringland_trials::{driveline, fields, first, laws};

use crate::sets::{Prepared, all, event, on_hub, on_pinion, on_shaft};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<RollingBearing>()
        .channel("gear", 0.6..6.4)
        .strategy()
}

fn any_used(set: &Prepared) -> BoxedStrategy<Vec<f64>> {
    set.any_used(&[
        ("play_growth_m", 0.0..5.0e-5),
        ("a_fatigue", 0.0..1.5),
        ("b_fatigue", 0.0..1.5),
        ("spall_hazard", 0.0..0.4),
        ("a_dented", 0.0..0.5),
        ("deepest_dent", 0.0..1.0e-4),
        ("grease_dose", 0.0..0.9),
    ])
}

/// A car that stands with its engine off.
fn standstill() -> Duty {
    driveline::duty::<RollingBearing>(&[driveline::Point {
        minutes: 20.0,
        rpm: 0.0,
        torque_n_m: 0.0,
        gear: 0,
        slip_rad_s: 0.0,
    }])
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for set in all() {
        laws::slots_follow_their_trends(set, &any_used(set), &any_duty());
        laws::cut_records_add_up(set, &any_used(set), &any_duty(), 1e-8);
    }
}

/// Play, dents, grease and turns do not mind the order of records; fatigue does, by the play and the dents that were there first. Within a
/// record operating points commute.
#[test]
fn where_order_does_not_matter() {
    for set in all() {
        let starts = any_used(set);
        for slots in [slot::GROWTH..slot::GROWTH + 1, slot::DENTED..slot::COUNT] {
            laws::order_of_records_does_not_matter_to(set, slots, &starts, &any_duty(), 1e-9);
        }
        laws::order_within_a_record_does_not_matter(set, &starts, &any_duty(), 1e-9);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Hotter oil, dirt, and harder kerbs never spare; more torque never spares a shaft of the gearbox.
    #[test]
    fn worse_use_never_spares(rpm in 1500.0..8400.0_f64, gear in 1_usize..7, more in 1.0..25.0_f64, torque in 20.0..400.0_f64) {
        let at = |set: &Prepared, torque_n_m: f64, hotter_k: f64, dirt: f64, kerb: f64| {
            let point = driveline::Point { minutes: 30.0, rpm, torque_n_m, gear, slip_rad_s: 1.8 };
            let record = driveline::record::<RollingBearing>(&[point])
                .channel("gearbox_oil_temp_k", 360.0 + hotter_k)
                .channel("axle_oil_temp_k", 360.0 + hotter_k)
                .channel("ambient_temp_k", 295.0 + 0.5 * hotter_k)
                .channel("contamination_factor", dirt)
                .shock("impact", &[0.01, kerb]);
            set.after(&record.duty())
        };
        for set in all() {
            let usual = at(set, torque, 0.0, 1.0, 60.0);
            for worse in [at(set, torque, more, 1.0, 60.0), at(set, torque, 0.0, 1.0 + 0.2 * more, 60.0), at(set, torque, 0.0, 1.0, 60.0 + more)] {
                for (usual, worse) in usual.iter().zip(&worse) {
                    prop_assert!(*worse >= usual * (1.0 - 1e-9), "{usual} {worse}");
                }
            }
        }
        let harder = at(on_shaft(), torque + more, 0.0, 1.0, 60.0);
        for (usual, harder) in at(on_shaft(), torque, 0.0, 1.0, 60.0).iter().zip(&harder) {
            prop_assert!(*harder >= usual * (1.0 - 1e-9), "{usual} {harder}");
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    for set in all() {
        laws::higher_rate_never_lengthens_life(set, &set.after(&event()), &event());
    }
}

#[test]
fn the_risk_agrees_with_the_lives() {
    for (set, events) in [(on_shaft(), 10), (on_pinion(), 3)] {
        let conditions = set.ageing(&event(), events, 5);
        laws::risk_agrees_with_lives(set, &conditions, &event(), 0.012);
    }
}

/// What is left of the spread is that from set to set: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    let lost = on_pinion().map[1];
    for (set, mechanism, slot, value) in [
        (on_shaft(), "play", "play_growth_m", 30.0e-6),
        (on_pinion(), "play", "play_growth_m", lost),
        (on_hub(), "dents", "deepest_dent", 1.0e-4),
        (on_hub(), "grease", "grease_dose", 1.0),
    ] {
        let used = set.begin_with(&[(slot, value)]);
        laws::limit_reached_leaves_no_life(set, mechanism, &used, &standstill(), half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    for set in all() {
        let used = set.after(&event());
        for nothing in [standstill(), driveline::duty::<RollingBearing>(&[])] {
            laws::nothing_adds_nothing(set, &used, &nothing);
        }
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let set = on_shaft();
    for mechanism in ["fatigue", "play"] {
        laws::nearer_horizon_cuts_the_same_lives(
            set,
            mechanism,
            &set.begin(),
            &event(),
            (90.0, 0.02),
        );
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    for set in all() {
        laws::same_input_same_bits(set, &event());
    }
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let point = |rpm, torque_n_m, gear| driveline::Point {
        minutes: 3.0e5,
        rpm,
        torque_n_m,
        gear,
        slip_rad_s: 3.0,
    };
    let record = driveline::record::<RollingBearing>(&[
        point(14_000.0, 4900.0, 1),
        point(20_000.0, -900.0, 6),
    ])
    .channel("gearbox_oil_temp_k", 460.0)
    .channel("axle_oil_temp_k", 460.0)
    .channel("lateral_acceleration_m_s2", 79.0);
    let extreme = record.shock("impact", &[1.0, 499.0]).duty();
    for set in all() {
        let forecast = laws::slots_stay_within_the_card(set, &set.begin(), &extreme, 200);
        assert!(first(&forecast).iter().all(|life| *life < 1.0));
        let notes = fields(&forecast.notes);
        for field in ["event.engine_speed_rad_s", "fatigue", "play"] {
            assert!(notes.contains(&field), "{field}: {notes:?}");
        }
    }
    let notes = on_hub().forecast(&on_hub().begin(), &extreme).notes;
    for field in ["event", "event.impact"] {
        assert!(fields(&notes).contains(&field), "{notes:?}");
    }
}

/// Setting play and greasing clear what they say and nothing else.
#[test]
fn rework_clears_what_it_says() {
    let set = on_hub();
    let used = set.after(&event());
    for (operation, cleared) in [("play_set", slot::GROWTH), ("new_grease", slot::GREASE)] {
        let reworked = set.rework(&used, operation);
        for (index, (before, after)) in used.iter().zip(&reworked).enumerate() {
            assert_eq!(*after, if index == cleared { 0.0 } else { *before });
        }
        assert!(used[cleared] > 0.0);
    }
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::slot;
use ringland_trials::driveline::{self, any_record};
use ringland_trials::{Record, fields, first, laws};

use crate::pairs::{event, ground};

fn any_duty() -> BoxedStrategy<Duty> {
    any_record::<FinalDrive>().strategy()
}

/// A stretch of one operating point: wheels \[rad/s\], axle torque \[N·m\], oil \[K\], dirt.
fn steady(wheel_rad_s: f64, torque_n_m: f64, oil_k: f64, dirt: f64) -> Duty {
    Record::of::<FinalDrive>(&[600.0])
        .channel("wheel_speed_left_rad_s", wheel_rad_s)
        .channel("wheel_speed_right_rad_s", wheel_rad_s)
        .channel("axle_torque_n_m", torque_n_m)
        .channel("axle_oil_temp_k", oil_k)
        .channel("contamination_factor", dirt)
        .duty()
}

fn standstill() -> Duty {
    steady(0.0, 0.0, 378.15, 1.0)
}

/// Running-in, settling and all: a record gives the same however it is cut.
#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    let starts = ground().any_used(&[
        ("pinion_turns", 0.0..2.0e5),
        ("settling", 0.0..1.0),
        ("drive_pitting", 0.0..0.8),
        ("backlash_growth_m", 0.0..5.0e-5),
    ]);
    laws::slots_follow_their_trends(ground(), &starts, &any_duty());
    laws::cut_records_add_up(ground(), &starts, &any_duty(), 1e-9);
}

/// Once run in, records commute; the operating points of one always do.
#[test]
fn order_does_not_matter_once_run_in() {
    let starts = ground().any_used(&[("pinion_turns", 5.0e6..9.0e6), ("settling", 0.0..1.0)]);
    laws::order_of_records_does_not_matter(ground(), &starts, &any_duty(), 1e-9);
    let fresh = ground().any_used(&[("pinion_turns", 0.0..1.0e4)]);
    laws::order_within_a_record_does_not_matter(ground(), &fresh, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More torque, hotter oil and dirt never spare the pair, driving or coasting.
    #[test]
    fn more_load_heat_and_dirt_never_spare(
        wheel in 3.0..200.0_f64, torque in 60.0..4000.0_f64, oil_k in 330.0..420.0_f64, more in 1.0..15.0_f64, coast in any::<bool>()
    ) {
        let side = if coast { -1.0 } else { 1.0 };
        let usual = ground().after(&steady(wheel, side * torque, oil_k, 1.0));
        for worse in [
            steady(wheel, side * torque * (1.0 + 0.02 * more), oil_k, 1.0),
            steady(wheel, side * torque, oil_k + more, 1.0),
            steady(wheel, side * torque, oil_k, 1.0 + 0.1 * more),
        ] {
            let worse = ground().after(&worse);
            for (index, (usual, worse)) in usual.iter().zip(&worse).enumerate() {
                prop_assert!(*worse >= usual * (1.0 - 1e-9), "slot {index}: {usual} {worse}");
            }
        }
    }

    /// Left and right wheel are alike, and so are forwards and backwards.
    #[test]
    fn wheels_are_alike(wheel in 10.0..150.0_f64, slip in 0.0..8.0_f64) {
        let turned = |left: f64, right: f64| {
            let record = Record::edit::<FinalDrive>(&steady(wheel, 1500.0, 380.0, 1.0));
            ground().after(&record.channel("wheel_speed_left_rad_s", left).channel("wheel_speed_right_rad_s", right).duty())
        };
        let even = turned(wheel, wheel);
        prop_assert!(ringland_trials::close(&even, &turned(wheel + slip, wheel - slip), 1e-9));
        prop_assert_eq!(turned(wheel + slip, wheel - slip), turned(wheel - slip, wheel + slip));
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(ground(), &ground().after(&event()), &event());
}

#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = ground().ageing(&event(), 8, 5);
    laws::risk_agrees_with_lives(ground(), &conditions, &event(), 0.01);
}

/// What is left of the spread is that from pair to pair: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    let pattern = -libm::log1p(-0.25 / 0.30);
    for (mechanism, slot, value) in [
        ("drive_pitting", "drive_pitting", 1.0),
        ("coast_pitting", "coast_pitting", 1.0),
        ("root_fatigue", "pinion_root", 1.0),
        ("root_fatigue", "ring_root", 1.0),
        ("scuff", "scuff_severity", 1.0),
        ("backlash", "backlash_growth_m", 1.0e-4),
        ("preload_loss", "settling", 2.0_f64.ln()),
        ("pattern_drift", "settling", pattern),
    ] {
        let used = ground().begin_with(&[(slot, value * (1.0 + 1e-12)), ("pinion_turns", 1.0e7)]);
        let nothing = standstill();
        laws::limit_reached_leaves_no_life(ground(), mechanism, &used, &nothing, half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = ground().after(&event());
    for nothing in [standstill(), driveline::duty::<FinalDrive>(&[])] {
        laws::nothing_adds_nothing(ground(), &used, &nothing);
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let new = ground().begin();
    laws::nearer_horizon_cuts_the_same_lives(ground(), "backlash", &new, &event(), (25.0, 0.02));
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(ground(), &event());
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let extreme = Record::of::<FinalDrive>(&[1.0e9, 5.0, 0.0])
        .channel("wheel_speed_left_rad_s", 600.0)
        .channel("wheel_speed_right_rad_s", 600.0)
        .column("axle_torque_n_m", &[6.0e4, -3.0e4, 0.0])
        .channel("axle_oil_temp_k", 470.0)
        .channel("contamination_factor", 20.0)
        .cycles("axle_torque_n_m", &[[9.0e4, 0.0, 1.0e12], [0.0, 0.0, 0.0]])
        .duty();
    let new = ground().begin();
    let forecast = laws::slots_stay_within_the_card(ground(), &new, &extreme, 100);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for field in ["event", "event.axle_oil_temp_k", "backlash", "root_fatigue"] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

/// Setting and looking give no wear and no fatigue back.
#[test]
fn rework_clears_what_it_says() {
    let used = ground().after(&event());
    for (operation, cleared) in [
        ("bearings_set", slot::SETTLING),
        ("backlash_set", slot::BACKLASH_GROWTH),
        ("inspected", slot::SCUFF),
    ] {
        let after = ground().rework(&used, operation);
        assert!(used[cleared] > 0.0);
        for index in 0..slot::COUNT {
            let expected = if index == cleared { 0.0 } else { used[index] };
            assert_eq!(after[index], expected, "{operation} {index}");
        }
    }
}

/// Counted peaks count singly, are laid to the operating points of the nearest torque, and their lack is told.
#[test]
fn peaks_of_the_axle_torque_count_singly() {
    let base = Record::of::<FinalDrive>(&[600.0, 600.0])
        .channel("wheel_speed_left_rad_s", 40.0)
        .channel("wheel_speed_right_rad_s", 40.0)
        .column("axle_torque_n_m", &[2900.0, 3000.0])
        .duty();
    let with = |rows: &[[f64; 3]]| {
        let record = Record::edit::<FinalDrive>(&base);
        record.cycles("axle_torque_n_m", rows).duty()
    };
    let (none, one) = (with(&[]), with(&[[6000.0, 3000.0, 1.0]]));
    let many = with(&[[6000.0, 3000.0, 50.0]]);
    let root = |duty: &Duty| ground().after(duty)[slot::PINION_ROOT];
    let added = root(&one) - root(&none);
    assert!(added > 0.0);
    assert!(((root(&many) - root(&none)) / added / 50.0 - 1.0).abs() < 1e-6);
    // A peak beyond zero loads the coast flank too, which alone it did not.
    let reversed = ground().after(&with(&[[6000.0, 1000.0, 10.0]]));
    assert!(reversed[slot::COAST_PITTING] > 0.0);
    assert_eq!(ground().after(&one)[slot::COAST_PITTING], 0.0);
    let shares = |duty: &Duty| {
        ground().forecast(&ground().begin(), duty).mechanisms[2]
            .point_shares
            .clone()
    };
    assert!(shares(&many)[1] > shares(&none)[1]);
    let notes = ground().forecast(&ground().begin(), &none).notes;
    assert!(fields(&notes).contains(&"event.cycles"), "{notes:?}");
}

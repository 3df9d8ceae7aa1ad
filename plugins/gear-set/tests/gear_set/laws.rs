//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_gear_set::GearSet;
use ringland_plugin_gear_set::condition::{SCUFF, slot};
use ringland_trials::driveline::{self, Point};
use ringland_trials::{fields, first, laws, with};

use crate::boxes::{event, ground, plain, prepared};

/// Any use of the box in one gear or another.
fn any_duty() -> BoxedStrategy<Duty> {
    let gears =
        Just(()).prop_flat_map(|()| (0..=6_usize, driveline::any_record::<GearSet>().strategy()));
    gears
        .prop_map(|(gear, mut duty)| {
            let rows = duty.points[2].len();
            duty.points[2] = (0..rows).map(|row| ((gear + row) % 7) as f64).collect();
            duty
        })
        .boxed()
}

fn steady(rpm: f64, torque_n_m: f64, gear: usize) -> Duty {
    let point = Point {
        minutes: 30.0,
        rpm,
        torque_n_m,
        gear,
        slip_rad_s: 0.0,
    };
    driveline::duty::<GearSet>(&[point])
}

#[test]
fn damage_adds_up_however_a_record_is_cut_and_whatever_the_order() {
    let model = plain();
    let starts = model.any_used(&[
        ("gear_2_pinion_pitting", 0.0..0.8),
        ("gear_3_wheel_root", 0.0..0.5),
        ("gear_4_dog_wear_m", 0.0..6.0e-4),
        ("gear_1_backlash_growth_m", 0.0..8.0e-5),
        ("scuff_severity", 0.0..0.6),
    ]);
    laws::slots_follow_their_trends(model, &starts, &any_duty());
    laws::cut_records_add_up(model, &starts, &any_duty(), 1e-9);
    laws::order_of_records_does_not_matter(model, &starts, &any_duty(), 1e-9);
    laws::order_within_a_record_does_not_matter(model, &starts, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    /// More torque, and at any torque more time at speed, hotter oil and dirt, never spare a tooth. Speeds below the resonance of the mesh.
    #[test]
    fn more_never_spares(rpm in 2000.0..7500.0_f64, torque in 30.0..440.0_f64, more in 1.01..1.3_f64, gear in 1..=6_usize) {
        let model = plain();
        let usual = model.after(&steady(rpm, torque, gear));
        let column = |name: &str, value: f64| {
            let point = Point { minutes: 30.0, rpm, torque_n_m: torque, gear, slip_rad_s: 0.0 };
            driveline::record::<GearSet>(&[point]).channel(name, value).duty()
        };
        let worse = [
            steady(rpm, more * torque, gear),
            steady(more * rpm, torque, gear),
            column("gearbox_oil_temp_k", 368.15 + 40.0 * (more - 1.0)),
            column("contamination_factor", more),
        ];
        for (index, duty) in worse.iter().enumerate() {
            let after = model.after(duty);
            for (at, (usual, worse)) in usual.iter().zip(&after).enumerate() {
                // Speed thickens the film: it wears less, and may run cooler at the flank.
                let film = at == SCUFF || at % slot::OF_GEAR == slot::BACKLASH;
                prop_assert!((index == 1 && film) || *worse >= usual * (1.0 - 1e-9), "{index} {at}: {usual} {worse}");
            }
        }
    }

    /// Rougher flanks and roots, poorer alignment and weaker steel never lengthen life.
    #[test]
    fn a_poorer_box_never_lasts_longer(by in 1.02..1.5_f64) {
        let usual = plain().after(&event());
        for (name, value) in [
            ("flank.ra_m", 0.4e-6 * by),
            ("root.ra_m", 1.6e-6 * by),
            ("face_load_factor", 1.15 * by),
            ("application_factor", 1.1 * by),
            ("contact_strength_pa", 1.65e9 / by.min(1.3)),
            ("root_strength_pa", 1.05e9 / by),
            ("base_pitch_deviation_m", 5.0e-6 * by),
            ("flank.wear_coefficient_m2_n", 3.0e-17 * by),
            ("dog_wear_m_j", 28.5e-9 * by),
        ] {
            let poorer = prepared(with::<GearSet>(&ground(), name, value)).after(&event());
            for (usual, worse) in usual.iter().zip(&poorer) {
                prop_assert!(*worse >= usual * (1.0 - 1e-9), "{name}: {usual} {worse}");
            }
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = plain().ageing(&event(), 10, 4);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

/// What is left of the spread is that from set to set: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    for (mechanism, slot, value) in [
        ("pitting", "gear_3_pinion_pitting", 1.0),
        ("root_fatigue", "gear_2_wheel_root", 1.0),
        ("scuffing", "scuff_severity", 1.0),
        ("dog_wear", "gear_4_dog_wear_m", 8.0e-4),
        ("flank_wear", "gear_5_backlash_growth_m", 1.0e-4),
    ] {
        let used = plain().begin_with(&[(slot, value)]);
        let nothing = driveline::duty::<GearSet>(&[]);
        laws::limit_reached_leaves_no_life(plain(), mechanism, &used, &nothing, half.clone());
    }
}

/// Neutral, overrun and an empty record add nothing.
#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().after(&event());
    for nothing in [
        driveline::duty::<GearSet>(&[]),
        steady(3000.0, 50.0, 0),
        steady(6500.0, -45.0, 4),
    ] {
        laws::nothing_adds_nothing(plain(), &used, &nothing);
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    laws::nearer_horizon_cuts_the_same_lives(
        plain(),
        "dog_wear",
        &plain().begin(),
        &event(),
        (40.0, 0.02),
    );
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// Far beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let points: Vec<Point> = (1..=6)
        .map(|gear| Point {
            minutes: 1.0e6,
            rpm: 20_000.0,
            torque_n_m: 4500.0,
            gear,
            slip_rad_s: 0.0,
        })
        .collect();
    let record = driveline::record::<GearSet>(&points).channel("gearbox_oil_temp_k", 465.0);
    let extreme = record
        .shock("shift", &[0.1, 1.0, 2.0, -2500.0, 3000.0])
        .duty();
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for field in [
        "event.engine_torque_n_m",
        "pitting",
        "root_fatigue",
        "scuffing",
    ] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

#[test]
fn rework_clears_what_it_says() {
    let model = plain();
    let used = model.after(&event());
    let seen = model.rework(&used, "inspected");
    let dogs = model.rework(&used, "dogs_renewed");
    let renewed = model.rework(&used, "gear_3_renewed");
    for (at, used) in used.iter().enumerate() {
        let (gear, place) = (at / slot::OF_GEAR, at % slot::OF_GEAR);
        let scuff = at == SCUFF;
        assert_eq!(seen[at], if scuff { 0.0 } else { *used });
        assert_eq!(
            dogs[at],
            if place == slot::DOG && !scuff {
                0.0
            } else {
                *used
            }
        );
        assert_eq!(renewed[at], if gear == 2 { 0.0 } else { *used });
    }
    assert!(used[SCUFF] > 0.0 && used[2 * slot::OF_GEAR + slot::DOG] > 0.0);
}

/// A missed shift of five times the speed step rounds the dogs as 25 clean ones do.
#[test]
fn a_missed_shift_counts_by_its_energy() {
    let shifted = |step: f64| {
        let record = driveline::record::<GearSet>(&[]);
        let duty = record.shock("shift", &[0.12, 2.0, 3.0, step, 120.0]).duty();
        plain().after(&duty)[2 * slot::OF_GEAR + slot::DOG]
    };
    assert!((shifted(-800.0) / shifted(-160.0) - 25.0).abs() < 1e-9);
    // By hand: 0.5 x 0.006 kg m2 x (0.25 x 160 rad/s)^2 x 28.5 nm/J.
    assert!((shifted(160.0) / (4.8 * 28.5e-9) - 1.0).abs() < 1e-12);
}

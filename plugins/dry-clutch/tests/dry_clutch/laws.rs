//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_dry_clutch::DryClutch;
use ringland_plugin_dry_clutch::card::slot;
use ringland_trials::{driveline, fields, first, laws, with_all};

use crate::clutches::{coated, event, event_of_launches, one_launch, prepared, sintered, usual};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<DryClutch>().strategy()
}

const USED: [(&str, std::ops::Range<f64>); 8] = [
    ("stack_wear_m", 0.0..4.0e-4),
    ("glaze_dose", 0.0..2.0),
    ("floater_set", 0.0..3.0e-4),
    ("pressure_plate_set", 0.0..3.0e-4),
    ("heat_check_damage", 0.0..0.5),
    ("spline_wear_m", 0.0..1.0e-4),
    ("slip_energy_j", 0.0..3.0e6),
    ("hottest_plate_k", 0.0..900.0),
];

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [usual(), &prepared(coated())] {
        let starts = model.any_used(&USED);
        laws::slots_follow_their_trends(model, &starts, &any_duty());
        laws::cut_records_add_up(model, &starts, &any_duty(), 1e-9);
    }
}

/// Repeats of one record give the same however many are taken at once: what the forecast ahead rests on.
#[test]
fn two_events_are_twice_the_event() {
    let model = usual();
    let ahead = model.forecast(&model.begin(), &event());
    let step = model.forecast(&model.repeated(&model.begin(), &event(), 8), &event());
    for (path, stepped) in ahead.readings.iter().zip(&step.readings) {
        let (at_once, in_steps) = (path.median[2], stepped.median[0]);
        assert!(
            (at_once / in_steps - 1.0).abs() < 1e-6,
            "{at_once} {in_steps}"
        );
    }
}

/// Records commute but for the hottest of plates that are bent: sets remember, and new linings run in.
#[test]
fn order_does_not_matter_once_run_in() {
    let model = usual();
    let run_in = model.any_used(&[
        ("slip_energy_j", 1.0e9..2.0e9),
        ("stack_wear_m", 0.0..1.0e-4),
    ]);
    for slots in [0..slot::FLOATER_SET, slot::HEAT_CHECK..slot::COUNT] {
        laws::order_of_records_does_not_matter_to(model, slots, &run_in, &any_duty(), 1e-9);
    }
    laws::order_within_a_record_does_not_matter(model, &model.any_used(&USED), &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// More heat in the same time, a warmer day or a shorter gap before the next never spares anything.
    #[test]
    fn more_heat_never_spares(energy_j in 5.0e4..4.0e5_f64, more in 1.01..1.5_f64, ambient_k in 270.0..310.0_f64) {
        let model = usual();
        let two = |energy_j: f64, gap_s: f64, ambient_k: f64| {
            let [mut duty, second] = [100.0, 100.0 + gap_s].map(|start_s| one_launch(start_s, energy_j));
            for (column, other) in duty.shocks[0].columns.iter_mut().zip(&second.shocks[0].columns) {
                column.extend(other);
            }
            let points = driveline::duty::<DryClutch>(&driveline::points()[..2]);
            (duty.time_s, duty.points, duty.duration_s) = (points.time_s, points.points, points.duration_s);
            duty.points[2].iter_mut().for_each(|value| *value = ambient_k);
            model.after(&duty)
        };
        let usual = two(energy_j, 120.0, ambient_k);
        for worse in [two(energy_j * more, 120.0, ambient_k), two(energy_j, 120.0 / (more * more), ambient_k), two(energy_j, 120.0, ambient_k + 50.0 * (more - 1.0))] {
            for (usual, worse) in usual.iter().zip(&worse) {
                prop_assert!(*worse >= usual * (1.0 - 1e-9), "{usual} {worse}");
            }
        }
    }

    /// Hotter bands, slower cooling and softer splines never spare anything; sides that are less alike never spare the floaters; twice the coefficient is
    /// twice the wear.
    #[test]
    fn a_worse_clutch_never_lasts_longer(factor in 1.0..1.9_f64, more in 1.01..1.3_f64) {
        let worn = |changes: &[(&str, f64)]| {
            let start = [("hot_band_factor", factor)];
            let specimen = with_all::<DryClutch>(&sintered(), &[&start, changes].concat());
            prepared(specimen).after(&event())
        };
        let usual = worn(&[]);
        for worse in [
            worn(&[("hot_band_factor", factor * more)]),
            worn(&[("cooling_w_m2_k", 300.0 / more)]),
            worn(&[("lugs.wear_coefficient_m2_n", 1.2e-15 * more)]),
        ] {
            for (usual, worse) in usual.iter().zip(&worse) {
                prop_assert!(*worse >= usual * (1.0 - 1e-9), "{usual} {worse}");
            }
        }
        let uneven = worn(&[("side_imbalance", 0.3 * more)]);
        prop_assert!(uneven[slot::FLOATER_SET] > usual[slot::FLOATER_SET]);
        let twice = worn(&[("friction_face.wear_coefficient_m2_n", 2.22e-14)]);
        prop_assert!((twice[slot::STACK_WEAR] / usual[slot::STACK_WEAR] - 2.0).abs() < 1e-9);
    }

    /// More torque or speed never spares the splines.
    #[test]
    fn more_torque_and_speed_never_spare_the_splines(rpm in 1000.0..8000.0_f64, torque_n_m in -60.0..440.0_f64, more in 1.01..2.0_f64) {
        let worn = |rpm: f64, torque_n_m: f64| {
            let point = driveline::Point { minutes: 20.0, rpm, torque_n_m, gear: 3, slip_rad_s: 0.2 };
            usual().after(&driveline::duty::<DryClutch>(&[point]))[slot::SPLINE_WEAR]
        };
        prop_assert!(worn(rpm * more, torque_n_m) >= worn(rpm, torque_n_m));
        prop_assert!(worn(rpm, torque_n_m * more) >= worn(rpm, torque_n_m));
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(usual(), &usual().after(&event()), &event());
}

#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = usual().ageing(&event(), 5, 4);
    laws::risk_agrees_with_lives(usual(), &conditions, &event(), 0.01);
}

/// What is left of the spread is that of energy, strength and surface: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    let floater_set = 0.15e-3 * 5.0e-3 / 2.4e-3;
    let pressure_plate_set = 0.15e-3 * 6.0e-3 / 2.4e-3;
    for (mechanism, slot, value) in [
        ("stack_wear", "stack_wear_m", 0.5e-3),
        ("warp", "floater_set", floater_set * (1.0 + 1e-12)),
        (
            "warp",
            "pressure_plate_set",
            pressure_plate_set * (1.0 + 1e-12),
        ),
        ("heat_cracks", "heat_check_damage", 1.0),
        ("splines", "spline_wear_m", 0.15e-3),
    ] {
        let used = usual().begin_with(&[(slot, value)]);
        let nothing = driveline::duty::<DryClutch>(&[]);
        laws::limit_reached_leaves_no_life(usual(), mechanism, &used, &nothing, half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = usual().after(&event());
    let mut standing = driveline::points()[0];
    standing.rpm = 0.0;
    for nothing in [
        driveline::duty::<DryClutch>(&[]),
        driveline::duty::<DryClutch>(&[standing]),
    ] {
        laws::nothing_adds_nothing(usual(), &used, &nothing);
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let model = usual();
    laws::nearer_horizon_cuts_the_same_lives(
        model,
        "stack_wear",
        &model.begin(),
        &event(),
        (40.0, 0.02),
    );
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(usual(), &event());
}

/// Heat that would melt the stack: every slot stays in its range, lives are over, and notes say why.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let mut extreme = event_of_launches(7.0e6);
    extreme.shocks[0].columns[2]
        .iter_mut()
        .for_each(|energy| *energy = 1.0e8);
    extreme.shocks[0].columns[4]
        .iter_mut()
        .for_each(|torque| *torque = 9.0e3);
    extreme.points[1]
        .iter_mut()
        .for_each(|torque| *torque = 4.0e3);
    let forecast = laws::slots_stay_within_the_card(usual(), &usual().begin(), &extreme, 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for field in [
        "event",
        "event.engine_torque_n_m",
        "event.peak_torque_n_m",
        "stack_wear",
        "warp",
        "heat_cracks",
    ] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

/// Each operation gives back what it says and no more.
#[test]
fn rework_clears_what_it_says() {
    let model = usual();
    let used = model.after(&event());
    let discs = model.rework(&used, "new_discs");
    let plates = model.rework(&used, "new_plates");
    let of_discs = [
        slot::STACK_WEAR,
        slot::GLAZE,
        slot::SPLINE_WEAR,
        slot::ENERGY,
    ];
    for index in 0..used.len() {
        let disc = of_discs.contains(&index);
        assert_eq!(discs[index], if disc { 0.0 } else { used[index] });
        assert_eq!(plates[index], if disc { used[index] } else { 0.0 });
        assert!(used[index] > 0.0);
    }
}

/// Launches take nearly all of the heat's shares, operating points all of the splines'.
#[test]
fn shares_go_to_what_does_the_harm() {
    let forecast = usual().forecast(&usual().begin(), &event());
    for (index, found) in forecast.mechanisms.iter().enumerate() {
        let points: f64 = found.point_shares.iter().sum();
        let launches = found.shock_shares[0];
        if index == 4 {
            assert!((points - 1.0).abs() < 1e-9);
        } else {
            assert!(launches > 0.9 && points == 0.0, "{index} {launches}");
        }
    }
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::card::slot;
use ringland_trials::{changed, engine, first, laws};

use crate::scenario::{Prepared, bare, duty, event, peened, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    let any = engine::any_record::<SpringRetainer>();
    any.channel("contamination_factor", 1.0..5.0).strategy()
}

fn starts(model: &Prepared) -> BoxedStrategy<Vec<f64>> {
    model.any_used(&[
        ("sink_m", 0.0..1.0e-4),
        ("step_m", 0.0..5.0e-5),
        ("driven_force_n", 0.0..2000.0),
    ])
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [bare(), peened()] {
        laws::slots_follow_their_trends(model, &starts(model), &any_duty());
        laws::cut_records_add_up(model, &starts(model), &any_duty(), 1e-9);
    }
}

#[test]
fn order_does_not_matter() {
    laws::order_of_records_does_not_matter(bare(), &starts(bare()), &any_duty(), 1e-9);
    laws::order_within_a_record_does_not_matter(bare(), &starts(bare()), &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More time, dirt and wear coefficient never spare the retainer. (More speed may: surge.)
    #[test]
    fn more_of_anything_but_speed_never_spares(rpm in 1500.0..8600.0_f64, more in 1.01..3.0_f64) {
        let run = |minutes: f64, dirt: f64| {
            let record = engine::record::<SpringRetainer>(&[(rpm, 100.0, minutes)]);
            bare().after(&record.channel("contamination_factor", dirt).duty())
        };
        let (usual, longer, dirtier) = (run(30.0, 1.0), run(30.0 * more, 1.0), run(30.0, more));
        for (usual, more) in usual.iter().zip(&longer) {
            prop_assert!(more >= usual);
        }
        for index in [slot::SINK, slot::TAPER, slot::STEP] {
            prop_assert!(dirtier[index] >= usual[index]);
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(bare(), &bare().after(&event()), &event());
}

/// A more slippery, smaller or thinner part never lasts longer, each where it counts.
#[test]
fn a_worse_part_never_lasts_longer() {
    let usual = bare().after(&event());
    for (name, by, index) in [
        ("tip_height_m", 1.3, slot::TAPER),
        ("cone_length_m", 0.8, slot::HUB),
        ("taper.boundary_friction", 0.85, slot::TAPER),
        ("flange_m", 0.93, slot::FLANGE),
        ("flange_fillet_m", 0.6, slot::FLANGE),
        ("end_coil_face_m", 0.8, slot::STEP),
        ("coil_clearance_m", 2.0, slot::STEP),
        ("hub_outer_m", 0.9, slot::HUB),
    ] {
        let worse =
            Prepared::new(changed::<SpringRetainer>(&untreated(), name, by)).after(&event());
        assert!(
            worse[index] > usual[index],
            "{name}: {} {}",
            worse[index],
            usual[index]
        );
    }
}

/// What is left of the spread is that from retainer to retainer: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    for (mechanism, name, limit) in [("sink", "sink_m", 0.25e-3), ("step", "step_m", 0.10e-3)] {
        let used = bare().begin_with(&[(name, limit)]);
        laws::limit_reached_leaves_no_life(bare(), mechanism, &used, &event(), 0.488..=0.512);
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = bare().after(&event());
    for nothing in [engine::standstill::<SpringRetainer>(), duty(&[])] {
        laws::nothing_adds_nothing(bare(), &used, &nothing);
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(peened(), &event());
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let nearer = (60.0, 0.01);
    laws::nearer_horizon_cuts_the_same_lives(bare(), "step", &bare().begin(), &event(), nearer);
}

/// From new to past the limits.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = bare().ageing(&event(), 20, 5);
    laws::risk_agrees_with_lives(bare(), &conditions, &event(), 0.01);
}

/// New keepers take their share of the sink and the driving on away, and give nothing of the retainer back.
#[test]
fn new_keepers_keep_the_retainers_wear() {
    let used = bare().repeated(&bare().begin(), &event(), 10);
    let again = bare().rework(&used, "new_keepers");
    let kept_m = used[slot::TAPER] / 0.122_f64.sin();
    assert!((again[slot::SINK] / kept_m - 1.0).abs() < 1e-9 && kept_m < 0.85 * used[slot::SINK]);
    for index in [
        slot::TAPER,
        slot::STEP,
        slot::FLANGE,
        slot::HUB,
        slot::GALLING,
        slot::FORCE,
    ] {
        assert_eq!(again[index], used[index]);
    }
    assert_eq!(again[slot::DRIVEN], 0.0);
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let points = [
        (23_000.0, 4900.0, 1.6e7),
        (4000.0, 4900.0, 10.0),
        (1.0, -900.0, 1.0),
    ];
    let record = engine::record::<SpringRetainer>(&points).channel("contamination_factor", 20.0);
    let extreme = record.shock("over_rev", &[3600.0, 2500.0, 5000.0]).duty();
    let forecast = laws::slots_stay_within_the_card(bare(), &bare().begin(), &extreme, 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = ringland_trials::fields(&forecast.notes);
    assert!(
        notes.contains(&"event.engine_speed_rad_s") && notes.contains(&"sink"),
        "{notes:?}"
    );
}

//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_wet_clutch::WetClutch;
use ringland_plugin_wet_clutch::card::slot;
use ringland_trials::{changed, driveline, fields, first, laws};

use crate::scenario::{Prepared, event, ground, hour, launch, superfinished, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<WetClutch>().strategy()
}

fn starts(model: &Prepared) -> BoxedStrategy<Vec<f64>> {
    model.any_used(&[
        ("glaze", 0.0..1.0),
        ("lining_damage", 0.0..1.0),
        ("lining_wear_m", 0.0..1.0e-4),
        ("oil_age", 0.0..2.0),
        ("hottest_k", 0.0..700.0),
    ])
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [ground(), superfinished()] {
        laws::slots_follow_their_trends(model, &starts(model), &any_duty());
        laws::cut_records_add_up(model, &starts(model), &any_duty(), 1e-9);
    }
}

#[test]
fn order_does_not_matter() {
    laws::order_of_records_does_not_matter(ground(), &starts(ground()), &any_duty(), 1e-9);
    laws::order_within_a_record_does_not_matter(ground(), &starts(ground()), &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More energy, hotter oil, dirt and a second launch soon after never spare the pack; the same energy over a longer time does.
    #[test]
    fn more_heat_never_spares(energy in 2.0e4..4.0e5_f64, more in 1.02..2.0_f64, seconds in 0.3..4.0_f64, oil in 340.0..400.0_f64) {
        let run = |energy: f64, seconds: f64, oil: f64, dirt: f64, again: bool| {
            let one = [10.0, seconds, energy, 2.0 * energy / seconds, 500.0];
            let two = [10.0 + seconds + 5.0, seconds, energy, 2.0 * energy / seconds, 500.0];
            let all = if again { vec![one, two] } else { vec![one] };
            let record = ringland_trials::Record::edit::<WetClutch>(&hour(&all));
            let record = record.channel("gearbox_oil_temp_k", oil).channel("contamination_factor", dirt);
            ground().after(&record.duty())
        };
        let usual = run(energy, seconds, oil, 1.0, false);
        let worse = [
            run(energy * more, seconds, oil, 1.0, false),
            run(energy, seconds, oil + 10.0, 1.0, false),
            run(energy, seconds, oil, more, false),
            run(energy, seconds, oil, 1.0, true),
        ];
        for worse in &worse {
            for (usual, worse) in usual.iter().zip(worse) {
                prop_assert!(*worse >= usual * (1.0 - 1e-12), "{usual} {worse}");
            }
        }
        let longer = run(energy, seconds * more, oil, 1.0, false);
        prop_assert!(longer[slot::GLAZE] <= usual[slot::GLAZE] * (1.0 + 1e-9));
        prop_assert!(longer[slot::HOTTEST] <= usual[slot::HOTTEST]);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(ground(), &ground().after(&event()), &event());
}

/// A smaller, thinner, dirtier or worse cooled pack never lasts longer, each where it counts.
#[test]
fn a_worse_pack_never_lasts_longer() {
    let usual = ground().after(&event());
    for (name, by, index) in [
        ("faces", 12.0 / 14.0, slot::GLAZE),
        ("inner_diameter_m", 1.04, slot::LINING),
        ("separator_m", 0.8, slot::GLAZE),
        ("core_m", 0.6, slot::GLAZE),
        ("oil_flow_m3_s", 0.4, slot::GLAZE),
        ("groove_count", 0.5, slot::GLAZE),
        ("lining_conductivity_w_m_k", 0.4, slot::GLAZE),
        ("glaze_time_s", 0.5, slot::GLAZE),
        ("energy_life", 0.5, slot::LINING),
        ("oil_volume_m3", 0.5, slot::OIL_AGE),
        ("shift_share", 1.5, slot::WEAR),
        ("separator.ra_m", 2.0, slot::WEAR),
        ("lining.wear_coefficient_m2_n", 2.0, slot::WEAR),
    ] {
        let worse = Prepared::new(changed::<WetClutch>(&untreated(), name, by)).after(&event());
        assert!(
            worse[index] > usual[index],
            "{name}: {} {}",
            worse[index],
            usual[index]
        );
    }
}

/// What is left of the spread is that from pack to pack: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.488..=0.512;
    let glaze = (0.13_f64 / 0.10).ln() / 0.25;
    for (mechanism, name, limit) in [
        ("capacity", "glaze", glaze),
        ("thickness", "lining_wear_m", 0.15e-3),
        ("flatness", "unevenness_m", 0.08e-3),
    ] {
        let used = ground().begin_with(&[(name, limit)]);
        laws::limit_reached_leaves_no_life(ground(), mechanism, &used, &event(), half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = ground().after(&event());
    let nothing = ringland_trials::Record::of::<WetClutch>(&[]).duty();
    laws::nothing_adds_nothing(ground(), &used, &nothing);
    let no_time = ringland_trials::Record::of::<WetClutch>(&[0.0]).duty();
    laws::nothing_adds_nothing(ground(), &used, &no_time);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(superfinished(), &event());
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let nearer = (60.0, 0.01);
    laws::nearer_horizon_cuts_the_same_lives(
        ground(),
        "capacity",
        &ground().begin(),
        &event(),
        nearer,
    );
}

/// From new to past the limits.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = ground().ageing(&event(), 30, 5);
    laws::risk_agrees_with_lives(ground(), &conditions, &event(), 0.01);
}

/// Each operation gives back what it renews and nothing else.
#[test]
fn operations_renew_their_own() {
    let used = ground().repeated(
        &ground().begin_with(&[("unevenness_m", 3.0e-5)]),
        &event(),
        10,
    );
    for (operation, renewed) in [
        ("new_oil", vec![slot::OIL_AGE, slot::OXIDATION]),
        ("new_separators", vec![slot::FLATNESS, slot::HOTTEST]),
        ("new_linings", vec![slot::GLAZE, slot::LINING, slot::WEAR]),
    ] {
        let again = ground().rework(&used, operation);
        for index in 0..slot::COUNT {
            let expected = if renewed.contains(&index) {
                0.0
            } else {
                used[index]
            };
            assert_eq!(again[index], expected, "{operation}, slot {index}");
        }
    }
}

/// Units: energy, area and volume in one proportion leave temperatures and doses alike.
#[test]
fn twice_the_pack_takes_twice_the_heat() {
    let record = hour(&[launch(10.0, 264.0e3)]);
    let usual = ground().after(&record);
    let mut double = changed::<WetClutch>(&untreated(), "faces", 12.0 / 14.0);
    double = changed::<WetClutch>(&double, "oil_flow_m3_s", 12.0 / 14.0);
    double = changed::<WetClutch>(&double, "oil_volume_m3", 12.0 / 14.0);
    let smaller = Prepared::new(double).after(&hour(&[launch(10.0, 264.0e3 * 12.0 / 14.0)]));
    for (index, (usual, smaller)) in usual.iter().zip(&smaller).enumerate() {
        assert!((smaller - usual).abs() <= 1e-9 * usual, "{index}");
    }
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let extreme = hour(&[
        [0.0, 3600.0, 1.0e8, 1.0e7, 0.1],
        [1.0, 0.0, 1.0e8, 0.0, 0.0],
        [1.0, 1.0, 0.0, 1.0e7, 1.0e4],
    ]);
    let shift = [3600.0, -1.0, 12.0, 2500.0, 5000.0];
    let extreme = ringland_trials::Record::edit::<WetClutch>(&extreme);
    let extreme = extreme
        .shock("shift", &shift)
        .channel("gearbox_oil_temp_k", 470.0);
    let extreme = extreme
        .channel("contamination_factor", 20.0)
        .channel("engine_torque_n_m", 5000.0);
    let forecast =
        laws::slots_stay_within_the_card(ground(), &ground().begin(), &extreme.duty(), 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for told in [
        "event.engagements",
        "hottest_k",
        "event.hot_spots",
        "capacity_n_m",
        "acid_rise",
        "capacity",
    ] {
        assert!(notes.contains(&told), "{told}: {notes:?}");
    }
}

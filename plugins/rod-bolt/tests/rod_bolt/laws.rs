//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::card::{mechanism, reading, slot};
use ringland_trials::{engine, laws, scaled};

use crate::scenario::{
    begin_at, bolts, changed, duty, event, plain, stretched, torqued, with_missed_shift,
};

/// Any use, some of it with over-revs.
fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<RodBolt>()
        .channel("oil_temp_k", 330.0..420.0)
        .shock("over_rev", &[0.05..2.0, 880.0..1300.0, -60.0..300.0], 2)
        .strategy()
}

/// From bolts so loose that they break within the record to sound ones.
#[test]
fn nothing_heals_and_a_cut_record_gives_the_same() {
    let starts = plain().any_used(&[("assembly_preload_n", 5.0e3..60.0e3)]);
    laws::slots_follow_their_trends(plain(), &starts, &any_duty());
    laws::cut_records_add_up(plain(), &starts, &any_duty(), 1e-9);
}

/// Records in either order leave the same preload, stretch and count. Damage may differ, and should: a peak that loosens bolts or a first damage that
/// makes small cycles count does more harm early than late.
#[test]
fn order_of_records() {
    let starts = plain().any_used(&[("assembly_preload_n", 30.0e3..60.0e3)]);
    let slots = 0..slot::FIRST_DAMAGE;
    laws::order_of_records_does_not_matter_to(plain(), slots, &starts, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// What they were tightened to is remembered, whatever they have lost of it.
    #[test]
    fn no_use_changes_what_they_were_tightened_to(duty in any_duty(), preload in 5.0e3..60.0e3_f64) {
        let start = begin_at(plain(), preload);
        prop_assert_eq!(plain().then(&start, &duty)[slot::ASSEMBLY_PRELOAD], start[slot::ASSEMBLY_PRELOAD]);
    }

    /// More speed never spares a bolt, nor a lower preload; hotter titanium rods on steel bolts loosen.
    #[test]
    fn speed_and_looseness_never_lengthen_life(rpm in 5000.0..8600.0_f64, more in 50.0..1500.0_f64, preload in 8.0e3..30.0e3_f64, loose in 0.7..0.98_f64) {
        let model = plain();
        let damage = |preload: f64, rpm: f64| {
            model.then(&begin_at(model, preload), &duty(&[(rpm, 300.0, 10.0)]))[slot::FIRST_DAMAGE..].to_vec()
        };
        let base = damage(preload, rpm);
        let faster = damage(preload, rpm + more);
        prop_assert!(faster.iter().zip(&base).all(|(fast, slow)| fast >= slow));
        let looser = damage(loose * preload, rpm);
        prop_assert!(looser.iter().zip(&base).all(|(loose, tight)| loose >= tight));
    }

    /// For any preload, by stretch and by torque.
    #[test]
    fn the_risk_agrees_with_the_lives(preload in 8.0e3..75.0e3_f64, rpm in 8500.0..14_000.0_f64, by_torque: bool) {
        let model = plain().with(if by_torque { torqued() } else { stretched() });
        let event = with_missed_shift(rpm);
        let new = begin_at(&model, preload);
        let used = model.then(&new, &event);
        laws::risk_agrees_with_lives(&model, &[new, used], &event, 0.03);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    for preload in [12.0e3, 16.0e3, 24.0e3, 50.0e3] {
        let used = plain().then(&begin_at(plain(), preload), &event());
        laws::higher_rate_never_lengthens_life(plain(), &used, &event());
    }
}

/// Damage is in proportion to time, once there is some.
#[test]
fn twice_the_time_is_twice_the_damage() {
    let model = plain();
    let damage = |times: f64| {
        let condition = model.then(
            &begin_at(model, 15.0e3),
            &scaled::<RodBolt>(&event(), times),
        );
        condition[slot::FIRST_DAMAGE..].to_vec()
    };
    let (once, twice) = (damage(1.0), damage(2.0));
    for (once, twice) in once.iter().zip(&twice) {
        assert!((twice - 2.0 * once).abs() <= 1e-12 * twice);
    }
    assert!(once[5] > 0.0);
}

/// Shares add up to 1, or are 0 where the event adds nothing.
#[test]
fn shares_add_up() {
    let model = plain();
    for preload in [15.0e3, 52.0e3] {
        let forecast = model.forecast(&begin_at(model, preload), &with_missed_shift(9500.0));
        for (index, found) in forecast.mechanisms.iter().enumerate() {
            let sum: f64 = found.point_shares.iter().chain(&found.shock_shares).sum();
            let endless = index == mechanism::FATIGUE && preload > 50.0e3;
            let expected = if endless { 0.0 } else { 1.0 };
            assert!(
                (sum - expected).abs() < 1e-12,
                "{index} at {preload}: {sum}"
            );
        }
        // The missed shift is the highest load.
        assert_eq!(forecast.mechanisms[mechanism::OPENING].shock_shares, [1.0]);
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().then(&begin_at(plain(), 16.0e3), &event());
    laws::nothing_adds_nothing(plain(), &used, &engine::standstill::<RodBolt>());
}

/// Stretch at its limit exactly: nothing is left.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let long = model.begin_with(&[("kept_stretch_m", 25.0e-6)]);
    laws::limit_reached_leaves_no_life(model, "stretch", &long, &event(), 1.0..=1.0);
    // Two builds of three tightenings, the second run to its end.
    let mut condition = model.begin();
    (condition[slot::TIGHTENINGS], condition[slot::RUNNING]) = (6.0, 61_200.0);
    let found = &model.forecast(&condition, &event()).mechanisms[mechanism::REUSE];
    assert!(found.lives_events.iter().all(|life| *life == 0.0));
}

/// Tightening again gives the preload back, keeps damage and stretch, and is counted.
#[test]
fn retorque_gives_preload_back_and_nothing_else() {
    let model = plain();
    let loose = begin_at(model, 16.0e3);
    let used = model.then(&loose, &with_missed_shift(15_000.0));
    let stretch = bolts(model).bolt(
        &ringland_plugin_rod_bolt::condition::Condition::read(&used).unwrap(),
        0.0,
    );
    let again = model.rework(&used, "retorque");
    assert_eq!(
        again[slot::ASSEMBLY_PRELOAD],
        model.begin()[slot::ASSEMBLY_PRELOAD]
    );
    assert_eq!(again[slot::FIRST_DAMAGE..], used[slot::FIRST_DAMAGE..]);
    assert_eq!(again[slot::KEPT_STRETCH], stretch.stretch_m);
    assert_eq!(again[slot::TIGHTENINGS], used[slot::TIGHTENINGS] + 1.0);
    assert_eq!(again[slot::RUNNING], used[slot::RUNNING]);
    assert_eq!((again[slot::EMBEDDING], again[slot::PEAK_LOAD]), (0.0, 0.0));
    let fresh = model.rework(&used, "freshen");
    assert_eq!(fresh[slot::TIGHTENINGS], used[slot::TIGHTENINGS] + 3.0);
    assert_eq!(fresh[slot::RUNNING], 0.0);
}

/// Embedding costs a bolt its length over the compliance of bolt and members at its first run, whatever the run, and once (VDI 2230, from memory).
#[test]
fn embedding_comes_once() {
    let model = plain();
    let joint = bolts(model).rod.joint;
    let preload = |condition: &[f64]| {
        let mut certain = model.request(condition, &event());
        certain.ahead_events = vec![0.0];
        model.asked(certain).readings[reading::LEAST_PRELOAD].median[0]
    };
    let (new, run) = (model.begin(), model.after(&duty(&[(1500.0, 20.0, 0.1)])));
    let lost = preload(&new) - preload(&run);
    assert!(
        (lost - 6.0e-6 / joint.compliance_m_n()).abs() < 1e-6,
        "{lost}"
    );
    let more = model.then(&run, &event());
    assert!((preload(&more) - preload(&run)).abs() < 1e-6);
}

/// Titanium rods on steel bolts lose preload as they warm; aluminium ones gain it.
#[test]
fn heat_moves_preload_with_the_materials() {
    let needed = |expansion: f64| {
        let model = plain().with(changed(&[("rod_expansion_per_k", expansion)]));
        let forecast = model.forecast(&model.begin(), &event());
        forecast.readings[reading::OPENING_PRELOAD].median[0]
    };
    let (titanium, steel, aluminium) = (needed(0.9e-5), needed(1.2e-5), needed(2.3e-5));
    assert!(titanium > 1.05 * steel && aluminium < 0.8 * steel);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

#[test]
fn conditions_and_quantiles_stay_within_the_contract() {
    for preload in [0.0, 1.0e3, 52.0e3, 1.0e6] {
        let mut long = with_missed_shift(20_000.0);
        long.time_s.iter_mut().for_each(|time_s| *time_s *= 1e5);
        let start = begin_at(plain(), preload);
        laws::slots_stay_within_the_card(plain(), &start, &long, 1);
        laws::sound_forecast(plain(), &plain().then(&start, &long), &event());
    }
}

/// A set of more bolts is never safer.
#[test]
fn more_bolts_never_lower_the_risk() {
    let risk = |cylinders: f64| {
        // The same torque on each cylinder, so that only the number of bolts changes.
        let mut model = plain().with(changed(&[("cylinders", cylinders)]));
        model.specimen.choices[0] = 1;
        let mut event = event();
        for torque in &mut event.points[1] {
            *torque *= cylinders / 4.0;
        }
        let forecast = model.forecast(&begin_at(&model, 32.0e3), &event);
        [mechanism::FATIGUE, mechanism::OPENING].map(|m| forecast.mechanisms[m].risk_next_event)
    };
    let (four, eight) = (risk(4.0), risk(8.0));
    assert!(
        eight[0] > four[0] && eight[1] > four[1],
        "{four:?} {eight:?}"
    );
}
